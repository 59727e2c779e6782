"""Tables of readings, and how they are read from a CSV file of any length."""

from __future__ import annotations

import os
from collections.abc import Iterator, Sequence
from itertools import chain
from typing import TYPE_CHECKING, overload

from preflint.arrays import np
from preflint.errors import NotRead, Problem
from preflint.frozen import dataclass
from preflint.load.limits import MAX_LINE_BYTES
from preflint.load.opening import describe_failure
from preflint.load.tables.blocks import Block, blocks
from preflint.load.tables.header import Header, read_header
from preflint.load.tables.last_digits import last_digits
from preflint.load.tables.rows import Progress, RowReader
from preflint.load.text import SourceText, decode, foreign_format
from preflint.load.tree import Tree
from preflint.places import Place

if TYPE_CHECKING:
    from numpy.typing import NDArray


@dataclass(frozen=True, slots=True, eq=False)
class Table:
    """Readings in rows; ``values`` has shape (rows, columns) and cannot be written to.

    Of a table with more rows than are kept, each row of ``values`` is the mean of ``condensed_by``
    consecutive rows as written (the last one of those that were left); ``rows_read`` counts the rows
    as written. ``condensed_by`` is 1 where the rows are as written.

    ``last_digits`` has for each column what one step of its last digit counts, in the unit of the column: of the
    finest digit that any row has as written, trailing zeros and exponents included (0.01 for 24.10, 1 for 24,
    1e-06 for 1.5e-05). Of a condensed table they are those of the rows as written, not of their means.
    Milligauss turned into microtesla have theirs turned with them. Each is as exact as a float can be.
    """

    columns: tuple[str, ...]
    values: NDArray[np.float64]
    rows_read: int
    condensed_by: int
    place: Place
    row_places: Sequence[Place]
    last_digits: tuple[float, ...]

    def column(self, name: str) -> NDArray[np.float64]:
        """One column, shape (rows,). KeyError where the table has none of that name."""
        column: NDArray[np.float64] = self.values[:, self._index(name)]
        return column

    def last_digit(self, name: str) -> float:
        """What one step of a column's last digit counts, in its unit. KeyError where the table has none of that name.

        It is what the display or logger shows, not how good the sensor is, which may be a good deal coarser.
        """
        return self.last_digits[self._index(name)]

    def _index(self, name: str) -> int:
        if name not in self.columns:
            raise KeyError(name)
        return self.columns.index(name)

    def row_place(self, row: int) -> Place:
        """The line or lines, or the row of the manifest, that row ``row`` of ``values`` was read from."""
        return self.row_places[row]


def read_table(
    tree: Tree,
    name: str,
    wanted: Sequence[str] | None = None,
    *,
    progress: Progress | None = None,
    place: Place | None = None,
) -> Table:
    """The table in a CSV file of the tree; a first line names the columns.

    Only the columns in ``wanted`` are read, in that order, and must hold numbers; None stands for all,
    ``a|b`` for whichever is there, and a name that ends in ``?`` may be missing.
    Fields are separated by commas, semicolons or tabs, whichever the first line has; where that is no
    comma, the decimal sign may be one, throughout. ``place`` is
    where the manifest refers to the file. ``progress`` is called after each block.

    Raises:
        NotRead: the file cannot be opened, or any row is not as long as the first line, holds
            something else than finite numbers, or has a ``time_s`` that does not go on from the row
            before; nothing is left out.
        ValueError: ``wanted`` is empty.
    """
    if wanted is not None and not wanted:
        raise ValueError("no columns are wanted")
    shown = tree.shown(name)
    try:
        with tree.open(name, place=place) as file:
            total = os.fstat(file.fileno()).st_size
            source = blocks(file, shown)
            header, first = _heading(source, shown, wanted)
            reader = RowReader(header, shown)
            for block in chain([first], source):
                reader.take(block)
                if progress:
                    progress(min(block.end, total), total)
                if reader.hopeless:
                    break
    except OSError as error:  # asking for its size or closing it fails, too
        raise NotRead(shown, [Problem(describe_failure(error))]) from None
    problems = reader.all_problems()
    if not problems and reader.kept.rows_read == 0:
        no_rows = "the table has a heading but no rows; write the readings below it"
        problems = [Problem(no_rows, Place(shown, 1, 1, 1, 1))]
    if problems:
        raise NotRead(shown, problems)
    values, lengths = reader.kept.finish()
    lines = LinePlaces(shown, 2, reader.kept.rows_read, reader.kept.step, lengths)
    place = Place(shown, 1, 1, lines[-1].end_line, lines[-1].end_column)
    picked = tuple(header.names[index] for index in header.picked)
    kept, digits = reader.kept, last_digits(reader.places)
    return Table(picked, frozen(values), kept.rows_read, kept.step, place, lines, digits)


@dataclass(frozen=True, slots=True, eq=False)
class LinePlaces(Sequence[Place]):
    """The places of rows that stand on one line each, or on ``step`` lines where they were averaged."""

    file: str
    first_line: int
    rows_read: int
    step: int
    lengths: NDArray[np.int32]

    def __len__(self) -> int:
        return len(self.lengths)

    @overload
    def __getitem__(self, row: int) -> Place: ...
    @overload
    def __getitem__(self, row: slice) -> Sequence[Place]: ...
    def __getitem__(self, row: int | slice) -> Place | Sequence[Place]:
        if isinstance(row, slice):
            return [self[index] for index in range(len(self))[row]]
        index = range(len(self))[row]
        last = min((index + 1) * self.step, self.rows_read) - 1
        line, end_line = self.first_line + index * self.step, self.first_line + last
        return Place(self.file, line, 1, end_line, int(self.lengths[index]) + 1)


def _heading(source: Iterator[Block], shown: str, wanted: Sequence[str] | None) -> tuple[Header, Block]:
    """The header, and what is left of the first block after it."""
    block = next(source, None)
    start = Place(shown, 1, 1, 1, 1)
    if block is None:
        raise NotRead(shown, [Problem("the file is empty; its first line must name the columns", start)])
    if foreign := foreign_format(block.data):
        raise NotRead(shown, [Problem(foreign, start)])
    if not block.data:
        long = f"the first line has more than {MAX_LINE_BYTES} bytes; a line ends in a line feed"
        raise NotRead(shown, [Problem(long, start)])
    cut = block.data.index(b"\n") + 1
    line = decode(block.data[:cut], shown).removesuffix("\n").removesuffix("\r")
    header, problems = read_header(line, shown, wanted)
    if header is None:
        raise NotRead(shown, SourceText(line, shown).quoted(problems))
    return header, Block(block.data[cut:], 2, cut, block.too_long)


def frozen(values: NDArray[np.float64]) -> NDArray[np.float64]:
    """The same array, from now on read-only."""
    values.setflags(write=False)
    return values
