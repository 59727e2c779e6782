"""An accelerometer whose zeros are off leans the compass, too: against a flight controller worked out from vectors.

It takes down to lie against what is shown at rest, east across down and field, and reads its nose between the two.
"""

import math

import numpy as np
import pytest
from making.earth import DOWN_UT, NORTH_UT, directions
from making.manifests import expect, opening

from preflint.api import Clear, Finding, Unproven
from preflint.testing import computed, inspect_text, outcome

SITE = "site: {latitude_deg: 0, longitude_deg: 120, elevation_m: 0}\n"
JUDGED_ON = "2027-07-02"
G = 9.7803  # on the equator
HEAD = (
    f"{opening()}{SITE}every_rotor: {{motor: {{full_throttle_draw_a: 20}}}}\npower_sensing: {{sensor_mv_per_a: 26.4}}\n"
)


def worst_deg(zero, added=(0, 0, 0)):
    """Largest error of heading, level, of a field added in body axes and of such zeros."""
    down = -(np.array([0, 0, -G]) + np.array(zero, dtype=float))
    down /= np.linalg.norm(down)
    worst = 0.0
    for heading in np.radians(np.arange(0, 360, 2)):
        field = np.array([NORTH_UT * math.cos(heading), -NORTH_UT * math.sin(heading), DOWN_UT]) + added
        east = np.cross(down, field)
        north = np.cross(east, down)
        nose = np.array([1.0, 0, 0])
        read = math.atan2(nose @ east / np.linalg.norm(east), nose @ north / np.linalg.norm(north))
        worst = max(worst, abs((math.degrees(read - heading) + 180) % 360 - 180))
    return worst


def flown(zero, added=(0.0, 0.0, 0.0), gain=1.0, checked=False, rested=True, levelled=False, aim=None):
    """A rotation of a compass that adds so much, beside six positions with such zeros; nothing follows the current."""
    ways = math.hypot(NORTH_UT, DOWN_UT) * directions(60)
    soft = f", soft_iron: [[{1 / gain}, 0, 0], [0, {1 / gain}, 0], [0, 0, {1 / gain}]]"
    readings = gain * (ways + added) + np.random.default_rng(7).normal(0, 0.02, ways.shape)
    rows = [[a, gain * NORTH_UT, round(0.001 * (i % 2), 3), round(gain * DOWN_UT + 0.001 * a, 3)]
            for i, a in enumerate((0.0, 5.0, 10.0, 15.0, 20.0, 25.0, 0.0))]
    sides = np.vstack([np.eye(3), -np.eye(3)]) * G + np.array(zero, dtype=float)
    text = (
        f"{HEAD}compass: {{interference_offset_ut_per_a: [0, 0, 0], hard_iron_ut: [0, 0, 0]{soft}}}\nrecords:\n"
        f"  compass_rotation:\n    - date: 2027-06-18\n      field_is: raw\n"
        f"      columns: [field_x_ut, field_y_ut, field_z_ut]\n      rows: {readings.round(3).tolist()}\n"
        "  interference_run:\n    - date: 2027-06-16\n      route: restrained\n      field_is: raw\n"
        "      in_force: {sensor_mv_per_a: 26.4}\n      columns: [current_a, field_x_ut, field_y_ut, field_z_ut]\n"
        f"      rows: {rows}\n  hover: [{{date: 2027-06-17, mean_current_a: 20}}]\n"
    )
    if rested:
        text += (
            "  six_positions:\n    - date: 2027-06-15\n      columns: [accel_x_m_s2, accel_y_m_s2, accel_z_m_s2]\n"
            f"      rows: {sides.round(4).tolist()}\n"
        )
    if checked:
        rows = [[h, h] for h in range(0, 360, 45)]
        text += (
            "  heading_check: [{date: 2027-06-20, reference: {accuracy_deg: 0.1}, "
            f"columns: [true_deg, indicated_deg], rows: {rows}}}]\n"
        )
    if levelled:
        text += "logbook:\n  - {date: 2027-06-25, kind: settings-changed, part: flight-controller, touches: [level]}\n"
    policy = {"preflint.yaml": f"{{preflint: 1, tolerances: {{heading_error_aim_deg: {aim}}}}}\n"} if aim else {}
    return inspect_text(text, JUDGED_ON, files=policy)


