"""A table written in the manifest itself."""

from __future__ import annotations

from collections.abc import Sequence

from preflint.arrays import np
from preflint.errors import NotRead, Problem
from preflint.load.limits import limited
from preflint.load.node import Node
from preflint.load.quoting import in_quotes, shorten
from preflint.load.tables.bounds import bounds_fault
from preflint.load.tables.clock import CLOCK, clock_fault
from preflint.load.tables.last_digits import last_digits, last_place
from preflint.load.tables.table import Table, frozen


def inline_table(columns: Node, rows: Node) -> Table:
    """A table written in the manifest: a list of column names and a list of rows of numbers.

    Raises:
        NotRead: a row of another length, a cell that is no number, or a time that does not go on from
            the row before; every one with its place.
    """
    names, problems = _column_names(columns)
    values: list[list[float]] = []
    row_nodes = rows.value if isinstance(rows.value, tuple) else ()
    if not row_nodes:
        problems.append(Problem("the table must be a list of rows, with at least one", rows.place))
    for node in row_nodes:
        row, wrong = _inline_row(node, names)
        values.append(row)
        problems += wrong
    if not problems and CLOCK in names:
        problems = _clock_problems(names.index(CLOCK), values, row_nodes)
    if problems:
        raise NotRead(rows.place.file, limited(problems, len(problems)))
    places = tuple(node.place for node in row_nodes)
    array = frozen(np.array(values, dtype=np.float64))
    return Table(names, array, len(values), 1, rows.place, places, _digits(row_nodes))


def _column_names(columns: Node) -> tuple[tuple[str, ...], list[Problem]]:
    nodes = columns.value if isinstance(columns.value, tuple) else ()
    if not nodes:
        return (), [Problem("the columns must be a list of names, with at least one", columns.place)]
    names: list[str] = []
    problems: list[Problem] = []
    for node in nodes:
        if not isinstance(node.value, str) or not node.value:
            problems.append(Problem("a column needs a name", node.place))
        elif node.value in names:
            problems.append(Problem(f"two columns are named {in_quotes(shorten(node.value))}", node.place))
        names.append(str(node.value) if isinstance(node.value, str) else "")
    return tuple(names), problems


def _inline_row(row: Node, names: Sequence[str]) -> tuple[list[float], list[Problem]]:
    if not isinstance(row.value, tuple):
        return [], [Problem("a row must be a list of numbers", row.place)]
    if names and len(row.value) != len(names):
        return [], [Problem(f"{len(row.value)} values where {len(names)} columns are named", row.place)]
    values: list[float] = []
    problems: list[Problem] = []
    for index, cell in enumerate(row.value):
        if isinstance(cell.value, bool) or not isinstance(cell.value, int | float):
            written = in_quotes(shorten(cell.text)) if cell.text else "this"
            problems.append(Problem(f"{written} is not a number", cell.place))
        else:
            values.append(float(cell.value))
            if fault := bounds_fault(names[index] if names else "", values[-1]):
                problems.append(Problem(fault, cell.place))
    return values, problems


def _digits(rows: Sequence[Node]) -> tuple[float, ...]:
    places = [[last_place(cell.text) for cell in row.value] for row in rows if isinstance(row.value, tuple)]
    return last_digits(map(min, zip(*places, strict=True)))


def _clock_problems(clock: int, values: Sequence[Sequence[float]], rows: Sequence[Node]) -> list[Problem]:
    found = []
    for before, row, node in zip(values, values[1:], rows[1:], strict=False):
        if fault := clock_fault(clock, before, row):
            cell = node.value[clock] if isinstance(node.value, tuple) else node
            found.append(Problem(fault, cell.place))
    return found
