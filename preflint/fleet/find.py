"""Finds the manifests that a list of files and folders means."""

import os
from collections.abc import Iterable
from pathlib import Path

from preflint.errors import NotRead, Problem

SUFFIX = ".airframe.yaml"


def find_manifests(paths: Iterable[Path]) -> tuple[list[Path], list[NotRead]]:
    """Every manifest once, sorted, and what could not be looked into. A file named outright is taken as it is.

    Links to folders are not followed; a link that is named like a manifest is reported when it is read.
    """
    found: set[Path] = set()
    failed: list[NotRead] = []
    for path in paths:
        if path.is_dir() and not path.is_symlink():
            before = len(found)
            for folder, folders, files in os.walk(path, onerror=lambda error: failed.append(_unreadable(error))):
                folders.sort()
                found.update(Path(folder, file) for file in files if file.endswith(SUFFIX))
            if len(found) == before:
                failed.append(
                    NotRead(str(path), [Problem(f"no file named *{SUFFIX} in this folder: nothing was judged")])
                )
        elif path.is_symlink() or path.exists():
            found.add(path)
        else:
            failed.append(NotRead(str(path), [Problem("there is no such file or folder")]))
    return sorted(found), failed


def _unreadable(error: OSError) -> NotRead:
    return NotRead(str(error.filename), [Problem(f"this folder cannot be read: {error.strerror}")])
