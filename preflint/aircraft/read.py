"""Builds typed records from a document by each record's own type hints. The schema has been checked before."""

import types
import typing
from collections import Counter
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import fields
from functools import cache
from itertools import repeat
from typing import Any, Literal, NamedTuple, TypeVar

from preflint.aircraft.declare import Said
from preflint.aircraft.declared import declarations, is_group
from preflint.aircraft.field import Absent, Known, NotFitted
from preflint.aircraft.model import entry_words
from preflint.aircraft.moment import Moment
from preflint.aircraft.records import KINDS, named
from preflint.frozen import dataclass
from preflint.load.node import Node
from preflint.places import Place

R = TypeVar("R")

# Reads the table of a record (its columns and rows, or the file beside the manifest), given the column
# names that the record's class wants; None where the record holds none.
TableReader = Callable[[Node, tuple[str, ...]], Any]


_Form = Literal["open", "recorded", "list", "by name", "group", "moment", "number", "as written"]
_SCALARS = ("as written", "number", "moment")


@dataclass(frozen=True, slots=True)
class Shape:
    """A type taken apart: what it is, the class of a group or number, and the shape of what is inside."""

    form: _Form
    kind: Any = None
    inner: Any = None
    fitted: bool = False  # the owner may write none


def _shape(hint: Any) -> Shape:
    origin, args = typing.get_origin(hint), typing.get_args(hint)
    if origin is typing.Annotated:  # with what only the schema asks
        return _shape(args[0])
    if origin in (typing.Union, types.UnionType):  # a Field or a Fitted
        return Shape("open", inner=_shape(typing.get_args(args[0])[0]), fitted=NotFitted in args)
    if origin is tuple:
        return Shape("list", inner=_shape(args[0]))
    if origin is Mapping:
        return Shape("by name", inner=_shape(args[1]))
    if origin is Known:
        return Shape("recorded", inner=_shape(args[0]))
    if hint is Moment:
        return Shape("moment")
    if hint is float or hint is int:
        return Shape("number", hint)
    return Shape("group" if is_group(hint) else "as written", hint)


@cache
def shapes(cls: Any) -> tuple[tuple[str, str, Said, Shape], ...]:
    """The name of each field of a group, its key in the manifest, what is said of it, and its type."""
    hints = {item.name: item.type for item in fields(cls)}
    return tuple((name, said.key or name, said, _shape(hints[name])) for name, said in declarations(cls).items())


_TURN = ("first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth", "tenth")


class KeyPath(NamedTuple):
    """Where a value is written, in words: its key path, inside the entry of a list if it is in one."""

    path: str = ""
    entry: str = ""

    def inside(self, name: str) -> "KeyPath":
        """The key one step further in."""
        return KeyPath(self.joined(name), self.entry)

    def joined(self, name: str) -> str:
        """The path one step further in, without the entry."""
        return f"{self.path}.{name}" if self.path else name

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
    written = entry.value if isinstance(entry.value, dict) else {}
    return name + "".join(f"{word}{written[key].value}" for key, word in words.items() if key in written)


def _absent(what: str, place: Place, said: Said) -> Absent:
    return Absent(what, place, said.do, said.mind, said.on_paper)


def _scalar(shape: Shape, node: Node) -> Any:
    if shape.form == "number":  # the schema takes 6.0 for a whole number
        return shape.kind(node.value)
    return Moment.parse(str(node.value)) if shape.form == "moment" else node.value


class Reader:
    """Turns nodes into records: a field is Known or Absent, a record that nobody wrote has every field Absent."""

    def __init__(self, tables: TableReader) -> None:
        self._tables = tables

    def record(self, cls: type[R], node: Node | None, parent: Place, path: KeyPath) -> R:
        """A ``cls`` read from ``node``; ``parent`` is the place shown where there is no node."""
        children = node.value if node and isinstance(node.value, dict) else {}
        shown = parent if node is None else node.key or node.place
        values: dict[str, Any] = {"place": shown}
        kind: Any = cls  # hashable, which a type variable cannot say
        for name, key, said, shape in shapes(kind):
            child = children.get(key)
            if said.columns:
                table = self._tables(node, said.columns) if node else None
                open_as = str(path.inside("columns and rows"))
                values[name] = _absent(open_as, shown, said) if table is None else Known(table, shown)
            elif shape.form == "open" and child is None:
                values[name] = _absent(str(path.inside(key)) if path.entry else path.joined(key), shown, said)
            else:
                values[name] = self.read(shape, child, shown, path.inside(key), said)
        return cls(**values)

    def read(self, shape: Shape, node: Node | None, parent: Place, path: KeyPath, said: Said) -> Any:
        """A value of that type; a Field or Fitted that nobody wrote is Absent."""
        form, inner = shape.form, shape.inner
        if form == "group":
            return self.record(shape.kind, node, parent, path)
        if form == "list":
            items = node.value if node and isinstance(node.value, tuple) else ()
            paths = path.entries(items) if inner.form == "group" else repeat(path)
            return tuple(self.read(inner, item, parent, at, said) for item, at in zip(items, paths, strict=False))
        if form == "by name":
            entries = node.value if node and isinstance(node.value, dict) else {}
            return {name: self.read(inner, entry, parent, path.inside(name), said) for name, entry in entries.items()}
        if form == "open" and node is None:
            return _absent(str(path), parent, said)
        assert node is not None, f"the schema requires {path}"
        if form in _SCALARS:
            return _scalar(shape, node)
        if shape.fitted and node.value == "none":
            return NotFitted(node.place)
        value = _scalar(inner, node) if inner.form in _SCALARS else self.read(inner, node, parent, path, said)
        at_key = form == "open" and isinstance(node.value, dict)
        return Known(value, node.key or node.place if at_key else node.place)
