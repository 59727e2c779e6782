"""A document with anything in it changed at random: struck out, doubled, renamed, or with another value."""

import json
from collections.abc import Iterator
from typing import Any

import preflint_schemas
from hypothesis import strategies as st

SCHEMA = preflint_schemas.airframe()


def examples(schema: Any) -> Iterator[Any]:
    if isinstance(schema, dict):
        yield from schema.get("examples", ())
        for inner in schema.values():
            yield from examples(inner)
    elif isinstance(schema, list):
        for inner in schema:
            yield from examples(inner)


def names(schema: Any) -> Iterator[str]:
    if isinstance(schema, dict):
        if isinstance(schema.get("properties"), dict):
            yield from schema["properties"]
        for inner in schema.values():
            yield from names(inner)


VALUES = [value for value in examples(SCHEMA) if "e" not in json.dumps(value) or not isinstance(value, float)]
STRANGE = [[], {}, "", "none", "rear", "x.yaml", "1", True, False, 0, -1, 10**12, 0.5, [[]], [{}], {"a": 1}, "cw",
           "all", "as-written"]
NAMES = sorted(set(names(SCHEMA)))

steps = st.integers(0, 10**6)
changes = st.lists(
    st.tuples(
        st.lists(steps, min_size=1, max_size=6), st.sampled_from(["replace", "delete", "add", "rename", "repeat"]),
        st.sampled_from(VALUES + STRANGE), st.sampled_from([*NAMES, "nonsense", "front-lift", "others", "all"]),
    ),
    min_size=1, max_size=4,
)


def changed(document: Any, path: list[int], how: str, value: Any, name: str) -> Any:
    """A copy of ``document`` with one thing changed where the numbers of ``path`` lead."""
    if not isinstance(document, dict | list) or not document:
        return value
    keys = list(document) if isinstance(document, dict) else list(range(len(document)))
    key = keys[path[0] % len(keys)]
    copy: Any = dict(document) if isinstance(document, dict) else list(document)
    if len(path) > 1:
        copy[key] = changed(copy[key], path[1:], how, value, name)
    elif how == "delete":
        del copy[key]
    elif how == "replace":
        copy[key] = value
    elif isinstance(copy, list):
        copy.append(copy[key] if how == "repeat" else value)
    elif how == "rename":
        copy[name] = copy.pop(key)
    else:
        copy[name] = value
    return copy
