"""The sum of the scales against the take-off mass: full text, both sides, input missing."""

import pytest
from making.manifests import answer, expect, manifest

from preflint.api import Clear, Finding, NotApplicable
from preflint.testing import marked

RULE, PLAUSIBLE = "mass/weighed", "power_sensing/mass-plausible"


def weighed(takeoff, *grams, logbook=()):
    rows = ", ".join(f"[{at}, {one}]" for at, one in zip((140, -140, 0), grams, strict=False))
    scales = f"date: 2026-05-16, columns: [forward_mm, mass_g], rows: [{rows}]"
    mass = f"takeoff_mass_g: {takeoff}" if takeoff else ""
    return manifest(records={"balance_point": scales} if grams else {}, more=mass, logbook=logbook)


def test_balanced_without_its_camera_in_full():
    text = weighed(1950, 805, 745)
    found = expect(Finding, answer(text, RULE))
    assert found.message == "the scales carried 1550 g, but it takes off with 1950 g"
    assert found.evidence == "1550 g on the scales on 2026-05-16, take-off mass 1950 g: -20.5 %, at most 3 %"
    assert found.do == (
        "weigh it ready to fly, with pack and payload; correct takeoff_mass_g, or balance it again as it flies"
    )
    assert [marked(text, one.place) for one in found.related] == ["1950"]


@pytest.mark.parametrize(("sum_g", "expected"), [(2060, Clear), (2061, Finding), (1940, Clear), (1939, Finding)])
def test_both_sides_of_three_per_cent(sum_g, expected):
    expect(expected, answer(weighed(2000, 1000, sum_g - 1000), RULE))


def test_masses_of_two_aircraft_are_told_by_the_other_rule():
    text = weighed(19500, 1105, 845)
    expect(NotApplicable, answer(text, RULE))
    found = expect(Finding, answer(text, PLAUSIBLE))
    assert found.message == "the take-off mass is 19500 g, but the scales under it carried 1950 g"
    assert found.evidence == "take-off mass 19500 g, scales of 2026-05-16 1950 g; at most 2.5 times each other"
    expect(NotApplicable, answer(weighed(1950, 1105, 845), "power_sensing/hover-mass"))


@pytest.mark.parametrize(("takeoff", "expected"), [(4875, Clear), (4876, Finding)])
def test_both_sides_of_the_factor(takeoff, expected):
    expect(expected, answer(weighed(takeoff, 1105, 845), PLAUSIBLE))


def test_input_missing():
    expect(NotApplicable, answer(weighed(None, 1105, 845), RULE))
    expect(NotApplicable, answer(weighed(1950), RULE))


def test_scales_before_the_new_payload_tell_nothing():
    text = weighed(1950, 805, 745, logbook="date: 2026-05-18, kind: fitted, part: payload")
    expect(NotApplicable, answer(text, RULE))
