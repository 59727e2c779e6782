"""Every key of the manifest, from its declaration: where it stands, and what is declared of it."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from functools import cache
from typing import Any, get_args

from preflint.aircraft.declare import Kind, Said
from preflint.aircraft.declared import declarations, group_of, hints_of, is_group
from preflint.aircraft.model import Aircraft
from preflint.aircraft.schema_parts import FORMAT

Path = tuple[str, ...]


@dataclass(slots=True)
class Key:
    """One declaration, and all places where it holds: ``date`` of each kind of record is one key.

    ``paths``: keys from the start of the manifest, without positions, each with its field as Group.field.
    ``group``: the first group that has it, by the field ``name``. ``holds``: the group that stands in it, or None.
    """

    key: str
    name: str
    said: Said
    group: Any
    holds: Any
    paths: dict[Path, str] = field(default_factory=dict)

    @property
    def first(self) -> Path:
        """Where it first stands."""
        return next(iter(self.paths))

    @property
    def name_in_full(self) -> str:
        """With the group that it stands in, as people ask for it alone: ``prop.hand``, ``stick_check.moves.did``."""
        own = {id(self)}
        ends = (self.first[-steps:] for steps in range(2, len(self.first)))
        alone = (end for end in ends if {id(key) for key in keys() if key.ends_with(end)} == own)
        return ".".join(next(alone, self.first))

    def ends_with(self, steps: Path) -> bool:
        """Whether it stands at a path that ends in these keys."""
        return any(path[-len(steps) :] == steps for path in self.paths)

    @property
    def kind(self) -> Kind | None:
        """Where it is a kind of record: what is declared of that."""
        said = group_of(self.holds) if self.holds else None
        return said if isinstance(said, Kind) else None


@cache
def keys() -> tuple[Key, ...]:
    """All of them, in the order of the format; a table counts as the key ``columns``."""
    found: dict[object, Key] = {}
    for path, group, name in _inside(Aircraft, ()):
        said = declarations(group)[name]
        same = (id(said) if said.title else (group, name), path[-1])  # what kinds inherit or share is one declaration
        if same not in found:
            found[same] = Key(path[-1], name, said, group, group_in(hints_of(group)[name]))
        found[same].paths[path] = f"{group.__name__}.{name}"
    return tuple(found.values())


def in_full(path: Path) -> str:
    """The last two keys of a path, or its only one."""
    return ".".join(path[-2:])


def group_in(hint: Any) -> Any:
    """The group that a value of this type is, or holds in a list; None where there is none."""
    if is_group(hint):
        return hint
    return next((group for arg in get_args(hint) if (group := group_in(arg))), None)


def column_names() -> Mapping[str, tuple[Path, ...]]:
    """Each column of the tables of records, by its name, with the kinds that have it."""
    found: dict[str, tuple[Path, ...]] = {}
    for key in keys():
        for column in (one for names in key.said.columns for one in names.removesuffix("?").split("|")):
            found[column] = (*found.get(column, ()), *(path[:-1] for path in key.paths))
    return found


def format_keys() -> Mapping[str, Mapping[str, Any]]:
    """Keys at the start of a line that belong to the format and become no field of an aircraft."""
    return FORMAT


def _inside(group: Any, path: Path) -> Iterator[tuple[Path, Any, str]]:
    for name, said in declarations(group).items():
        here = (*path, "columns" if said.columns else said.key or name)
        yield here, group, name
        inner = group_in(hints_of(group)[name])
        if inner is not None:
            yield from _inside(inner, here)
