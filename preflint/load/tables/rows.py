"""The rows of a CSV table, a block of whole lines at a time."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from preflint.arrays import np
from preflint.errors import Line, Problem
from preflint.load.limits import MAX_BAD_ROWS, MAX_LINE_BYTES
from preflint.load.merge import MARK, unresolved
from preflint.load.quoting import in_quotes, shorten
from preflint.load.tables.blocks import Block
from preflint.load.tables.bounds import BOUNDS, bounds_fault
from preflint.load.tables.clock import CLOCK, clock_fault
from preflint.load.tables.condense import Condenser
from preflint.load.tables.decimal_sign import DecimalSign, ambiguous
from preflint.load.tables.header import DELIMITERS, Header
from preflint.load.tables.last_digits import COARSEST, last_place
from preflint.load.tables.lines import BadLine, BadNumber, Field, number, split_line
from preflint.load.tables.quick import quick_rows
from preflint.load.text import FORBIDDEN, describe_bad_byte, describe_unseen
from preflint.places import Place

if TYPE_CHECKING:
    from numpy.typing import NDArray

Progress = Callable[[int, int], None]
"""Called with the bytes done and the bytes in all."""

_ENOUGH_BAD_ROWS = 1_000
"""After so many the file is no table, and reading on would only cost time."""

_BAD_CELLS = 10
"""Bad cells of the first bad row that are named one by one; of the others the first is, and the rest are counted."""

_HEADING_AGAIN = "the heading stands here once more; put each log in a file of its own"


class RowReader:
    """Turns blocks into numbers; keeps what is wrong with the first bad rows."""

    def __init__(self, header: Header, file: str) -> None:
        self.problems: list[Problem] = []
        self.bad_rows = 0
        self.kept = Condenser(len(header.picked))
        self.places = [COARSEST] * len(header.picked)  # where the last digit of each column stands
        self._header = header
        self._file = file
        self._blank: Problem | None = None
        picked = [header.names[index] for index in header.picked]
        self._clock = picked.index(CLOCK) if CLOCK in picked else None
        self._bounded = [(index, *BOUNDS[name]) for index, name in enumerate(picked) if name in BOUNDS]
        self._before: Sequence[float] | None = None
        self._decimal = DecimalSign(header.delimiter)
        self._ambiguous: Problem | None = None  # the first number whose comma may set off thousands
        self._marks: list[int] = []
        self._merge: Problem | None = None

    @property
    def hopeless(self) -> bool:
        """So many bad rows that reading on would tell nothing."""
        return self.bad_rows >= _ENOUGH_BAD_ROWS

    def all_problems(self) -> list[Problem]:
        """What is wrong with the rows read, and how many bad ones are not named."""
        if self._merge is not None:  # whatever else is wrong comes of having two versions in one file
            return [replace(self._merge, message=unresolved(self._marks))]
        if self.hopeless:
            return [*self.problems, Problem(f"and so on; reading stopped after {self.bad_rows} bad rows")]
        if self.bad_rows > MAX_BAD_ROWS:
            return [*self.problems, Problem(f"and {self.bad_rows - MAX_BAD_ROWS} more bad rows")]
        if self._ambiguous and self._decimal.unsettled and not self.problems:
            return [self._ambiguous]
        return self.problems

    def take(self, block: Block) -> None:
        """The next block; without its heading line if it is the first."""
        data = block.data.replace(b"\r\n", b"\n") if b"\r" in block.data else block.data
        by_line = not data or self._blank is not None or self._decimal.unsettled
        quick = None if by_line else quick_rows(data, self._header, self.places, self._decimal.sign)
        if quick and self._goes_on(quick.values) and self._within(quick.values):
            self.kept.add(quick.values, quick.lengths)
            self.places = quick.places
            if quick.pointed is not None:
                self._decimal.settle(".", block.line + quick.pointed)
            self._before = quick.values[-1].tolist()
        elif data:
            self._line_by_line(block)
        if block.too_long:
            line = block.line + block.data.count(b"\n")
            message = f"a line of more than {MAX_LINE_BYTES} bytes; reading stopped here"
            self._bad([Problem(message, Place(self._file, line, 1, line, 1))])

    def _goes_on(self, rows: NDArray[np.float64]) -> bool:
        """Whether the clock of these rows, shape (n, columns), goes on from each to the next."""
        if self._clock is None:
            return True
        times = rows[:, self._clock]
        from_before = self._before is None or times[0] > self._before[self._clock]
        return bool(from_before and (times[1:] > times[:-1]).all())

    def _within(self, rows: NDArray[np.float64]) -> bool:
        """Whether these rows, shape (n, columns), lie within the bounds of their columns."""
        return all(
            bool((least <= rows[:, index]).all() and (rows[:, index] <= most).all())
            for index, least, most in self._bounded
        )

    def _line_by_line(self, block: Block) -> None:
        rows: list[list[float]] = []
        lengths: list[int] = []
        offset = block.offset
        for count, raw in enumerate(block.data.split(b"\n")[:-1]):
            line = block.line + count
            written = raw.removesuffix(b"\r")
            if not written.strip(b" \t"):
                # Empty lines count only if a row follows; at the end of a file they are usual.
                if self._blank is None:
                    message = "an empty line inside the table; delete it"
                    self._blank = self._problem(message, line, 0, len(written), written.decode("ascii"))
            else:
                if self._blank is not None:
                    self._bad([self._blank])
                    self._blank = None
                row = self._row(written, line, offset)
                if isinstance(row, tuple):
                    rows.append(row[0])
                    lengths.append(row[1])
                else:
                    self._bad(row)
            if self.hopeless:
                return
            offset += len(raw) + 1
        if rows and not self.bad_rows:
            self.kept.add(np.array(rows, dtype=np.float64), np.array(lengths, dtype=np.int32))

    def _row(self, raw: bytes, line: int, offset: int) -> tuple[list[float], int] | list[Problem]:
        """The numbers of a row and the length of its line, or what is wrong with it."""
        try:
            text = raw.decode("utf-8")
        except UnicodeDecodeError as error:
            column = len(raw[: error.start].decode("utf-8"))
            message = describe_bad_byte(raw[error.start], offset + error.start)
            return [self._problem(message, line, column, column + 1, raw.decode(errors="replace"))]
        if unseen := FORBIDDEN.search(text):
            return [self._problem(describe_unseen(unseen[0]), line, unseen.start(), unseen.end(), text)]
        if MARK.fullmatch(text):
            self._merge = self._merge or self._problem("", line, 0, len(text), text)
            self._marks.append(line)
            return [self._merge]
        try:
            fields = split_line(text, self._header.delimiter)
        except BadLine as bad:
            return [self._problem(str(bad), line, bad.start, bad.start + 1, text)]
        names = self._header.names
        if len(fields) != len(names):
            return [self._problem(_wrong_count(fields, text, self._header), line, 0, len(text), text, "count")]
        if tuple(field.text for field in fields) == names:
            return [self._problem(_HEADING_AGAIN, line, 0, len(text), text)]
        values: list[float] = []
        numbers: list[str] = []
        problems: list[Problem] = []
        for index in self._header.picked:
            field, alike = fields[index], f"{index} bounds"
            try:
                numbers.append(self._decimal.with_point(field.text, line))
                values.append(number(numbers[-1]))
                fault = bounds_fault(names[index], values[-1])
            except BadNumber as bad_number:
                fault = f"column {in_quotes(shorten(names[index]))}: {bad_number}"
                alike = f"{index} {bad_number.alike}"
            if fault:
                problems.append(self._problem(fault, line, field.start, field.end, text, alike))
            elif self._decimal.unsettled and self._ambiguous is None and "," in field.text:
                self._ambiguous = self._problem(ambiguous(field.text), line, field.start, field.end, text)
        if problems:
            return problems
        before, self._before = self._before, values
        if self._clock is not None and before is not None and (fault := clock_fault(self._clock, before, values)):
            time = fields[self._header.picked[self._clock]]
            return [self._problem(fault, line, time.start, time.end, text, "clock")]
        self.places = list(map(min, self.places, map(last_place, numbers)))
        return values, len(text)

    def _problem(self, message: str, line: int, start: int, end: int, text: str, alike: str = "") -> Problem:
        place = Place(self._file, line, start + 1, line, end + 1)
        return Problem(message, place, Line.about(text, place), alike)

    def _bad(self, problems: list[Problem]) -> None:
        self.bad_rows += 1
        if self.bad_rows == 1:
            self.problems += problems[:_BAD_CELLS]
        elif self.bad_rows <= MAX_BAD_ROWS:
            first, more = problems[0], len(problems) - 1
            told = f"{first.message}; and {more} more in this row" if more else first.message
            self.problems.append(replace(first, message=told))


def _wrong_count(fields: Sequence[Field], text: str, header: Header) -> str:
    values = "one value" if len(fields) == 1 else f"{len(fields)} values"
    message = f"{values} where the heading names {len(header.names)} columns"
    if len(fields) < len(header.names):
        if any(sign in text for sign in DELIMITERS if sign != header.delimiter):
            return f"{message}; the heading has {DELIMITERS[header.delimiter]} between them"
        return f"{message}; write every reading, or delete the row"
    if not fields[-1].text:
        return f"{message}; delete the separator at the end of the row"
    if header.delimiter == ",":
        return f"{message}; if the decimal sign is a comma here, write a point, or semicolons between the columns"
    return f"{message}; delete what is too many"
