"""Values as YAML, the way a person writes them: short things on one line, none longer than a line."""

import re
from collections.abc import Iterator, Mapping, Sequence
from decimal import Decimal
from typing import Any

from preflint.load.yaml.scalars import Ambiguous, plain_value

LONGEST = 78
"""Columns of a line; what is longer is broken. With "# " before it a terminal of 80 still holds it."""

_PLAIN = re.compile(r"[A-Za-z0-9][A-Za-z0-9_./+-]*(?: [A-Za-z0-9_./+-]+)*")


class Blank(str):
    """What stands where somebody must still choose or fill in; never legal as it is."""

    __slots__ = ()


def flow(value: Any) -> str:
    """A value on one line."""
    if isinstance(value, Blank):
        return value
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, Decimal):
        return f"{value:f}"
    if isinstance(value, float):
        return f"{Decimal(repr(value)):f}".removesuffix(".0")
    if isinstance(value, Mapping):
        return "{" + ", ".join(f"{key}: {flow(inner)}" for key, inner in value.items()) + "}"
    if isinstance(value, list | tuple):
        return "[" + ", ".join(map(flow, value)) + "]"
    return _text(value) if isinstance(value, str) else str(value)


def entry_lines(
    entry: Mapping[str, Any], indent: str, hyphen: str = "- ", block: bool | None = None
) -> tuple[str, ...]:
    """One entry of a list, beginning with its hyphen at ``indent``, without line ends.

    block: whether each key has a line of its own; None: only where it holds groups or is too long for one line.
    """
    line = f"{indent}{hyphen}{flow(entry)}"
    if block is None:
        block = any(isinstance(value, Mapping | list | tuple) and _is_long(value) for value in entry.values())
    if not block and len(line) <= LONGEST:
        return (line,)
    inner = indent + " " * len(hyphen)
    lines = [line for key, value in entry.items() for line in _lines(inner, key, value)]
    return (f"{indent}{hyphen}{lines[0][len(inner) :]}", *lines[1:])


def _is_long(value: Any) -> bool:
    return any(isinstance(inner, Mapping | list | tuple) for inner in value) or isinstance(value, Mapping)


def _lines(indent: str, key: str, value: Any) -> Iterator[str]:
    line = f"{indent}{key}: {flow(value)}"
    movements = isinstance(value, list | tuple) and any(isinstance(inner, Mapping) for inner in value)
    if len(line) <= LONGEST and not movements:
        yield line
    elif isinstance(value, list | tuple) and any(isinstance(inner, Mapping | list | tuple) for inner in value):
        yield f"{indent}{key}:"
        for inner in value:
            yield from broken(f"{indent}  - ", inner)
    else:
        yield from broken(f"{indent}{key}: ", value)


def broken(head: str, value: Any) -> Iterator[str]:
    """``value`` after ``head``, broken between its entries where the line would be too long."""
    if len(head) + len(flow(value)) <= LONGEST or not isinstance(value, Mapping | list | tuple):
        yield head + flow(value)
        return
    opening, closing = "{}" if isinstance(value, Mapping) else "[]"
    line = head + opening
    for piece in _pieces(value, closing):
        if len(line) + len(piece) > LONGEST and not line.endswith(opening):
            yield line.rstrip()
            line = " " * (len(head) + 1)
        line += f"{piece} "
    yield line.rstrip()


def _pieces(value: Mapping[str, Any] | Sequence[Any], closing: str) -> list[str]:
    each = (
        [f"{key}: {flow(inner)}" for key, inner in value.items()]
        if isinstance(value, Mapping)
        else [flow(inner) for inner in value]
    )
    return [f"{piece}," for piece in each[:-1]] + [f"{each[-1]}{closing}"]


def plain(value: Any) -> Any:
    """A value as it is read again from its lines."""
    if isinstance(value, Mapping):
        return {key: plain(inner) for key, inner in value.items()}
    if isinstance(value, list | tuple):
        return [plain(inner) for inner in value]
    if isinstance(value, Decimal | float):
        written = flow(value)
        return float(written) if "." in written else int(written)
    if isinstance(value, Blank) and value.startswith("["):
        return [value.strip("[]")]
    return value if isinstance(value, bool | int | str) else str(value)


def _text(text: str) -> str:
    """In quotes where it would otherwise be read as something else."""
    if _PLAIN.fullmatch(text):
        try:
            if plain_value(text) == text:
                return text
        except Ambiguous:
            pass
    import json  # few texts need quotes

    return json.dumps(text, ensure_ascii=False)
