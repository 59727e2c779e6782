"""JSON piece by piece, so that a report of many aircraft is never held whole."""

import json
from collections.abc import Iterator
from typing import Any


def encoded(value: Any, indent: str = "") -> Iterator[str]:
    """The text that ``json.dumps`` makes with an indent of 2. An iterator is a list, of which one entry is held."""
    if isinstance(value, Iterator):
        sign = "["
        for entry in value:
            yield f"{sign}\n{indent}  "
            yield from encoded(entry, f"{indent}  ")
            sign = ","
        yield "[]" if sign == "[" else f"\n{indent}]"
    elif isinstance(value, dict) and any(isinstance(entry, Iterator) for entry in value.values()):
        sign = "{"
        for key, entry in value.items():
            yield f"{sign}\n{indent}  {json.dumps(key)}: "
            yield from encoded(entry, f"{indent}  ")
            sign = ","
        yield f"\n{indent}}}"
    else:
        # No text of JSON holds a line break: each begins a line.
        yield json.dumps(value, ensure_ascii=True, allow_nan=False, indent=2).replace("\n", f"\n{indent}")
