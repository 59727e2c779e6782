"""A folder of pages, written whole or not at all, and never over what somebody else wrote or changed."""

import contextlib
import hashlib
import json
import os
import stat
import tempfile
from collections.abc import Mapping
from pathlib import Path, PurePosixPath

from preflint.errors import OutputError
from preflint.load.quoting import show

MARK = "written-by-preflint.json"
"""Stands in each folder that is written whole, with the names and hashes of what was written: only that is replaced."""


def write_folder(files: Mapping[str, str | bytes], target: Path) -> None:
    """A folder with these files and no others; its own mark comes beside them.

    ``files``: by their names relative to the folder, ``/`` between folders; texts become UTF-8. The folder is made
    beside its place and renamed, so it is whole or not there. What stood in its place is taken away only where it is
    empty, or all of it is as an earlier call wrote it: the old one is moved aside first, and comes back where the new
    one cannot take its place.

    Raises OutputError where the target is anything else, or cannot be written; ValueError for a name that would lead
    out of the folder.
    """
    contents = {name: text if isinstance(text, bytes) else _utf8(text) for name, text in files.items()}
    if bad := [name for name in contents if not _stays_inside(name)]:
        raise ValueError(f"{bad[0]!r} is no name of a file inside the folder")
    place = Path(os.path.abspath(target))
    try:
        old = _earlier(place, target)
        new = Path(tempfile.mkdtemp(dir=place.parent, prefix=f".{place.name}."))
        try:
            _fill(new, contents)
            _exchange(new, place, old)
        finally:
            if new.exists():
                _empty(new, [*contents, MARK])
    except OSError as error:
        raise OutputError(f"{target}: the folder could not be written: {error.strerror}") from error


def _utf8(text: str) -> bytes:
    return text.encode("utf-8", errors="backslashreplace")


def _stays_inside(name: str) -> bool:
    parts = PurePosixPath(name).parts
    plain = bool(parts) and "/".join(parts) == name and not {"..", "/"} & set(parts)
    return plain and not set("\\:\0") & set(name) and name != MARK


def _earlier(place: Path, told: Path) -> list[str] | None:
    """The names in the folder that an earlier call wrote; None where there is none. Raises OutputError, OSError."""
    try:
        kind = place.lstat().st_mode
    except FileNotFoundError:
        return None
    if not stat.S_ISDIR(kind):
        raise OutputError(f"{told}: only a folder is written to, not a file, link or device")
    found = _files(place)
    if not found:
        return []
    written = _marked(place)
    if written is None:
        raise OutputError(f"{told}: this folder holds other files; name a new or an empty one")
    for name in found:
        if (place / name).is_symlink() or written.get(name) != _hash(place / name):
            why = f"{show(name)} there was not written by preflint, or changed since"
            raise OutputError(f"{told}: {why}; name another folder")
    return found


def _files(folder: Path) -> list[str]:
    """All that is in it but folders that hold something, relative to it: an empty folder is somebody's, too."""
    found = []
    for top, folders, names in os.walk(folder):
        inner = Path(top).relative_to(folder)
        links = [name for name in folders if Path(top, name).is_symlink()]
        found += [(inner / name).as_posix() for name in (*names, *links)]
        if not folders and not names and top != str(folder):
            found.append(inner.as_posix())
    return found


def _marked(folder: Path) -> dict[str, str] | None:
    """By the mark in it: the hash of each file that was written, and of the mark itself; None where there is none."""
    mark = folder / MARK
    if mark.is_symlink() or not mark.is_file():
        return None
    try:
        told = json.loads(mark.read_bytes())["files"]
        return {**{str(name): str(value) for name, value in told.items()}, MARK: _hash(mark)}
    except (ValueError, LookupError, TypeError, AttributeError, RecursionError):
        return None


def _hash(file: Path) -> str:
    return hashlib.sha256(file.read_bytes()).hexdigest() if file.is_file() else ""


def _fill(folder: Path, contents: Mapping[str, bytes]) -> None:
    mark = {"files": {name: hashlib.sha256(data).hexdigest() for name, data in sorted(contents.items())}}
    for name, data in (*contents.items(), (MARK, _utf8(json.dumps(mark, indent=1) + "\n"))):
        file = folder / name
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_bytes(data)
    umask = os.umask(0)
    os.umask(umask)
    os.chmod(folder, 0o777 & ~umask)


def _exchange(new: Path, place: Path, old: list[str] | None) -> None:
    """The new folder in its place, the old one gone, if any; between two renames there is none for a moment."""
    if old is None:
        os.rename(new, place)
        return
    box = Path(tempfile.mkdtemp(dir=place.parent, prefix=f".{place.name}."))
    aside = box / "old"
    try:
        os.rename(place, aside)
        try:
            os.rename(new, place)
        except OSError:
            os.rename(aside, place)
            raise
        _empty(aside, old)
    finally:
        with contextlib.suppress(OSError):
            box.rmdir()
    if aside.exists():
        raise OutputError(f"{place}: it is written; what came into the old folder meanwhile is in {aside}")


def _empty(folder: Path, names: list[str]) -> None:
    """Takes away these files and the folders that are then empty; what came in meanwhile stays where it is."""
    for name in names:
        with contextlib.suppress(OSError):
            (folder / name).unlink()
    for top, _, _ in os.walk(folder, topdown=False):
        with contextlib.suppress(OSError):
            os.rmdir(top)
