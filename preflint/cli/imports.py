"""Nothing is imported from the current folder: whatever is inspected there may bear the name of any module."""

import os
import sys


def leave_out_the_current_folder() -> None:
    """Takes it off the path of imports, whatever put it there, and with it all that PYTHONPATH names relative to it.

    An absolute entry of PYTHONPATH, or an installation, is the user's word, unless it is the current folder.
    """
    left_out = _left_out()
    sys.path[:] = [entry for entry in sys.path if os.path.isabs(entry) and os.path.realpath(entry) not in left_out]


def taken_from_the_current_folder() -> list[str]:
    """Modules that Python had loaded from there before preflint had a say; only PYTHONPATH can have led to them."""
    left_out = _left_out()
    loaded = [(name, getattr(module, "__file__", None)) for name, module in sys.modules.items() if "." not in name]
    return sorted(name for name, file in loaded if isinstance(file, str) and _importable_from(file) in left_out)


def _left_out() -> set[str]:
    # Python made absolute what PYTHONPATH says, so its relative entries are read again; an empty one is this folder.
    told = "" if sys.flags.ignore_environment else os.environ.get("PYTHONPATH", "")
    relative = [entry for entry in told.split(os.pathsep) if not os.path.isabs(entry)]
    try:
        folders = {os.path.realpath(entry) for entry in (".", *relative)}
    except FileNotFoundError:  # the current folder is gone, and nothing can be imported from it
        return set()
    # Somebody may stand in the folder of Python itself or of preflint.
    return folders - {_importable_from(os.__file__), _importable_from(os.path.dirname(os.path.dirname(__file__)))}


def _importable_from(file: str) -> str:
    """The folder on the path of imports from which a module in ``file``, or a package there, is taken."""
    folder, name = os.path.split(os.path.realpath(file))
    return os.path.dirname(folder) if name.startswith("__init__.") else folder
