"""Outputs in a hover: full texts, both sides of each limit, missing input; and nothing changes with the view."""

import math

import pytest
from making.manifests import QUAD, answer, expect, manifest

from preflint.api import Clear, Finding, NotApplicable, Unproven

SPLIT, TRIM = "after_flight/output-split", "after_flight/output-trim"
AT = ("front-left", "front-right", "rear-left", "rear-right")  # cw, ccw, ccw, cw


def noted(*outputs, rotors=QUAD, at=AT, layout="quad-x", log=()):
    told = ", ".join(f"{name}: {value}" for name, value in zip(at, outputs, strict=True))
    look = f"date: 2026-05-17, motors: {{others: warm}}, output_percent: {{{told}}}"
    return manifest(rotors, layout=layout, records={"after_flight_look": look}, logbook=log)


def test_a_split_in_full():
    found = expect(Finding, answer(noted(58, 46, 46, 58), SPLIT))
    assert found.message == "in a hover the rotors that turn cw work 26 % harder than the others"
    assert found.evidence == (
        "cw 58.0 %, ccw 46.0 % after the flight on 2026-05-17: +26.1 ± 2.8 %, at most 10 % either way"
    )
    assert found.do == "look along each arm for a motor that is tilted; compare the props; put it right and look again"
    other = expect(Finding, answer(noted(46, 58, 58, 46), SPLIT))
    assert other.message == "in a hover the rotors that turn ccw work 26 % harder than the others"


@pytest.mark.parametrize(("cw", "kind"), [
    # of 50 %: u = 0.577/√2/50 · √2 = 1.15 %, U = 2.4 % at a ratio of 1.1
    (56.4, Finding), (56.1, Unproven), (54.9, Unproven), (53.9, Unproven), (53.7, Clear), (50, Clear), (46.4, Clear),
    (43.7, Finding),
])
def test_both_sides_of_the_split(cw, kind):
    assert isinstance(answer(noted(cw, 50, 50, cw), SPLIT), kind)


def test_where_the_weight_lies_is_no_split():
    assert isinstance(answer(noted(60, 60, 48, 48), SPLIT), Clear)


def test_a_heavy_nose_in_full():
    found = expect(Finding, answer(noted(62, 62, 45, 45), TRIM))
    assert found.message == "the front must lift 31 % more than the mean to stay level in a hover"
    assert found.evidence == (
        "outputs 62, 62, 45, 45 % after the flight on 2026-05-17: the front adds 31 ± 3 % of the mean thrust, at most "
        "20 %"
    )
    assert found.do == (
        "move pack or payload away from the front; if it stays, look for a weak motor or prop there"
    )


@pytest.mark.parametrize(("outputs", "end"), [
    ((62, 62, 45, 45), "front"), ((45, 45, 62, 62), "rear"), ((62, 45, 62, 45), "left"), ((45, 62, 45, 62), "right"),
])
def test_it_names_the_end(outputs, end):
    assert expect(Finding, answer(noted(*outputs), TRIM)).message.startswith(f"the {end} must lift ")


def pair(added):
    """Outputs in front and behind, of a mean square of 50²: thrust goes with the square."""
    return [50 * math.sqrt(1 + added)] * 2 + [50 * math.sqrt(1 - added)] * 2


@pytest.mark.parametrize(("added", "kind"), [
    # u = 2 · 0.577/50 / √2 = 1.63 %, U = 3.2 %
    (0.24, Finding), (0.225, Unproven), (0.175, Unproven), (0.165, Clear), (0.104, Clear), (0.0, Clear),
])
def test_both_sides_of_what_one_end_may_add(added, kind):
    assert isinstance(answer(noted(*(round(output, 3) for output in pair(added))), TRIM), kind)


def test_more_output_in_front_by_a_quarter_is_not_explained_by_a_usual_balance():
    """A centre of mass 18.67 mm ahead between rotors 180 mm ahead and behind gives outputs of 1.11 to 1."""
    assert isinstance(answer(noted(55.5, 55.5, 50, 50), TRIM), Clear)
    assert isinstance(answer(noted(62.5, 62.5, 50, 50), TRIM), Unproven | Finding)
    assert "adds 22 " in answer(noted(62.5, 62.5, 50, 50), TRIM).evidence


def test_a_plus_is_judged_by_its_front_and_rear_rotor():
    rotors = "rotors: [{at: front, spin: cw}, {at: right, spin: ccw}, {at: rear, spin: cw}, {at: left, spin: ccw}]\n"
    at = ("front", "right", "rear", "left")
    heavy = [50 * math.sqrt(one) for one in (1.4, 1, 0.6, 1)]
    told = noted(*(round(one, 2) for one in heavy), rotors=rotors, at=at, layout="quad-plus")
    assert expect(Finding, answer(told, TRIM)).message.startswith("the front must lift 40 %")
    assert isinstance(answer(told, SPLIT), Clear)


def test_what_is_not_asked():
    alone = manifest(QUAD, records={"after_flight_look": "date: 2026-05-17, motors: {others: warm}"})
    some = manifest(QUAD, records={"after_flight_look": "date: 2026-05-17, output_percent: {front-left: 50}"})
    for text in (alone, some, manifest(QUAD)):
        for rule in (SPLIT, TRIM):
            assert answer(text, rule) == NotApplicable("no look after a flight notes the outputs of every rotor")
    unsaid = noted(50, 50, 50, 50, rotors="")
    assert isinstance(answer(unsaid, SPLIT), NotApplicable)
    assert isinstance(answer(unsaid, TRIM), Clear)
    still = noted(0, 0, 0, 0)
    assert {type(answer(still, rule)) for rule in (SPLIT, TRIM)} == {NotApplicable}
    one_spin = noted(0, 50, 50, 0)
    assert isinstance(answer(one_spin, SPLIT), NotApplicable)


def test_work_ends_what_the_outputs_tell():
    work = "date: 2026-05-18, kind: replaced, part: prop, at: front-left"
    for rule in (SPLIT, TRIM):
        told = expect(Unproven, answer(noted(62, 45, 45, 62, log=[work]), rule))
        assert (told.cause, told.record) == ("stale", "after_flight_look")


def test_places_in_millimetres_of_some_rotors_only_are_not_mixed_with_arm_lengths():
    some = QUAD.replace("{at: front-left", "{at: front-left, place_mm: [180, -180, 0]", 1)
    assert some != QUAD
    told = expect(Unproven, answer(noted(62, 62, 45, 45, rotors=some), TRIM))
    assert "place_mm" in told.message
