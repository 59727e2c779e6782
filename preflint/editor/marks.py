"""Places of the tool and positions of the protocol: the one counts code points, the other what was agreed upon."""

from collections.abc import Sequence

from lsprotocol.types import Position, Range

from preflint.places import Place

_BYTES = {"utf-8": ("utf-8", 1), "utf-16": ("utf-16-le", 2), "utf-32": ("utf-32-le", 4)}


class Marks:
    """Of one text; lines end where loading ends them, at \\n alone."""

    def __init__(self, text: str, encoding: str) -> None:
        self.lines: Sequence[str] = text.removeprefix("\ufeff").split("\n")
        self._mark = 1 if text.startswith("\ufeff") else 0  # stands before the first line, and is no part of it
        self._codec, self._size = _BYTES.get(encoding, _BYTES["utf-16"])

    def range(self, place: Place) -> Range:
        """Where a place is; at least one character wide where the line has one."""
        start, end = self._position(place.line, place.column), self._position(place.end_line, place.end_column)
        if start == end:
            end = self._position(place.line, place.column + 1)
        return Range(start=start, end=end)

    def at(self, index: int) -> Position:
        """Of an index into the text without its byte order mark."""
        before = "\n".join(self.lines)[:index]
        return self.position(before.count("\n"), index - (before.rfind("\n") + 1))

    def position(self, line: int, column: int) -> Position:
        """Of a line and column from 0."""
        return self._position(line + 1, column + 1)

    def column(self, position: Position) -> tuple[int, int]:
        """Line and column from 0, in code points, of a position; the nearest there is."""
        line = min(max(position.line, 0), len(self.lines) - 1)
        units = max(position.character - (self._mark if line == 0 else 0), 0)
        data = self.lines[line].encode(self._codec, "surrogatepass")[: units * self._size]
        return line, len(data.decode(self._codec, "ignore"))

    def _position(self, line: int, column: int) -> Position:
        row = min(max(line - 1, 0), len(self.lines) - 1)
        before = self.lines[row][: max(column - 1, 0)]
        units = len(before.encode(self._codec, "surrogatepass")) // self._size
        return Position(line=row, character=units + (self._mark if row == 0 else 0))
