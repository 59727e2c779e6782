"""Builds typed records from a document by each record's own type hints. The schema has been checked before."""

import types
import typing
from collections import Counter
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from typing import Any, TypeVar

from preflint.aircraft.declare import Said
from preflint.aircraft.declared import declarations, is_group
from preflint.aircraft.field import Absent, Known, NotFitted
from preflint.aircraft.model import entry_words
from preflint.aircraft.moment import Moment
from preflint.aircraft.records import KINDS, named
from preflint.load.node import Node
from preflint.places import Place

R = TypeVar("R")

# Reads the table of a record (its columns and rows, or the file beside the manifest), given the column
# names that the record's class wants; None where the record holds none.
TableReader = Callable[[Node, tuple[str, ...]], Any]


@cache
def _hints(cls: Any) -> dict[str, Any]:
    return typing.get_type_hints(cls)


@cache
def _taken_apart(hint: Any) -> tuple[Any, tuple[Any, ...]]:
    return typing.get_origin(hint), typing.get_args(hint)


_TURN = ("first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth", "tenth")


@dataclass(frozen=True, slots=True)
class KeyPath:
    """Where a value is written, in words: its key path, inside the entry of a list if it is in one."""

    path: str = ""
    entry: str = ""

    def inside(self, name: str) -> "KeyPath":
        """The key one step further in."""
        return KeyPath(f"{self.path}.{name}" if self.path else name, self.entry)

    def entries(self, written: Sequence[Node]) -> Iterator["KeyPath"]:
        """The key of each entry of the list that stands here."""
        key = self.path.rpartition(".")[2]
        for called in _told_apart(_called(key), written):
            yield KeyPath("", f"{called} of the {self.entry}" if self.entry else called)

    def __str__(self) -> str:
        if not self.entry:
            return self.path
        head, _, rest = self.path.partition(".")
        return f"{rest} in force during the {self.entry}" if head == "in_force" else f"{self.path} of the {self.entry}"


def _called(key: str) -> str:
    """What people call one entry of the list under that key."""
    return named(key) if key in KINDS else entry_words().get(key, key.replace("_", " "))


def _told_apart(kind: str, entries: Sequence[Node]) -> Iterator[str]:
    """What people call each entry: by its date, label or movement, then its rotor or pack, then its turn."""
    named = [_with(kind, entry, date=" of ", label=" ", did=" ") for entry in entries]
    several = Counter(named)
    named = [
        _with(name, entry, at=" at ", pack=" with pack ") if several[name] > 1 else name
        for name, entry in zip(named, entries, strict=True)
    ]
    several, seen = Counter(named), Counter[str]()
    for name in named:
        seen[name] += 1
        if several[name] == 1:
            yield name
        elif seen[name] <= len(_TURN):
            yield f"{_TURN[seen[name] - 1]} {name}"
        else:
            yield f"{name} (number {seen[name]})"


def _with(name: str, entry: Node, **words: str) -> str:
    written = entry.value if isinstance(entry.value, Mapping) else {}
    return name + "".join(f"{word}{written[key].value}" for key, word in words.items() if key in written)


def _absent(what: str, place: Place, said: Said) -> Absent:
    return Absent(what, place, said.do, said.mind, said.on_paper)


class Reader:
    """Turns nodes into records: a field is Known or Absent, a record that nobody wrote has every field Absent."""

    def __init__(self, tables: TableReader) -> None:
        self._tables = tables

    def record(self, cls: type[R], node: Node | None, parent: Place, key: KeyPath) -> R:
        """A ``cls`` read from ``node``; ``parent`` is the place shown where there is no node."""
        children: Mapping[str, Node] = node.value if node and isinstance(node.value, Mapping) else {}
        shown = parent if node is None else node.key or node.place
        values: dict[str, Any] = {"place": shown}
        kind: Any = cls  # hashable, which a type variable cannot say
        for name, said in declarations(kind).items():
            inner = key.inside(said.key or name)
            if said.columns:
                table = self._tables(node, said.columns) if node else None
                open_as = str(key.inside("columns and rows"))
                values[name] = _absent(open_as, shown, said) if table is None else Known(table, shown)
            else:
                values[name] = self.field(_hints(kind)[name], children.get(said.key or name), shown, inner, said)
        return cls(**values)

    def field(self, hint: Any, node: Node | None, parent: Place, key: KeyPath, said: Said) -> Any:
        """A value of the type that ``hint`` names; a Field or Fitted that nobody wrote is Absent."""
        origin, args = _taken_apart(hint)
        if origin in (typing.Union, types.UnionType):
            if node is None:
                return _absent(str(key), parent, said)
            if any(arg is NotFitted for arg in args) and node.value == "none":
                return NotFitted(node.place)
            return Known(
                self._value(_taken_apart(args[0])[1][0], node, key),
                node.key or node.place if isinstance(node.value, Mapping) else node.place,
            )
        if origin is tuple:
            items = node.value if node and isinstance(node.value, tuple) else ()
            return tuple(
                self.field(args[0], child, parent, inner, said)
                for child, inner in zip(items, key.entries(items), strict=True)
            )
        if origin is Mapping:
            entries = node.value if node and isinstance(node.value, Mapping) else {}
            return {
                name: self.field(args[1], child, parent, key.inside(name), said) for name, child in entries.items()
            }
        if origin is Known:
            assert node is not None, f"the schema requires {key}"
            return Known(self._value(args[0], node, key), node.place)
        return self.record(hint, node, parent, key)

    def _value(self, kind: Any, node: Node, key: KeyPath) -> Any:
        if kind is Moment:
            return Moment.parse(str(node.value))
        if kind is float or kind is int:  # the schema takes 6.0 for a whole number
            return kind(typing.cast(float, node.value))
        origin, args = _taken_apart(kind)
        if origin is tuple:
            inner, entries = args[0], typing.cast(tuple[Node, ...], node.value)
            keys = key.entries(entries) if is_group(inner) else (key for _ in entries)
            return tuple(self._value(inner, child, at) for child, at in zip(entries, keys, strict=True))
        if origin is Known:
            return Known(self._value(args[0], node, key), node.place)
        if is_group(kind):
            return self.record(kind, node, node.place, key)
        return node.value
