"""Manifests changed at random: no fault is lost, and what has no problem can be built."""

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import preflint_schemas
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from jsonschema import Draft202012Validator
from referencing import Registry

from preflint.aircraft.build import build
from preflint.aircraft.layouts import positions
from preflint.aircraft.short import write_out
from preflint.check import check_manifest
from preflint.errors import NotRead
from preflint.load.shared import expand_rotors
from preflint.load.yaml.events import load_yaml

ROOT = Path(__file__).parents[2]
LONG = ROOT / "tests" / "contract" / "lapwing.airframe.yaml"
SHORT = ROOT / "examples" / "club" / "plover.airframe.yaml"  # its records stand in sessions
SCHEMA = Draft202012Validator(preflint_schemas.airframe(), registry=Registry())


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


VALUES = [value for value in examples(SCHEMA.schema) if "e" not in json.dumps(value) or not isinstance(value, float)]
STRANGE = [[], {}, "", "none", "rear", "x.yaml", "1", True, False, 0, -1, 10**12, 0.5, [[]], [{}], {"a": 1}, "cw",
           "all", "as-written"]
NAMES = sorted(set(names(SCHEMA.schema)))

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


@pytest.mark.parametrize("path", [LONG, SHORT], ids=["long", "short"])
@settings(derandomize=True, deadline=None, max_examples=600)
@given(done=changes)
def test_no_fault_is_lost_and_what_passes_can_be_built(path: Path, done: list[tuple[list[int], str, Any, str]]) -> None:
    document: Any = load_yaml(path.read_bytes(), path.name).plain()
    for way, how, value, name in done:
        document = changed(document, way, how, value, name)
    try:
        node = load_yaml(json.dumps(document).encode(), "x.airframe.yaml")
    except NotRead:
        return
    problems = check_manifest(node)
    assert problems or SCHEMA.is_valid(node.plain())
    for problem in problems:
        assert problem.message
        assert problem.place is not None
        assert problem.place.line == 1
    places = [problem.place for problem in problems if problem.place]
    assert places == sorted(places)
    if not problems:
        aircraft = build(expand_rotors(write_out(node).document, positions), lambda record, wanted: None)
        assert aircraft.positions
