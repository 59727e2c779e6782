"""What the terminal can show."""

import sys
from typing import TextIO

NARROWEST, USUAL, WIDEST = 40, 80, 100


def width(stream: TextIO | None = None) -> int:
    """Its columns within bounds; 80 where nobody reads ``stream`` (standard output) on one."""
    if not (stream or sys.stdout).isatty():
        return USUAL
    import shutil  # not where nobody looks

    return min(WIDEST, max(NARROWEST, shutil.get_terminal_size((USUAL, 24)).columns))


def only_ascii() -> bool:
    """Whether it shows no other letters."""
    return "utf" not in (sys.stdout.encoding or "").lower()
