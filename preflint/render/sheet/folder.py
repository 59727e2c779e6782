"""A sheet's folder: written whole or not at all, and never over what is no older sheet."""

import contextlib
import os
import shutil
import stat
import tempfile
from pathlib import Path

from preflint.errors import OutputError, UsageError
from preflint.findings.outcome import Severity
from preflint.findings.report import Report
from preflint.render.sheet.environment import MARK
from preflint.render.sheet.pages import pages

_HEAD = 4000  # bytes of a page within which its mark stands


def write_folder(report: Report, folder: Path, ground_at: Severity) -> None:
    """Raises UsageError where Jinja2 is not installed, OutputError where the folder cannot be written."""
    try:
        made = pages(report, ground_at)
    except ModuleNotFoundError as error:
        if error.name not in ("jinja2", "markupsafe"):
            raise
        raise UsageError("a sheet needs one more package: pip install 'preflint[sheet]'") from None
    _refuse(folder)
    try:
        _write(made, folder)
    except OSError as error:
        raise OutputError(f"{folder}: the sheet could not be written: {error.strerror}") from error


def _write(made: dict[str, str], folder: Path) -> None:
    """By way of a folder beside it, which takes its name in the end. An older sheet goes only when the new one stands.
    """
    beside = Path(tempfile.mkdtemp(dir=folder.absolute().parent, prefix=f".{folder.name}."))
    new, old = beside / "new", beside / "old"
    try:
        new.mkdir()
        for name, text in made.items():
            (new / name).write_bytes(text.encode("utf-8", errors="backslashreplace"))
        if folder.exists():
            _exchange(folder, new, old)
        else:
            os.rename(new, folder)
    finally:
        shutil.rmtree(new, ignore_errors=True)
        with contextlib.suppress(OSError):  # what could not be put back stays in it
            os.rmdir(beside)


def _exchange(folder: Path, new: Path, old: Path) -> None:
    os.rename(folder, old)
    try:
        _refuse(old, folder)  # whatever came into it meanwhile goes back with it
        os.rename(new, folder)
    except BaseException:
        os.rename(old, folder)
        raise
    shutil.rmtree(old, ignore_errors=True)


def _refuse(folder: Path, shown: Path | None = None) -> None:
    """Unless it is not there yet, is empty, or holds the pages of a sheet alone. Raises OutputError."""
    named = shown or folder
    if folder.is_symlink():
        raise OutputError(f"{named}: this is a link; the sheet was not written")
    if not os.path.lexists(folder):
        return
    if not folder.is_dir():
        raise OutputError(f"{named}: this is no folder; the sheet was not written")
    try:
        other = next((entry.name for entry in sorted(folder.iterdir()) if not _is_page(entry)), None)
    except OSError as error:
        raise OutputError(f"{named}: the folder cannot be read: {error.strerror}") from error
    if other is not None:
        raise OutputError(f"{named}: {other} is no page of an older sheet; the sheet was not written")


def _is_page(entry: Path) -> bool:
    with contextlib.suppress(OSError):
        if entry.suffix == ".html" and stat.S_ISREG(entry.lstat().st_mode):
            with open(entry, "rb") as opened:
                return MARK.encode() in opened.read(_HEAD)
    return False
