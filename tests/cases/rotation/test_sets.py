"""rotation/matched-size and matched-batch: which prop is the odd one, set by set, and what is missing."""

from functools import partial

import pytest
from making.manifests import answer, expect, manifest

from preflint.api import ANGLES, Clear, Finding, NotApplicable, Unproven, positions
from preflint.testing import marked

ALIKE = "make: Fellside, batch: A7, diameter_in: 14, pitch_in: 4.8, blades: 2"


def fitted(layout: str, own: dict[str, str], shared: str = ALIKE) -> str:
    props = {at: f"prop: {{{own[at]}}}" if at in own else "" for at in positions(layout)}
    return manifest(f"every_rotor: {{prop: {{{shared}}}}}\n", rotors=props, layout=layout)


size = partial(answer, rule="rotation/matched-size")
origin = partial(answer, rule="rotation/matched-batch")


def test_all_alike():
    text = fitted("quad-x", {"rear-left": "diameter_in: 14.0"})
    assert size(text) == Clear("within each set all props have one diameter, pitch and number of blades")
    assert origin(text) == Clear("within each set all props are of one make and batch")


def test_one_odd_size():
    text = fitted("quad-x", {"rear-left": "diameter_in: 13, pitch_in: 4.4"})
    found = size(text)
    assert found.message == "the props do not match at rear-left"
    assert found.evidence == (
        "13 inch diameter at rear-left, but 14 inch diameter at front-left, front-right and rear-right; "
        "4.4 inch pitch at rear-left, but 4.8 inch pitch at front-left, front-right and rear-right"
    )
    assert found.do == "fit at rear-left the size of prop that the others have"
    assert (found.place.line, marked(text, found.place)) == (7, "13")
    assert [(r.place.line, marked(text, r.place), r.message) for r in found.related] == [
        (7, "4.4", "rear-left is unlike too"),
        (3, "14", "as at front-left"),
        (3, "4.8", "as at front-left"),
    ]


@pytest.mark.parametrize("layout", ANGLES)
@pytest.mark.parametrize("odd", ["diameter_in: 14.5", "pitch_in: 4.7", "blades: 3"])
def test_an_odd_one_anywhere(layout, odd):
    for at in positions(layout):
        text = fitted(layout, {at: odd})
        found = expect(Finding, size(text))
        assert f"at: {at}, " in text.split("\n")[found.place.line - 1]
        assert marked(text, found.place) == odd.split(": ")[1]


@pytest.mark.parametrize(("odd", "told"), [
    ("make: Garth", "make Garth at right, but make Fellside at "),
    ("batch: B2", "batch B2 at right, but batch A7 at "),
])
def test_another_make_or_batch(odd, told):
    text = fitted("hexa-x", {"right": odd})
    found = expect(Finding, origin(text))
    assert found.message == "the props do not match at right"
    assert found.evidence == f"{told}front-left, front-right, left, rear-left and rear-right"
    assert found.do == "fit at right the make and batch of the others when the props are next changed"
    assert marked(text, found.place) == odd.split(": ")[1]
    assert isinstance(size(text), Clear)


@pytest.mark.parametrize("layout", ["x8", "y6"])
def test_uppers_and_lowers_are_each_a_set(layout):
    lowers = {at: "pitch_in: 5.5, batch: C1" for at in positions(layout) if at.endswith("-lower")}
    text = fitted(layout, lowers)
    assert isinstance(size(text), Clear)
    assert isinstance(origin(text), Clear)
    odd = fitted(layout, lowers | {"front-left-upper": "pitch_in: 5.5"})
    found = size(odd)
    assert found.message == "the props do not match at front-left-upper"
    assert found.evidence.startswith("upper props: 5.5 inch pitch at front-left-upper, but 4.8 inch pitch at ")


def test_two_against_two_tells_both_pairs():
    found = size(fitted("quad-x", {"front-right": "blades: 3", "rear-left": "blades: 3"}))
    assert found.message == "the props do not match at front-right and rear-left"
    assert found.evidence == ("3 blades at front-right and rear-left, but 2 blades at front-left and rear-right")


def test_what_is_missing():
    for key in ("diameter_in: 14, ", "pitch_in: 4.8, ", ", blades: 2"):
        told = size(fitted("quad-x", {}, ALIKE.replace(key, "")))
        name = key.strip(", ").split(":")[0]
        assert (told.cause, told.message) == ("absent", f"front-left.prop.{name} is not recorded")
    told = expect(Unproven, origin(fitted("quad-x", {}, ALIKE.replace("batch: A7, ", ""))))
    assert (told.cause, told.message) == ("absent", "front-left.prop.batch is not recorded")


def test_a_difference_is_told_even_where_others_are_not_recorded():
    shared = "make: Fellside"
    assert isinstance(size(fitted("quad-x", {"front-left": "blades: 2", "rear-left": "blades: 3"}, shared)), Finding)


def test_a_single_prop_is_no_set():
    text = manifest("rotors: [{at: only, place_mm: [0, 0, 0]}]\n", layout="custom")
    assert size(text) == NotApplicable("there is only one prop")
    assert origin(text) == NotApplicable("there is only one prop")
