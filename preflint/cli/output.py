"""Writing a report whole or not at all."""

import contextlib
import os
import sys
from collections.abc import Iterable
from pathlib import Path

from preflint.errors import OutputError

_AT_ONCE = 2**20  # bytes that one call of the system writes, or fails to


def write(text: str | Iterable[str], target: Path | None, new: bool = False) -> None:
    """To standard output, or to a file by way of a temporary one beside it; a ``new`` one never in place of another.

    Of a text in pieces a file is written as they come; to standard output goes nothing before the last of them.

    Raises OutputError.
    """
    pieces = (text,) if isinstance(text, str) else text
    if target is None:
        _to_stdout("".join(pieces))
    else:
        _to_file(pieces, target, new)


def _to_stdout(text: str) -> None:
    encoding = sys.stdout.encoding or "ascii"
    data = text.encode(encoding, errors="backslashreplace")
    try:
        sys.stdout.flush()
        sys.stdout.buffer.write(data)
        sys.stdout.buffer.flush()
    except OSError as error:
        raise OutputError(f"the report could not be written: {error.strerror}") from error


def _to_file(pieces: Iterable[str], target: Path, new: bool) -> None:
    if target.is_symlink() or (target.exists() and not target.is_file()):
        raise OutputError(f"{target}: only a regular file is written to, not a link, folder or device")
    import tempfile  # most reports go to the screen

    temporary: str | None = None
    try:
        handle, temporary = tempfile.mkstemp(dir=target.parent, prefix=f".{target.name}.")
        with os.fdopen(handle, "wb", _AT_ONCE) as file:
            for piece in pieces:
                file.write(piece.encode("utf-8", errors="backslashreplace"))
        umask = os.umask(0)
        os.umask(umask)
        os.chmod(temporary, 0o666 & ~umask)
        if new:
            _put_beside_others(temporary, target)
        else:
            os.replace(temporary, target)
            temporary = None
    except OSError as error:
        raise OutputError(f"{target}: the report could not be written: {error.strerror}") from error
    finally:
        if temporary is not None:
            with contextlib.suppress(OSError):
                os.unlink(temporary)


def _put_beside_others(temporary: str, target: Path) -> None:
    """The file under its name, unless something has it by now: somebody may have been asked meanwhile."""
    try:
        os.link(temporary, target)
    except FileExistsError:
        raise
    except OSError:  # the system has no second names for a file, as on a memory stick
        os.close(os.open(target, os.O_CREAT | os.O_EXCL))
        os.replace(temporary, target)
