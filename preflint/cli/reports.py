"""``--report FORMAT=FILE``: further reports of the same run, several at once."""

from collections.abc import Sequence
from pathlib import Path

from preflint.errors import UsageError
from preflint.interface import FORMATS, Format

Wanted = Sequence[tuple[Format, Path | None]]
"""Formats with their files; None is standard output."""


def wanted(options: Sequence[str], output: Path | None) -> Wanted:
    """What the options ask for beside ``output``. Raises UsageError."""
    found: list[tuple[Format, Path | None]] = []
    for option in options:
        named, sign, file = option.partition("=")
        if not sign or not file:
            raise UsageError(f"--report {option}: write FORMAT=FILE, as in sarif=preflint.sarif; - is standard output")
        form = next((form for form in FORMATS if form == named), None)
        if form is None:
            raise UsageError(f"--report {option}: no format {named}; there are {', '.join(FORMATS)}")
        target = None if file == "-" else Path(file)
        taken = [other for _, other in found] + ([output] if output else [])
        if any(_same(target, other) for other in taken):
            raise UsageError(f"--report {option}: another report goes to the same place already")
        found.append((form, target))
    return found


def _same(one: Path | None, other: Path | None) -> bool:
    if one is None or other is None:
        return one is other
    return one.absolute() == other.absolute()
