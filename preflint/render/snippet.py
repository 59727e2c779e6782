"""The line of a file that a problem is about, with a mark under the place."""

from preflint.errors import Line
from preflint.places import Place
from preflint.render.escape import letters
from preflint.render.fold import columns

MARK = "="
_WORD = "here"
_CUT = "..."
_TAB = "  "
_SHORTEST = 8  # of a mark that is cut, so that something of the place is seen


def snippet(line: Line, place: Place, width: int, ascii_only: bool = False) -> tuple[str, str]:
    """The line and the mark below it, neither wider than ``width`` terminal columns (20 or more).

    What cannot be seen is written as a code, a tab outside the place as two spaces; of a line that is too wide the
    part about the place is shown. A place of no length is marked with one sign, as is the end of a line.
    """
    start = min(max(place.column - line.column, 0), len(line.text))
    end = place.end_column - line.column if place.end_line == place.line else len(line.text)
    end = min(max(end, start), len(line.text))
    cells = [
        _TAB if letter == "\t" and not start <= at < end else shown
        for at, (letter, shown) in enumerate(zip(line.text, letters(line.text, ascii_only), strict=True))
    ]
    indent = len(line.text) - len(line.text.lstrip(" \t"))
    opening = min(start, indent) if line.column == 1 else 0
    first, last = _window(cells, opening, start, end, width if line.column == 1 else width - len(_CUT))
    left = _CUT if first > opening or line.column > 1 else ""
    right = _CUT if last < len(cells) else ""
    text = left + "".join(cells[first:last])
    at = columns(left + "".join(cells[first:start]))
    length = max(1, columns("".join(cells[start : min(end, last)])))
    return (text + right).rstrip(), _marked(at, min(length, width - at), width)


def _window(cells: list[str], first: int, start: int, end: int, width: int) -> tuple[int, int]:
    """From ``first`` to the end if that fits, else so much that the place begins in sight."""
    room = [columns(cell) for cell in cells]
    if sum(room[first:]) + (start == len(cells)) <= width:
        return first, len(cells)
    usable = width - 2 * len(_CUT)
    wanted = min(sum(room[start:end]), max(_SHORTEST, usable // 2))
    begin = start
    before = usable - wanted if sum(room[first:start]) <= usable - wanted else (usable - wanted) // 2
    while begin > first and sum(room[begin - 1 : start]) <= before:
        begin -= 1
    last = start
    while last < len(cells) and sum(room[begin : last + 1]) <= usable:
        last += 1
    while begin > first and sum(room[begin - 1 : last]) <= usable:
        begin -= 1
    return begin, last


def _marked(at: int, length: int, width: int) -> str:
    mark = " " * at + MARK * length
    if at + length + 1 + len(_WORD) <= width:
        return f"{mark} {_WORD}"
    if at > len(_WORD):
        return f"{' ' * (at - len(_WORD) - 1)}{_WORD} {MARK * length}"
    return mark
