"""What is asked of one record, as its kind declares it: each value by its dotted path."""

import typing
from collections.abc import Mapping
from functools import cache
from typing import Any, get_args, get_type_hints

from preflint.aircraft.declare import Said
from preflint.aircraft.declared import declarations, group_of, hints_of, is_group, is_needed
from preflint.aircraft.logbook import LogEntry
from preflint.aircraft.records import Records
from preflint.frozen import dataclass
from preflint.writing.shape import Shape, shape_of

LOG = "log"  # the word for an entry of the logbook, where otherwise a kind of record is named

CLASSES: Mapping[str, Any] = {
    **{key: get_args(hint)[0] for key, hint in get_type_hints(Records).items() if key != "place"},
    LOG: LogEntry,
}
"""The class of each kind of record by its key, and that of an entry of the logbook."""


@dataclass(frozen=True, slots=True)
class Asked:
    """One value of a record: where it stands in it, and the group that declares it.

    ``path``: keys from the record inward; in a list of movements the movement's own word (``moves.nose-down.sped_up``).
    ``either``: the dotted paths of other values, any of which answers as well.
    """

    path: tuple[str, ...]
    group: Any
    either: tuple[str, ...] = ()

    @property
    def name(self) -> str:
        return ".".join(self.path)

    @property
    def said(self) -> Said:
        return declarations(self.group)[self.path[-1]]

    @property
    def shape(self) -> Shape:
        return shape_of(self.group, self.path[-1])

    @property
    def optional(self) -> bool:
        """Whether the manifest may be without it."""
        return not is_needed(self.group, self.path[-1])


@cache
def asked(kind: str) -> tuple[Asked, ...]:
    """All that a usual record of the kind holds besides its date, in the order of the bench."""
    cls = CLASSES[kind]
    return tuple(one for path in group_of(cls).asks for one in _asked(cls, path))


def find(kind: str, name: str) -> Asked:
    """Any value that a record of the kind can hold, asked or not. Raises KeyError, saying what is not known."""
    cls, path = CLASSES[kind], tuple(name.split("."))
    for depth, step in enumerate(path):
        inner = _inside(cls, step) if step in declarations(cls) else None
        if step not in declarations(cls):
            raise KeyError(step)
        if depth == len(path) - 1 and inner is None:
            return Asked(path, cls)
        if inner is None:
            raise KeyError(path[depth + 1])
        cls = inner
        if depth + 2 < len(path) and "did" in declarations(cls):  # the word of the movement tells which entry
            return Asked(path, cls) if path[-1] in declarations(cls) and len(path) == depth + 3 else _unknown(path[-1])
    raise KeyError(name)


def known_names(kind: str) -> tuple[str, ...]:
    """The dotted names of all that a record of the kind can hold; of movements those that are asked."""
    cls = CLASSES[kind]
    found = [one.name for one in asked(kind) if one.path[0] == "moves"]
    for field in declarations(cls):
        inner = _inside(cls, field)
        if inner is None:
            found.append(field)
        elif "did" not in declarations(inner):
            found += [f"{field}.{name}" for name in declarations(inner)]
    return tuple(found)


def _asked(cls: Any, written: str) -> tuple[Asked, ...]:
    first, *others = written.split("|")
    head, _, rest = first.partition(".")
    inner = _inside(cls, head)
    if inner is None:
        return (Asked((head,), cls, tuple(others)),)
    if "did" in declarations(inner):
        return tuple(Asked((head, rest, name), inner) for name in group_of(inner).asks)
    return (Asked((head, rest), inner, tuple(others)),)


def _inside(cls: Any, name: str) -> Any:
    """The group that stands in a field, alone or as the entries of a list; None where none does."""
    hint = hints_of(cls)[name]
    if is_group(hint):
        return hint
    return next((arg for arg in typing.get_args(hint) if is_group(arg)), None)


def _unknown(name: str) -> typing.NoReturn:
    raise KeyError(name)
