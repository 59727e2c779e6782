"""Writes a manifest whole or not at all, and only over the text that was read."""

import contextlib
import os
import stat
import tempfile
from collections.abc import Callable
from pathlib import Path

from preflint.errors import NotRead, OutputError
from preflint.load.limits import MAX_YAML_BYTES
from preflint.load.tree import Tree


def save(tree: Tree, name: str, before: bytes, after: bytes) -> None:
    """Puts ``after`` in the place of ``before`` in the file ``name`` of the tree; its mode stays.

    Raises:
        OutputError: the file is no longer what was read, is a link, may not be written, or the system fails. It is
            then as it was.
    """
    path, shown = tree.path(name), tree.shown(name)
    mode = writable(tree, name)
    try:
        _replace(path, after, mode, lambda: _unchanged(tree, name, before))
    except OSError as error:
        raise OutputError(f"{shown}: nothing was written: {error.strerror}") from error


def writable(tree: Tree, name: str) -> int:
    """The mode of a regular file that may be written to. Raises OutputError for any other."""
    path, shown = tree.path(name), tree.shown(name)
    try:
        mode = os.lstat(path).st_mode
    except OSError as error:
        raise OutputError(f"{shown}: nothing was written: {error.strerror}") from error
    if not stat.S_ISREG(mode):
        raise OutputError(f"{shown}: nothing was written: this is a link or no regular file")
    # A new file takes its place, for which the folder alone is asked: so what protects the file is looked at here.
    if not mode & (stat.S_IWUSR | stat.S_IWGRP | stat.S_IWOTH) or not os.access(path, os.W_OK):
        raise OutputError(f"{shown}: nothing was written: the file is protected against writing")
    return stat.S_IMODE(mode)


def _unchanged(tree: Tree, name: str, before: bytes) -> None:
    try:
        now = tree.read(name, MAX_YAML_BYTES)
    except NotRead as error:
        raise OutputError(f"nothing was written: {error}") from None
    if now != before:
        shown = tree.shown(name)
        raise OutputError(f"{shown}: nothing was written: the file was changed meanwhile; record it again")


def _replace(path: Path, text: bytes, mode: int, look: Callable[[], None]) -> None:
    """By way of a file beside it, after a last look."""
    handle, temporary = tempfile.mkstemp(dir=path.parent, prefix=f".{path.name}.")
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(text)
            file.flush()
            os.fsync(file.fileno())
        os.chmod(temporary, mode)
        look()
        os.replace(temporary, path)
    except BaseException:
        with contextlib.suppress(OSError):
            os.unlink(temporary)
        raise
    _settle(path.parent)


def _settle(folder: Path) -> None:
    """The new name outlives a power cut, where the system can promise it."""
    with contextlib.suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)
