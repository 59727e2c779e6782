"""Outputs in a hover: full texts, both sides of each limit, missing input; and nothing changes with the view."""

import math

import pytest
from making.manifests import QUAD, answer, expect, manifest

from preflint.api import Clear, Finding, NotApplicable, Unproven
from preflint.findings.outcome import CAUTION
from preflint.testing import inspect_text, marked

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


def test_a_large_split_is_told_to_the_percent():
    assert "work 80 % harder" in expect(Finding, answer(noted(72, 40, 40, 72), SPLIT)).message
    assert "work 80 % harder" in expect(Finding, answer(noted(40, 72, 72, 40), SPLIT)).message


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


BOTH = "after_flight/outputs-and-balance"


def weighed(forward, *outputs, columns="forward_mm, mass_g", rows=None):
    """A square quad with rotors 212.1 mm ahead and behind, its weight so far forward by the scales."""
    front = 975 * (1 + forward / 200)
    told = ", ".join(f"{name}: {value}" for name, value in zip(AT, outputs, strict=True))
    return manifest(QUAD, more="arm_mm: 300, takeoff_mass_g: 1950", records={
        "balance_point": f"date: 2026-05-16, columns: [{columns}], "
        f"rows: {rows or f'[[200, {front:.0f}], [-200, {1950 - front:.0f}]]'}",
        "after_flight_look": f"date: 2026-05-17, motors: {{others: warm}}, output_percent: {{{told}}}",
    })  # fmt: skip


def test_a_heavy_nose_and_a_tail_that_works_harder_in_full():
    """(48² - 55²)/(48² + 55²) = -0.135 of 212.1 mm: 29 mm back; 30 mm forward by the scales: 59 of 212 mm, 28 %."""
    text = weighed(30, 48, 48, 55, 55)
    found = expect(Finding, answer(text, BOTH))
    assert found.message == "the outputs put the weight 29 mm back, the scales 30 mm forward"
    assert found.evidence == (
        "by the outputs after the flight on 2026-05-17 the weight acts 29 mm back; balance point of 2026-05-16: 30 mm "
        "forward of the centre of the rotors, taken as centred from left to right, 1950 g in all; what lies between "
        "adds 28 ± 4 % of the mean thrust at an end, at most 20 %"
    )
    assert found.do == (
        "look at the signs of the balance point, and which motor each output turns; then for a weak motor or a worn "
        "prop where the outputs are highest"
    )
    assert found.related[0].message == "the balance point"
    assert marked(text, found.place) == "48"
    assert [one.rule.severity for one in inspect_text(text).results if one.rule.id == BOTH] == [CAUTION]


@pytest.mark.parametrize(("forward", "kind"), [
    (-29, Clear), (0, Clear), (13, Unproven), (20, Unproven), (25, Finding),
    (-58, Clear), (-72, Unproven), (-85, Finding),
])  # fmt: skip
def test_both_sides_of_what_lies_between(forward, kind):
    """29 mm back by the outputs; 20 % are 42.4 mm either way; ± 4 % of the mean thrust are 9 mm or so."""
    expect(kind, answer(weighed(forward, 48, 48, 55, 55), BOTH))


def test_left_and_right_are_compared_where_the_scales_tell_both():
    """Outputs of 55 on the left put it 29 mm left; the scales put it 40 mm right."""
    three = "[[200, 0, 975], [-200, -100, 97.5], [-200, 100, 877.5]]"
    text = weighed(0, 55, 48, 55, 48, columns="forward_mm, right_mm, mass_g", rows=three)
    assert expect(Finding, answer(text, BOTH)).message == (
        "the outputs put the weight 29 mm left, the scales 40 mm right"
    )
    expect(Clear, answer(weighed(0, 55, 48, 55, 48), BOTH))


def test_not_asked_without_outputs_or_scales():
    expect(NotApplicable, answer(noted(48, 48, 55, 55), BOTH))
    expect(NotApplicable, answer(weighed(30, 0, 0, 0, 0), BOTH))


def test_outputs_as_parts_of_one():
    text = weighed(0, 0.58, 0.57, 0.2, 0.58)
    told = expect(Unproven, answer(text, SPLIT))
    assert told.message == "no output is more than 1 %: they may be parts of one"
    assert told.do == "write output_percent in per cent of full: 58 for 0.58"
    for rule in (TRIM, BOTH):
        assert expect(NotApplicable, answer(text, rule)).because == "the outputs may be parts of one: see output-split"


def test_rotors_in_one_line_tell_nothing_across_it():
    """Left and right of the centre alone; the scales tell only where the weight lies forward."""
    beside = {"left": "spin: cw, place_mm: [5, -250, 0]", "right": "spin: ccw, place_mm: [-5, 250, 0]"}
    records = {
        "balance_point": "date: 2026-05-16, columns: [forward_mm, mass_g], rows: [[200, 1125], [-200, 825]]",
        "after_flight_look": "date: 2026-05-17, motors: {others: warm}, output_percent: {left: 48, right: 48}",
    }
    one_line = manifest(rotors=beside, layout="custom", records=records)
    assert answer(one_line, "after_flight/outputs-and-balance") == NotApplicable("all rotors stand in one line")
