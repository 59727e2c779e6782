"""The keywords of JSON Schema that hold no schemas: whether a value satisfies one.

Written out here, since loading the library that has them takes longer than judging an aircraft; tests ask both.
"""

from collections.abc import Callable, Mapping
from typing import Any

from preflint.load.node import Plain


def plainly(keyword: str, wanted: Any, value: Plain) -> bool:
    """Whether the value is of the type that the keyword speaks of, as far as it needs one, is the caller's question."""
    return _KEYWORDS[keyword](wanted, value)


def _is_number(value: Plain) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool)


_TYPES: Mapping[str, Callable[[Any], bool]] = {
    "null": lambda value: value is None,
    "boolean": lambda value: isinstance(value, bool),
    "string": lambda value: isinstance(value, str),
    "array": lambda value: isinstance(value, list),
    "object": lambda value: isinstance(value, dict),
    "number": _is_number,
    "integer": lambda value: _is_number(value) and value == value // 1,
}


def _is_a(types: str | list[str], value: Plain) -> bool:
    return any(_TYPES[one](value) for one in ([types] if isinstance(types, str) else types))


def _same(one: Plain, other: Plain) -> bool:
    """Equal as JSON has it: true is no 1."""
    if isinstance(one, dict) and isinstance(other, dict):
        return one.keys() == other.keys() and all(_same(part, other[name]) for name, part in one.items())
    if isinstance(one, list) and isinstance(other, list):
        return len(one) == len(other) and all(map(_same, one, other))
    return isinstance(one, bool) == isinstance(other, bool) and one == other


_KEYWORDS: Mapping[str, Callable[[Any, Any], bool]] = {
    "type": _is_a,
    "const": _same,
    "enum": lambda wanted, value: any(_same(one, value) for one in wanted),
    "required": lambda wanted, value: set(wanted) <= set(value),
    "minimum": lambda wanted, value: value >= wanted,
    "maximum": lambda wanted, value: value <= wanted,
    "exclusiveMinimum": lambda wanted, value: value > wanted,
    "exclusiveMaximum": lambda wanted, value: value < wanted,
    **dict.fromkeys(("minLength", "minItems", "minProperties"), lambda wanted, value: len(value) >= wanted),
    **dict.fromkeys(("maxLength", "maxItems", "maxProperties"), lambda wanted, value: len(value) <= wanted),
}
