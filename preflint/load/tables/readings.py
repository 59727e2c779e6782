"""The table of one record: which of its columns are read, and the one unit they are kept in."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from functools import partial

from preflint.load.node import Node
from preflint.load.tables.table import Table, read_table
from preflint.load.tree import Tree

MICROTESLA_PER_MILLIGAUSS = 0.1  # exact: 1 G = 1e-4 T

Reading = Callable[[str, int, int], None]
"""Called after each portion of a log with its file, the bytes read and those in all."""


def read_readings(tree: Tree, record: Node, wanted: Sequence[str], reading: Reading | None = None) -> Table | None:
    """The table that a record holds or names; None where it has none.

    ``wanted`` names the columns, as for ``read_table``; the schema has seen to those of a table in the manifest.
    Fields in milligauss are turned into microtesla, and their columns renamed. Raises NotRead.
    """
    entries = record.value
    if not isinstance(entries, Mapping):
        return None
    if "file" in entries:
        reference = entries["file"]
        name = tree.resolve(reference.place.file, str(reference.value), reference.place)
        progress = partial(reading, tree.shown(name)) if reading else None
        return _in_microtesla(read_table(tree, name, wanted, progress=progress, place=reference.place))
    if "rows" not in entries or "columns" not in entries:
        return None
    return _in_microtesla(Table.from_nodes(entries["columns"], entries["rows"]))


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
    digits = tuple(
        digit * MICROTESLA_PER_MILLIGAUSS if mgauss else digit
        for digit, mgauss in zip(table.last_digits, in_mgauss, strict=True)
    )
    return replace(table, columns=columns, values=values, last_digits=digits)
