"""Reads what is declared of groups of fields and of their fields."""

from collections.abc import Iterator, Mapping
from dataclasses import fields, replace
from functools import cache
from typing import Any, Literal, get_args, get_origin, get_type_hints

from preflint.aircraft.declare import DECLARED, Group, Kind, Said
from preflint.aircraft.field import Known


def is_group(hint: Any) -> bool:
    """Whether it is a class that ``group`` or ``kind`` declared."""
    return isinstance(hint, type) and DECLARED in vars(hint)


def meaning_of(cls: type) -> str:
    """What a group means: its docstring in one line."""
    assert cls.__doc__ is not None  # python -OO makes no schema
    return " ".join(cls.__doc__.split())


def group_of(cls: type) -> Group:
    """What is said of a group. Raises KeyError for a class that is none."""
    said: Group = vars(cls)[DECLARED]
    return said


def kind_of(cls: type) -> Kind:
    """What is said of a kind of record. Raises KeyError or TypeError for a class that is none."""
    said = group_of(cls)
    if not isinstance(said, Kind):
        raise TypeError(f"{cls.__name__} is no kind of record")
    return said


@cache
def declarations(cls: Any) -> Mapping[str, Said]:
    """What is said of each field of a group, by its name; ``place`` is no field of the manifest."""
    said = {item.name: item.metadata.get("said", Said()) for item in fields(cls) if item.name != "place"}
    if "table" in said and not said["table"].do:
        said["table"] = replace(said["table"], do=kind_of(cls).take, mind=kind_of(cls).mind)
    return said


def choices(cls: type, name: str) -> tuple[str, ...]:
    """The words that a field may hold, in the order declared."""
    said, hint = declarations(cls)[name], get_type_hints(cls)[name]
    while not said.one_of and get_origin(hint) is not Literal:
        hint = get_args(hint)[0]
    return said.one_of or get_args(hint)


@cache
def hints_of(cls: Any) -> Mapping[str, Any]:
    """The type of each field, with what a type checker does not see."""
    hints = get_type_hints(cls, include_extras=True)
    return {name: hints[name] for name in declarations(cls)}


def is_needed(cls: type, name: str) -> bool:
    """Whether the group cannot be without the field."""
    return declarations(cls)[name].needed or get_origin(hints_of(cls)[name]) is Known


def groups_of(cls: type) -> tuple[type, ...]:
    """The groups that stand in the fields of one, and in theirs, each once."""
    inner = [group for hint in hints_of(cls).values() for group in _groups_in(hint)]
    return tuple(dict.fromkeys(found for group in inner for found in (group, *groups_of(group))))


def _groups_in(hint: Any) -> Iterator[type]:
    if is_group(hint):
        yield hint
    for arg in get_args(hint):
        yield from _groups_in(arg)
