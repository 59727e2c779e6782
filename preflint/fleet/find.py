"""Finds the manifests that a list of files and folders means, and what was surely meant as one."""

import os
import stat
from collections.abc import Container, Iterable
from dataclasses import dataclass, field
from pathlib import Path

from preflint.errors import NotRead, Problem
from preflint.load.names import SUFFIX, nearly_manifest
from preflint.load.opening import describe_failure
from preflint.load.quoting import show

_RENAME = f"this is named nearly like a manifest and was not judged; name it as in kestrel{SUFFIX}"
_NOT_SEARCHED = frozenset({"venv", "node_modules", "build", "dist", "__pycache__"})
"""What programs make; with those whose name begins with a dot."""

_LINK = "this is a link, which is not followed; inspect the file itself"


@dataclass(slots=True)
class Found:
    """All by where it is (``location``), so each once, however many ways led there.

    ``manifests`` as they were come by, those ``outright`` were named; ``nearly`` are files that a policy may exclude,
    each as it was come by and with why it was not judged; ``failed`` what has no excuse. ``folders`` are those
    searched; ``passed_over`` folders that were not, as they were come by, though one may look for aircraft there, each
    with a manifest that it holds.
    """

    manifests: dict[Path, Path] = field(default_factory=dict)
    outright: set[Path] = field(default_factory=set)
    nearly: dict[Path, tuple[Path, str]] = field(default_factory=dict)
    failed: dict[Path, NotRead] = field(default_factory=dict)
    folders: list[Path] = field(default_factory=list)
    passed_over: dict[Path, Path] = field(default_factory=dict)


def location(path: Path) -> Path:
    """Where a file is, or would be; a link in its own name is not followed."""
    try:
        if path.name in ("", ".."):
            return Path(os.path.realpath(path))
        return Path(os.path.realpath(path.parent), path.name)
    except (OSError, RuntimeError, ValueError):
        return path


def find_manifests(paths: Iterable[Path], unsaved: Container[Path] = ()) -> Found:
    """Every manifest once. A file named outright is taken as it is; of those ``unsaved`` none need be on the disk yet.

    Hidden folders and those that programs make are not searched, unless they are named. Links are not followed; one in
    a searched folder that is named like a manifest, or leads to one, is told.
    """
    found = Found()
    for path in paths:
        where = location(path)
        try:
            kind = os.lstat(path).st_mode
        except FileNotFoundError:
            if path in unsaved:
                kind = stat.S_IFREG
            else:
                found.failed[where] = NotRead(show(str(path)), [Problem("there is no such file or folder")])
                continue
        except (OSError, ValueError) as error:
            found.failed[where] = NotRead(show(str(path)), [Problem(describe_failure(error))])
            continue
        if stat.S_ISDIR(kind):
            _search(path, where, found)
        elif where not in found.outright:
            found.manifests[where] = path
            found.outright.add(where)
    for where in found.outright & found.nearly.keys():
        del found.nearly[where]
    return found


def _search(top: Path, where: Path, found: Found) -> None:
    found.folders.append(where)
    any_manifest = False

    def unreadable(error: OSError) -> None:
        why = f"this folder cannot be read: {describe_failure(error)}"
        found.failed.setdefault(location(Path(error.filename)), NotRead(show(str(error.filename)), [Problem(why)]))

    for folder, folders, files in os.walk(top, onerror=unreadable):
        beside, real = {*folders, *files}, os.path.realpath(folder)
        for name in _NOT_SEARCHED & set(folders):
            if held := _first_in(Path(folder, name)):
                found.passed_over[Path(folder, name)] = held
        folders[:] = sorted(name for name in folders if name not in _NOT_SEARCHED and not name.startswith("."))
        for name in beside:
            path, exact = Path(folder, name), name.endswith(SUFFIX)
            near = not exact and nearly_manifest(name, beside)
            if os.path.islink(path):
                if exact or near or _leads_to_one(path):
                    found.nearly.setdefault(Path(real, name), (path, _LINK))
            elif exact:
                any_manifest = True
                found.manifests.setdefault(Path(real, name), path)
            elif near and name in files:
                found.nearly.setdefault(Path(real, name), (path, _RENAME))
    if not any_manifest:
        nothing = f"no file named *{SUFFIX} in this folder: nothing was judged"
        found.failed.setdefault(where, NotRead(show(str(top)), [Problem(nothing)]))


def _first_in(folder: Path) -> Path | None:
    """A manifest in a folder that is not searched; what is hidden in it stays some program's own."""
    if os.path.islink(folder):
        return None  # told as a link where it is named like a manifest
    for inner, folders, files in os.walk(folder):
        folders[:] = sorted(name for name in folders if not name.startswith("."))
        if held := min((name for name in files if name.endswith(SUFFIX)), default=None):
            return Path(inner, held)
    return None


def _leads_to_one(link: Path) -> bool:
    try:
        target = os.path.basename(os.readlink(link))
    except OSError:
        return False
    return target.endswith(SUFFIX) or nearly_manifest(target, ())
