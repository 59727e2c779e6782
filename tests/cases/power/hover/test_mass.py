"""Masses that are not of one aircraft, and hovers at another mass: full texts, both sides of each limit."""

import pytest
from making.manifests import MOTORS, answer, expect, manifest

from preflint.api import Clear, Finding, NotApplicable, Unproven
from preflint.testing import computed, inspect_text, marked

PLAUSIBLE, HOVER = "power_sensing/mass-plausible", "power_sensing/hover-mass"


def weighed(takeoff, hovered, *sections, **more):
    records = {"hover": f"date: 2026-05-17, takeoff_mass_g: {hovered}"} if hovered else {}
    return manifest(*sections, records=records, more=f"takeoff_mass_g: {takeoff}" if takeoff else "", **more)


def test_a_nought_too_many_in_full():
    text = weighed(15000, 1500)
    found = expect(Finding, answer(text, PLAUSIBLE))
    assert found.message == "the take-off mass is 15000 g, but the aircraft hovered with 1500 g"
    assert found.evidence == "take-off mass 15000 g, hover of 2026-05-17 1500 g; at most 2.5 times each other"
    assert found.do == "weigh the aircraft ready to fly, and correct whichever mass is wrong"
    assert marked(text, found.place) == "15000"
    assert [marked(text, one.place) for one in found.related] == ["1500"]
    expect(NotApplicable, answer(text, HOVER))


@pytest.mark.parametrize(("takeoff", "expected"), [
    (3750, Clear), (3751, Finding), (600, Clear), (599, Finding),
])  # fmt: skip
def test_both_sides_of_the_factor(takeoff, expected):
    expect(expected, answer(weighed(takeoff, 1500), PLAUSIBLE))


ROTORS = "every_rotor: {motor: {mass_g: 92}, prop: {mass_g: 20}}\n"
PACKS = "packs: [{label: A1, mass_g: 600}, {label: A2, mass_g: 552}]\n"


# 4 · (92 + 20) + 552 = 1000 g; 1000/1.02 = 980.4 g.
@pytest.mark.parametrize(("takeoff", "expected"), [(981, Clear), (980, Finding)])
def test_parts_that_weigh_more_than_the_whole(takeoff, expected):
    told = expect(expected, answer(weighed(takeoff, None, ROTORS, PACKS), PLAUSIBLE))
    if expected is Finding:
        assert told.message == "the take-off mass is 980 g, but its parts alone weigh 1000 g"


def test_parts_heavier_by_just_what_is_allowed_are_no_fault():
    """4 · (92 + 20) + 572 = 1020 g, 2 % more than 1000 g and no more."""
    told = expect(Clear, answer(weighed(1000, None, ROTORS, PACKS.replace("mass_g: 552", "mass_g: 572")), PLAUSIBLE))
    assert told.evidence == "parts recorded 1020 g"


def test_a_pack_of_no_recorded_mass_may_be_the_lightest():
    told = expect(Clear, answer(weighed(500, None, ROTORS, PACKS.replace(", mass_g: 552", "")), PLAUSIBLE))
    assert told.evidence == "parts recorded 448 g"


@pytest.mark.parametrize(("takeoff", "hovered"), [(None, 1500), (1500, None), (None, None)])
def test_input_missing(takeoff, hovered):
    expect(NotApplicable, answer(weighed(takeoff, hovered), PLAUSIBLE))
    expect(NotApplicable, answer(weighed(takeoff, hovered), HOVER))


def test_a_lighter_hover_in_full():
    text = weighed(1650, 1500)
    found = expect(Finding, answer(text, HOVER))
    assert found.message == "the hover was flown 9 % lighter than the aircraft takes off"
    # 1.1^1.5 = 1.1537
    assert found.evidence == (
        "hover of 2026-05-17 with 1500 g, take-off mass 1650 g: -9.1 %, at most 5 %; its current is taken 1.15 times"
    )
    assert found.do == "weigh the aircraft ready to fly; if the mass is right, log a steady hover with it"
    assert marked(text, found.place) == "1500"
    assert [marked(text, one.place) for one in found.related] == ["1650"]


@pytest.mark.parametrize(("hovered", "expected"), [(1950, Clear), (1899, Finding), (2100, Clear), (2101, Finding)])
def test_both_sides_of_the_hovers_mass(hovered, expected):
    expect(expected, answer(weighed(2000, hovered), HOVER))


def test_a_stale_hover_is_not_asked():
    text = weighed(1650, 1500, logbook="date: 2026-05-18, kind: replaced, part: power-sensor")
    expect(NotApplicable, answer(text, HOVER))


def compared(takeoff):
    """A comparison up to 20 A, a hover of 20 A with 2000 g; nine tenths of hover current must be reached."""
    return manifest(
        "power_sensing: {sensor_mv_per_a: 26.4, zero_mv: 512}\n", MOTORS, more=f"takeoff_mass_g: {takeoff}",
        records={
            "current_comparison": "date: 2026-05-16, in_force: {sensor_mv_per_a: 26.4, zero_mv: 512}, "
            "reference: {accuracy_percent: 1, resolution_a: 0.1}, columns: [indicated_a, reference_a], "
            "rows: [[0.0, 0.0], [7.1, 7.0], [13.0, 13.1], [20.0, 20.0]]",
            "hover": "date: 2026-05-17, mean_current_a: 20, takeoff_mass_g: 2000",
        },
    )  # fmt: skip


# 20 A / 0.9 = 22.22 A, which flow at 2000 g · (22.22/20)^(2/3) = 2145.5 g.
@pytest.mark.parametrize(("takeoff", "expected"), [(2000, Clear), (2145, Clear), (2147, Unproven)])
def test_a_hover_at_another_mass_vouches_by_the_power_of_one_and_a_half(takeoff, expected):
    told = expect(expected, answer(compared(takeoff), "power_sensing/current-scale"))
    if expected is Unproven:
        assert told.message == (
            "the highest reading is 20.0 A, but hover draws 22.2 A (hover of 2026-05-17 at 2000 g, for 2147 g)"
        )


def test_the_power_of_the_hover_stays_that_of_its_own_mass():
    noted = compared(2147).replace("mean_current_a: 20,", "mean_current_a: 20, mean_voltage_v: 15,")
    assert computed(inspect_text(noted), "hover_power_w").value == 300
