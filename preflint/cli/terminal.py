"""What the terminal can show."""

import shutil
import sys

NARROWEST, USUAL, WIDEST = 40, 80, 100


def width() -> int:
    """Its columns within bounds; 80 where nobody reads on one."""
    if not sys.stdout.isatty():
        return USUAL
    return min(WIDEST, max(NARROWEST, shutil.get_terminal_size((USUAL, 24)).columns))


def only_ascii() -> bool:
    """Whether it shows no other letters."""
    return "utf" not in (sys.stdout.encoding or "").lower()
