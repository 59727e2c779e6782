"""Blades against what stands still, and tip speeds: full texts, both sides, missing input."""

import math

import pytest
from making.manifests import PROPPED, answer, expect, manifest

from preflint.api import Clear, Finding, NotApplicable, Unproven
from preflint.testing import computed, inspect_text, marked

TIPS, CONING = "clearance/tips", "clearance/coning"


def gap(mm, inches=12, own=""):
    written = f"tip_gap_mm: {mm}, " if mm is not None else ""
    return manifest(f"every_rotor: {{{written}{own}prop: {{diameter_in: {inches}}}}}\n", PROPPED)


def test_a_blade_near_something_in_full():
    text = gap(1)
    found = expect(Finding, answer(text, TIPS, "front-left"))
    assert found.message == "a blade comes within 1 mm of something"
    assert found.evidence == "gap 1 mm ± 0.6 mm (95 %), at least 3.0 mm"
    assert found.do == "tie back or move what the blades come near, or fit a smaller prop; turn it by hand again"
    assert marked(text, found.place) == "1"
    assert inspect_text(text).verdict == "no-go"
    assert expect(Finding, answer(gap(0), TIPS, "front-left")).message == "a blade touches something"


# One per cent of 12 in is 3.05 mm, read to 0.57 mm; of 2 in 0.51 mm.
@pytest.mark.parametrize(("mm", "inches", "expected"), [
    (2.4, 12, Finding), (2.5, 12, Unproven), (3.6, 12, Unproven), (3.7, 12, Clear), (24, 12, Clear),
    (0.5, 2, Unproven), (1.2, 2, Clear), (5, 30, Finding), (9, 30, Clear),
])
def test_both_sides(mm, inches, expected):
    assert isinstance(answer(gap(mm, inches), TIPS, "rear-right"), expected)


def test_in_a_duct_blades_run_near():
    assert isinstance(answer(gap(0.3, own="ducted: true, "), TIPS, "front-left"), Clear)
    assert isinstance(answer(gap(0, own="ducted: true, "), TIPS, "front-left"), Finding)
    assert isinstance(answer(gap(0.3, own="ducted: true, nut_points: down, "), CONING, "front-left"), NotApplicable)


# A twentieth of 152.4 mm is 7.62 mm, read to 0.57 mm.
@pytest.mark.parametrize(("mm", "expected"), [(7.0, Finding), (7.1, Unproven), (8.1, Unproven), (8.2, Clear)])
def test_blades_below_their_arm(mm, expected):
    assert isinstance(answer(gap(mm, own="nut_points: down, "), CONING, "front-left"), expected)


def test_blades_below_their_arm_in_full():
    found = expect(Finding, answer(gap(5, own="nut_points: down, "), CONING, "front-left"))
    assert found.message == "loaded blades bend toward the arm, which is 5 mm from them"
    assert found.evidence == "gap 5 mm ± 0.6 mm (95 %); tips bend toward the arm by up to 7.6 mm"


def test_which_way_blades_bend():
    """Up in the flight rig, down in the inverted one: toward the arm from below, or from above."""
    turned = PROPPED.replace("face: up", "face: down")
    for one, other in (("hand: cw,", "hand: X,"), ("hand: ccw,", "hand: cw,"), ("hand: X,", "hand: ccw,")):
        turned = turned.replace(one, other)
    for rotors, side, asked in ((PROPPED, "up", False), (PROPPED, "down", True), (turned, "up", True),
                                (turned, "down", False)):  # fmt: skip
        head = f"every_rotor: {{tip_gap_mm: 5, nut_points: {side}, prop: {{diameter_in: 12}}}}\n"
        told = answer(manifest(head, rotors), CONING, "front-left")
        assert isinstance(told, Finding if asked else NotApplicable), (side, asked)


def test_lower_rotors_bend_toward_their_arm_however_they_stand():
    text = manifest("every_rotor: {tip_gap_mm: 5, nut_points: up, prop: {diameter_in: 12}}\n", layout="x8")
    assert isinstance(answer(text, CONING, "rear-left-lower"), Finding)
    assert isinstance(answer(text, CONING, "rear-left-upper"), NotApplicable)


@pytest.mark.parametrize(("rule", "own"), [(TIPS, ""), (CONING, "nut_points: down, ")])
def test_what_is_missing(rule, own):
    assert "tip_gap_mm" in expect(Unproven, answer(gap(None, own=own), rule, "front-left")).message
    without = manifest(f"every_rotor: {{tip_gap_mm: 9, {own.removesuffix(', ')}}}\n", PROPPED)
    assert "diameter_in" in expect(Unproven, answer(without, rule, "front-left")).message
    assert isinstance(answer(gap(20, own=own), rule, "front-left"), Clear)


SPEEDS = {"rotor_speeds": "date: 2026-05-16, throttle_percent: 50, rpm: {front-left: 6000, rear-right: 6100}"}
WHOLE = (
    "site: {temperature_c: 40}\nevery_rotor: {motor: {kv_rpm_per_v: 620}, prop: {diameter_in: 12}}\n"
    "packs: [{label: A1, chemistry: lipo, cells: 3}, {label: A2, chemistry: lipo, cells: 4}]\n"
)


CASES = (("as-recorded",), ("at-most",))


def test_tip_speed_as_recorded_and_at_most():
    seen = inspect_text(manifest(WHOLE, PROPPED, records=SPEEDS))
    sound = math.sqrt(1.4 * 287.05287 * 313.15)  # ISO 2533
    recorded, most = (computed(seen, "tip_speed_m_s", *case) for case in CASES)
    assert recorded.unit == "m/s"
    assert recorded.value == pytest.approx(math.pi * 0.3048 * 6100 / 60, rel=1e-9)
    assert recorded.standard_uncertainty == pytest.approx(recorded.value * 0.01 * (2 / 3) ** 0.5, rel=1e-6)
    assert most.value == pytest.approx(math.pi * 0.3048 * 620 * 16.8 / 60, rel=1e-9)
    assert most.standard_uncertainty is None
    for case, speed in zip(CASES, (recorded, most), strict=True):
        assert computed(seen, "tip_mach", *case).value == pytest.approx(speed.value / sound, rel=1e-6)


@pytest.mark.parametrize("without", [", cells: 4", ", chemistry: lipo, cells: 4"])
def test_packs_whose_full_voltage_is_not_known_bound_nothing(without):
    """The other pack's three cells do: 12.6 V."""
    text = manifest(WHOLE.replace(without, ""), PROPPED)
    most = computed(inspect_text(text), "tip_speed_m_s", *CASES[1])
    assert most.value == pytest.approx(math.pi * 0.3048 * 620 * 12.6 / 60, rel=1e-9)


def test_speeds_of_motors_that_were_exchanged_since_are_no_figure():
    since = "date: 2026-05-18, kind: replaced, part: motor, at: front-left"
    seen = inspect_text(manifest(WHOLE, PROPPED, records=SPEEDS, logbook=since))
    assert {figure.case for figure in seen.computed if figure.quantity == "tip_mach"} == {"at-most"}
