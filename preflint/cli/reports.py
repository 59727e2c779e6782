"""``--report FORMAT=FILE``: further reports of the same run, several at once."""

from collections.abc import Sequence
from pathlib import Path
from typing import Literal

from preflint.errors import UsageError
from preflint.interface import FORMATS, Format

SHEET: Literal["sheet"] = "sheet"
"""A folder of pages, and no format of one text."""

Wanted = Sequence[tuple[Format | Literal["sheet"], Path | None]]
"""Formats with their files; None is standard output."""


def wanted(options: Sequence[str], output: Path | None) -> Wanted:
    """What the options ask for beside ``output``. Raises UsageError."""
    found: list[tuple[Format | Literal["sheet"], Path | None]] = []
    for option in options:
        named, sign, file = option.partition("=")
        if not sign or not file:
            raise UsageError(f"--report {option}: write FORMAT=FILE, as in sarif=preflint.sarif; - is standard output")
        form = next((form for form in (*FORMATS, SHEET) if form == named), None)
        if form is None:
            raise UsageError(f"--report {option}: no format {named}; there are {', '.join((*FORMATS, SHEET))}")
        if form == SHEET:
            _refuse_sheet(option, file)
        target = None if file == "-" else Path(file)
        taken = [other for _, other in found] + ([output] if output else [])
        if any(_same(target, other) for other in taken):
            raise UsageError(f"--report {option}: another report goes to the same place already")
        found.append((form, target))
    return found


def _refuse_sheet(option: str, file: str) -> None:
    """Before anything is judged: what cannot be written at the end."""
    if file == "-":
        raise UsageError(f"--report {option}: a sheet is several files; name a folder, as in sheet=field-sheet")
    import importlib.util

    if importlib.util.find_spec("jinja2") is None:
        raise UsageError(f"--report {option} needs one more package: pip install 'preflint[sheet]'")


def _same(one: Path | None, other: Path | None) -> bool:
    if one is None or other is None:
        return one is other
    return one.absolute() == other.absolute()
