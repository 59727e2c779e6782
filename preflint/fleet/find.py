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
    """``nearly`` are files that a policy may exclude, each with why it was not judged; ``failed`` what has no excuse.

    ``folders`` are those searched, as they were named; ``outright`` the manifests named, not found. ``passed_over`` are
    folders that were not searched though one may look for aircraft there, each with a manifest that it holds.
    """

    manifests: set[Path] = field(default_factory=set)
    nearly: dict[Path, str] = field(default_factory=dict)
    failed: list[NotRead] = field(default_factory=list)
    folders: list[Path] = field(default_factory=list)
    outright: set[Path] = field(default_factory=set)
    passed_over: dict[Path, Path] = field(default_factory=dict)


def find_manifests(paths: Iterable[Path], unsaved: Container[Path] = ()) -> Found:
    """Every manifest once. A file named outright is taken as it is; of those ``unsaved`` none need be on the disk yet.

    Hidden folders and those that programs make are not searched, unless they are named. Links are not followed; one in
    a searched folder that is named like a manifest, or leads to one, is told.
    """
    found = Found()
    for path in paths:
        try:
            kind = os.lstat(path).st_mode
        except FileNotFoundError:
            if path in unsaved:
                found.manifests.add(path)
                found.outright.add(path)
                continue
            found.failed.append(NotRead(show(str(path)), [Problem("there is no such file or folder")]))
        except (OSError, ValueError) as error:
            found.failed.append(NotRead(show(str(path)), [Problem(describe_failure(error))]))
        else:
            if stat.S_ISDIR(kind):
                _search(path, found)
            else:
                found.manifests.add(path)
                found.outright.add(path)
    for path in found.manifests & set(found.nearly):
        del found.nearly[path]
    return found


def _search(top: Path, found: Found) -> None:
    found.folders.append(top)
    before = len(found.manifests)
    for folder, folders, files in os.walk(top, onerror=lambda error: found.failed.append(_unreadable(error))):
        beside = {*folders, *files}
        for name in _NOT_SEARCHED & set(folders):
            if held := _first_in(Path(folder, name)):
                found.passed_over[Path(folder, name)] = held
        folders[:] = sorted(name for name in folders if name not in _NOT_SEARCHED and not name.startswith("."))
        for name in beside:
            path, exact = Path(folder, name), name.endswith(SUFFIX)
            near = not exact and nearly_manifest(name, beside)
            if os.path.islink(path):
                if exact or near or _leads_to_one(path):
                    found.nearly[path] = _LINK
            elif exact:
                found.manifests.add(path)
            elif near and name in files:
                found.nearly[path] = _RENAME
    if len(found.manifests) == before:
        nothing = f"no file named *{SUFFIX} in this folder: nothing was judged"
        found.failed.append(NotRead(show(str(top)), [Problem(nothing)]))


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


def _unreadable(error: OSError) -> NotRead:
    return NotRead(show(str(error.filename)), [Problem(f"this folder cannot be read: {describe_failure(error)}")])
