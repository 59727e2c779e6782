"""The extra ``fast`` and jsonschema agree on what passes, whatever is changed: the extra moves no answer."""

from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from making.changed import changed, changes

from preflint.check import violations as stage
from preflint.load.yaml.events import load_yaml

ROOT = Path(__file__).parents[2]
LONG = load_yaml((ROOT / "tests" / "contract" / "lapwing.airframe.yaml").read_bytes(), "long").plain()
POLICY = load_yaml((ROOT / "examples" / "club" / "preflint.yaml").read_bytes(), "policy").plain()


def texts(document: Any, path: tuple[str | int, ...] = ()) -> list[tuple[str | int, ...]]:
    """The path of every text in the document."""
    if isinstance(document, str):
        return [path]
    if not isinstance(document, dict | list):
        return []
    pairs = document.items() if isinstance(document, dict) else enumerate(document)
    return [found for key, inner in pairs for found in texts(inner, (*path, key))]


def with_ending(document: Any, path: tuple[str | int, ...], ending: str) -> Any:
    if not path:
        return document + ending
    copy = dict(document) if isinstance(document, dict) else list(document)
    copy[path[0]] = with_ending(copy[path[0]], path[1:], ending)
    return copy


def agree(document: Any, format: str) -> bool:
    fast = stage._fast(format, None)
    assert fast is not None, "the tests need the extra fast"
    slow = not any(stage._validator(format, None).iter_errors(document))
    assert fast(document) is slow, document
    return slow


@settings(derandomize=True, deadline=None, max_examples=300)
@given(done=changes)
def test_of_a_manifest(done: list[tuple[list[int], str, Any, str]]) -> None:
    document = LONG
    for way, how, value, name in done:
        document = changed(document, way, how, value, name)
    agree(document, "airframe")


@pytest.mark.parametrize("ending", ["\n", "\n\n", "\r\n", " ", "\u2028", "\u0660", "\x00"], ids=ascii)
@pytest.mark.parametrize(("document", "format"), [(LONG, "airframe"), (POLICY, "policy")], ids=["manifest", "policy"])
def test_of_what_stands_at_the_end_of_a_text(document: Any, format: str, ending: str) -> None:
    passed = [agree(with_ending(document, path, ending), format) for path in texts(document)]
    assert any(passed)  # names and labels may end in anything
    assert not all(passed)


# What is not finite, and half a pair of surrogates, is refused before by whatever reads the file.
FINITE = st.floats(allow_nan=False, allow_infinity=False)
NUMBERS = st.one_of(st.integers(), FINITE, st.sampled_from([10**30, -(10**30), 1e308, 6.0, 1e16, 2**53 + 1, 2**64]))


@settings(derandomize=True, deadline=None, max_examples=300)
@given(value=NUMBERS, place=st.sampled_from(["preflint", "pole_pairs", "capacity_mah", "cells"]))
def test_of_any_number(value: float, place: str) -> None:
    document = {"preflint": 1, "aircraft": {"name": "Knot", "layout": "quad-x"}}
    if place == "preflint":
        document["preflint"] = value
    elif place == "pole_pairs":
        document["rotors"] = [{"at": "front-left", "motor": {"pole_pairs": value}}]  # type: ignore[assignment]
    else:
        document["packs"] = [{"label": "A", place: value}]  # type: ignore[assignment]
    agree(document, "airframe")
