"""Manifests changed at random: no fault is lost, and what has no problem can be built."""

import json
from pathlib import Path
from typing import Any

import preflint_schemas
import pytest
from hypothesis import given, settings
from jsonschema import Draft202012Validator
from making.changed import changed, changes
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
DOCUMENTS = {path: load_yaml(path.read_bytes(), path.name).plain() for path in (LONG, SHORT)}
SCHEMA = Draft202012Validator(preflint_schemas.airframe(), registry=Registry())


@pytest.mark.parametrize("path", [LONG, SHORT], ids=["long", "short"])
@settings(derandomize=True, deadline=None, max_examples=600)
@given(done=changes)
def test_no_fault_is_lost_and_what_passes_can_be_built(path: Path, done: list[tuple[list[int], str, Any, str]]) -> None:
    document: Any = DOCUMENTS[path]
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