def total(seen):
    return computed(seen, "total_deviation_deg", "hover-level")


@pytest.mark.parametrize("zero", [(0, 0, 0), (0.5, 0, 0), (0, 0.6, 0), (-0.4, -0.4, 0), (0, 0, 0.6), (0.4, -0.4, 0.2)])
@pytest.mark.parametrize("added", [(0, 0, 0), (2, 1, 0), (-2, 2, 1)])
def test_the_lean_adds_to_hard_iron_with_its_sign(zero, added):
    """Zeros of some tenths of m/s², as real ones are: 3.5° of lean, 0.9° of heading here."""
    assert total(flown(zero, added)).value == pytest.approx(worst_deg(zero, added), abs=0.1)


def test_a_matrix_comes_before_it():
    """With a field shown twice as strong and halved by the matrix, the same lean has the same effect."""
    twice = total(flown((0.6, 0, 0), (2, 0, 0), gain=2.0)).value
    assert twice == pytest.approx(total(flown((0.6, 0, 0), (2, 0, 0))).value, abs=0.03)


def test_the_doubt_of_the_zeros_counts():
    with_it, without = total(flown((0, 0, 0))), total(flown((0, 0, 0), rested=False))
    assert with_it.standard_uncertainty > without.standard_uncertainty


def test_a_level_heading_check_has_it_in_its_readings():
    assert total(flown((1.5, 0, 0), checked=True)).value == pytest.approx(total(flown((0, 0, 0), checked=True)).value)


ALL_OF_IT = "compass/total-deviation"


def test_an_outdated_lean_that_would_matter_is_asked_for_in_full():
    """6 µT of hard iron turn by 8.6°; 1.5 m/s² of zero lean by 8.7° and turn by some 2° more."""
    told = expect(Unproven, outcome(flown((-1.5, 0, 0), (6, 0, 0), levelled=True), ALL_OF_IT))
    assert told.message == "the six positions of 2027-06-15 are outdated; their lean turned the compass by 2.3°"
    assert told.do == (
        "rest the aircraft on each of its six sides, motors still, and write the accelerations of each in six_positions"
    )
    assert told.place.pointer == "/records/six_positions/0"
    assert (told.cause, told.record) == ("stale", "six_positions")


def test_an_outdated_lean_that_does_not_matter_is_told():
    said = "; a lean is left out, since the six positions of 2027-06-15 are outdated"
    # 2.3° beside 3 µT, 4.3°; or hardly any beside 6 µT.
    for zero, added in (((1.5, 0, 0), (3, 0, 0)), ((0.1, 0, 0), (6, 0, 0))):
        assert said in expect(Clear, outcome(flown(zero, added, levelled=True), ALL_OF_IT)).evidence
    for kept in (flown((0.1, 0, 0), (6, 0, 0)), flown((0, 0, 0), (6, 0, 0), rested=False)):
        assert "lean" not in expect(Clear, outcome(kept, ALL_OF_IT)).evidence


def test_an_outdated_lean_is_no_cause_of_what_is_found():
    """1 µT of hard iron turns by asin(1/40) = 1.4°, by a club that aims at half a degree; the zeros are gone."""
    found = expect(Finding, outcome(flown((1.5, 0, 0), (1, 0, 0), levelled=True, aim=0.5), f"{ALL_OF_IT}-aim"))
    assert "accelerometer" not in f"{found.do} {found.evidence}"


def test_the_same_lean_that_still_counts_is_in_the_sum():
    assert total(flown((-1.5, 0, 0), (6, 0, 0))).value > total(flown((-1.5, 0, 0), (6, 0, 0), levelled=True)).value
