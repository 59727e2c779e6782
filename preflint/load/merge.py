"""The marks that a version control system leaves in a file where two versions were not brought together."""

import re
from collections.abc import Sequence

MARKS = ("<<<<<<<", "|||||||", "=======", ">>>>>>>")
MARK = re.compile(r"(?:<{7}|\|{7}|={7}|>{7})(?: .*)?\r?")
"""A whole line, which begins with one of ``MARKS``; none of them can stand in YAML or in a table."""

_NAMED = 9


def unresolved(lines: Sequence[int]) -> str:
    """What to say about marks on these lines."""
    named = ", ".join(map(str, lines[:_NAMED])) + (", …" if len(lines) > _NAMED else "")
    where = f"line {named}" if len(lines) == 1 else f"lines {named}"
    return (
        f"this file has an unresolved merge, with marks on {where}: "
        "keep one of the versions between them, and delete the marks"
    )
