"""Opening a file below a folder without following a link at any step.

Where the platform opens relative to a folder's descriptor (``dir_fd``) and refuses links
(``O_NOFOLLOW``), each part of the name is opened from the folder before it, so nothing can be swapped
between a check and its use. Elsewhere (Windows) each part is looked at first and the opened file
compared with what was seen: a link put there in between is noticed for the file, not for a folder.
"""

import errno
import os
import stat
from collections.abc import Sequence
from io import BufferedReader
from pathlib import Path

_WALKS = os.open in os.supports_dir_fd and os.stat in os.supports_dir_fd and hasattr(os, "O_NOFOLLOW")
_SAFE = (
    getattr(os, "O_NOFOLLOW", 0)
    | getattr(os, "O_NONBLOCK", 0)  # a FIFO put there after the look must not hang
    | getattr(os, "O_NOCTTY", 0)
    | getattr(os, "O_CLOEXEC", 0)
    | getattr(os, "O_BINARY", 0)
)
_WHY = {
    errno.ENOENT: "there is no such file",
    errno.ENOTDIR: "there is no such file",
    errno.EACCES: "there is no permission to read it",
    errno.EPERM: "there is no permission to read it",
    errno.ELOOP: "it leads through a link",
    errno.ENAMETOOLONG: "the name is too long",
}


class Refused(Exception):
    """Something that is there but must not be read; the message says why."""


def describe_failure(error: Exception) -> str:
    """Why a file could not be opened or read, the same on every system and in every locale."""
    if isinstance(error, OSError):
        code = errno.errorcode.get(error.errno or 0, "unknown error")
        return _WHY.get(error.errno or 0, f"the system could not read it ({code})")
    if isinstance(error, Refused):
        return str(error)
    return "this is no usable file name"


def too_large(size: int, limit: int) -> str:
    """That a file of ``size`` bytes is refused."""
    return f"the file has {size} bytes; at most {limit} are read"


def open_inside(root: Path, parts: Sequence[str], limit: int) -> BufferedReader:
    """The regular file of at most ``limit`` bytes at ``parts`` below ``root``, opened for reading.

    Raises:
        Refused: a link, a folder, a pipe, a device, or too large.
        OSError: as the system reports it.
    """
    return open_by_folder(root, parts, limit) if _WALKS else open_by_path(root, parts, limit)


def open_by_folder(root: Path, parts: Sequence[str], limit: int) -> BufferedReader:
    """Part by part from the descriptor of the folder before."""
    folder = _open_folder(root, parts[:-1])
    try:
        _look(os.stat(parts[-1], dir_fd=folder, follow_symlinks=False), stat.S_IFREG)
        file = os.open(parts[-1], os.O_RDONLY | _SAFE, dir_fd=folder)
    finally:
        os.close(folder)
    return _checked(file, limit)


def _open_folder(root: Path, parts: Sequence[str]) -> int:
    """The descriptor of a folder below ``root``; the caller closes it."""
    folder = os.open(root, os.O_RDONLY | os.O_DIRECTORY | _SAFE)
    try:
        for part in parts:
            _look(os.stat(part, dir_fd=folder, follow_symlinks=False), stat.S_IFDIR)
            deeper = os.open(part, os.O_RDONLY | os.O_DIRECTORY | _SAFE, dir_fd=folder)
            os.close(folder)
            folder = deeper
    except BaseException:
        os.close(folder)
        raise
    return folder


def names_inside(root: Path, parts: Sequence[str]) -> list[str] | None:
    """What is in the folder at ``parts`` below ``root``; None where there is none, or it cannot be listed."""
    try:
        if _WALKS and os.listdir in os.supports_fd:
            folder = _open_folder(root, parts)
            try:
                return os.listdir(folder)
            finally:
                os.close(folder)
        path = root
        for part in parts:
            path = path / part
            _look(os.lstat(path), stat.S_IFDIR)
        return os.listdir(path)
    except (OSError, Refused, ValueError):
        return None


def open_by_path(root: Path, parts: Sequence[str], limit: int) -> BufferedReader:
    """The same where folders cannot be held open: look at each part, open, compare."""
    path = root
    for part in parts[:-1]:
        path = path / part
        _look(os.lstat(path), stat.S_IFDIR)
    path = path / parts[-1]
    seen = os.lstat(path)
    _look(seen, stat.S_IFREG)
    return _checked(os.open(path, os.O_RDONLY | _SAFE), limit, seen)


def _look(found: os.stat_result, wanted: int) -> None:
    kind = stat.S_IFMT(found.st_mode)
    # A junction of Windows is no symbolic link but a reparse point all the same.
    reparse = getattr(found, "st_file_attributes", 0) & getattr(stat, "FILE_ATTRIBUTE_REPARSE_POINT", 0)
    if kind == stat.S_IFLNK or reparse:
        raise Refused("it is a link or leads through one; links are not followed")
    if kind == wanted:
        return
    if kind == stat.S_IFDIR:
        raise Refused("it is a folder, not a file")
    if wanted == stat.S_IFDIR:
        raise Refused("there is no such file")
    raise Refused("it is not a regular file")


def _checked(file: int, limit: int, seen: os.stat_result | None = None) -> BufferedReader:
    try:
        found = os.fstat(file)
        _look(found, stat.S_IFREG)
        if seen is not None and (found.st_dev, found.st_ino) != (seen.st_dev, seen.st_ino):
            raise Refused("it was exchanged while it was being opened")
        if found.st_size > limit:
            raise Refused(too_large(found.st_size, limit))
    except BaseException:
        os.close(file)
        raise
    return os.fdopen(file, "rb")
