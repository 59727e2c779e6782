"""The table of one record: which of its columns are read, and the one unit they are kept in."""

from collections.abc import Mapping, Sequence
from dataclasses import replace

from preflint.errors import NotRead, Problem
from preflint.load.node import Node
from preflint.load.table import Table, read_columns, read_table
from preflint.load.tree import Tree

MICROTESLA_PER_MILLIGAUSS = 0.1  # exact: 1 G = 1e-4 T


def read_readings(tree: Tree, record: Node, wanted: Sequence[str]) -> Table | None:
    """The table that a record holds or names; None where it has none.

    ``wanted`` names the columns: ``a|b`` takes whichever is there, a name that ends in ``?`` may be missing.
    Fields in milligauss are turned into microtesla, and their columns renamed. Raises NotRead.
    """
    entries = record.value
    if not isinstance(entries, Mapping):
        return None
    if "file" in entries:
        reference = entries["file"]
        name = tree.resolve(reference.place.file, str(reference.value), reference.place)
        offered = read_columns(tree, name, reference.place)
        return _in_microtesla(read_table(tree, name, _chosen(wanted, offered), place=reference.place))
    if "rows" not in entries or "columns" not in entries:
        return None
    table = Table.from_nodes(entries["columns"], entries["rows"])
    missing = [name for name in _chosen(wanted, table.columns) if name not in table.columns]
    if missing:
        place = entries["columns"].place
        raise NotRead(place.file, [Problem(f"the column {name} is missing", place) for name in missing])
    return _in_microtesla(table)


def _chosen(wanted: Sequence[str], offered: Sequence[str]) -> list[str]:
    chosen = []
    for entry in wanted:
        options = entry.removesuffix("?").split("|")
        there = [name for name in options if name in offered]
        if there or not entry.endswith("?"):
            chosen.append(there[0] if there else options[0])
    return chosen


def _in_microtesla(table: Table) -> Table:
    in_mgauss = [name.endswith("_mgauss") for name in table.columns]
    if not any(in_mgauss):
        return table
    values = table.values.copy()
    values[:, in_mgauss] *= MICROTESLA_PER_MILLIGAUSS
    values.setflags(write=False)
    columns = tuple(
        name.removesuffix("_mgauss") + "_ut" if name.endswith("_mgauss") else name for name in table.columns
    )
    return replace(table, columns=columns, values=values)
