"""Builds typed records from a document by each record's own type hints. The schema has been checked before."""

import types
import typing
from collections.abc import Callable, Mapping
from dataclasses import fields
from functools import cache
from typing import Any, TypeVar

from preflint.aircraft.field import Absent, Known, NotFitted
from preflint.aircraft.moment import Moment
from preflint.load.node import Node
from preflint.places import Place

R = TypeVar("R")

# Reads the table of a record (its columns and rows, or the file beside the manifest), given the column
# names that the record's class wants; None where the record holds none.
TableReader = Callable[[Node, tuple[str, ...]], Any]


@cache
def _hints(cls: Any) -> dict[str, Any]:
    return typing.get_type_hints(cls)


class Reader:
    """Turns nodes into records: a field is Known or Absent, a record that nobody wrote has every field Absent."""

    def __init__(self, tables: TableReader) -> None:
        self._tables = tables

    def record(self, cls: type[R], node: Node | None, parent: Place, path: str = "") -> R:
        """A ``cls`` read from ``node``; ``parent`` is the place shown where there is no node."""
        children: Mapping[str, Node] = node.value if node and isinstance(node.value, Mapping) else {}
        shown = parent if node is None else node.key or node.place
        values: dict[str, Any] = {}
        kind: Any = cls  # a dataclass, which a type variable cannot say
        for item in fields(kind):
            what = f"{path}.{item.name}" if path else item.name
            if item.name == "place":
                values["place"] = shown
            elif item.name == "table":
                table = self._tables(node, getattr(cls, "COLUMNS", ())) if node else None
                values["table"] = (
                    Absent(what, shown, item.metadata["how"]) if table is None else Known(table, shown)
                )
            else:
                how = item.metadata.get("how", "")
                values[item.name] = self.field(
                    _hints(kind)[item.name], children.get(item.name), shown, what, how
                )
        return cls(**values)

    def field(self, hint: Any, node: Node | None, parent: Place, what: str, how: str) -> Any:
        """A value of the type that ``hint`` names; a Field or Fitted that nobody wrote is Absent."""
        origin, args = typing.get_origin(hint), typing.get_args(hint)
        if origin in (typing.Union, types.UnionType):
            if node is None:
                return Absent(what, parent, how)
            if any(arg is NotFitted for arg in args) and node.value == "none":
                return NotFitted(node.place)
            return Known(
                self._value(typing.get_args(args[0])[0], node, what),
                node.key or node.place if isinstance(node.value, Mapping) else node.place,
            )
        if origin is tuple:
            items = node.value if node and isinstance(node.value, tuple) else ()
            return tuple(
                self.field(args[0], child, parent, f"{what}[{i}]", how) for i, child in enumerate(items)
            )
        if origin is Mapping:
            entries = node.value if node and isinstance(node.value, Mapping) else {}
            return {
                name: self.field(args[1], child, parent, f"{what}.{name}", how)
                for name, child in entries.items()
            }
        if origin is Known:
            assert node is not None, f"the schema requires {what}"
            return Known(self._value(args[0], node, what), node.place)
        return self.record(hint, node, parent, what)

    def _value(self, kind: Any, node: Node, what: str) -> Any:
        if kind is Moment:
            return Moment.parse(str(node.value))
        if kind is float or kind is int:  # the schema takes 6.0 for a whole number
            return kind(typing.cast(float, node.value))
        if typing.get_origin(kind) is tuple:
            inner = typing.get_args(kind)[0]
            return tuple(
                self._value(inner, child, what) for child in typing.cast(tuple[Node, ...], node.value)
            )
        if isinstance(kind, type) and hasattr(kind, "__dataclass_fields__"):
            return self.record(kind, node, node.place, what)
        return node.value
