"""The whole error of the compass against a model of aircraft and flight controller that uses nothing of ours.

The sensor shows M·b + v + made·I in a field b; the flight controller adds h + o·I and multiplies by a matrix. The true
error is found by turning and leaning the aircraft through all headings, never by the formulae judged by.
"""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from making.earth import DOWN_UT, NORTH_UT, directions
from making.manifests import expect, opening

from preflint.api import SETTINGS, Clear, Finding
from preflint.testing import computed, inspect_text, outcome

SITE = "site: {latitude_deg: 0, longitude_deg: 120, elevation_m: 0}\n"
JUDGED_ON = "2027-07-02"
HOVER_A, FULL_A = 20.0, 80.0
LOADS = (("hover", HOVER_A), ("full", FULL_A))
TOTAL, AIM = "compass/total-deviation", "compass/total-deviation-aim"
UNIT = np.eye(3)


def lean(toward_deg, angle_deg):
    """Level axes to body axes of an aircraft whose lowest point is that way: a turn about a horizontal axis."""
    t, a = math.radians(toward_deg), math.radians(angle_deg)
    nose = np.array([[math.cos(t), math.sin(t), 0], [-math.sin(t), math.cos(t), 0], [0, 0, 1]])
    pitch = np.array([[math.cos(a), 0, math.sin(a)], [0, 1, 0], [-math.sin(a), 0, math.cos(a)]])
    return nose.T @ pitch @ nose


def error_deg(heading, fixed, iron=UNIT, body=UNIT):
    """Indicated minus true on headings (n,), so much added in body axes; ``body``: level axes to the aircraft's."""
    turn = np.radians(np.atleast_1d(heading))
    level = np.array([NORTH_UT * np.cos(turn), -NORTH_UT * np.sin(turn), np.full(turn.size, DOWN_UT)])
    x = body.T @ (iron @ body @ level + np.reshape(fixed, (3, 1)))
    return (np.degrees(np.arctan2(-x[1], x[0]) - turn) + 180) % 360 - 180


def worst_deg(fixed, iron=UNIT, angle=0.0):
    leans = [lean(way, angle) for way in np.arange(0, 360, 15)] if angle else [UNIT]
    return max(float(np.abs(error_deg(np.arange(0, 360, 2), fixed, iron, body)).max()) for body in leans)


def head(installed, compass=""):
    return (
        f"{opening()}{SITE}"
        f"every_rotor: {{motor: {{full_throttle_draw_a: {FULL_A / 4}}}}}\npower_sensing: {{sensor_mv_per_a: 26.4}}\n"
        f"compass: {{interference_offset_ut_per_a: [{', '.join(f'{v:.5f}' for v in installed)}]{compass}}}\nrecords:\n"
    )


def run(made):
    rows = [
        [a, *(round(float(v) + 0.0001 * (i % 2), 4) for v in np.array([NORTH_UT, 0, DOWN_UT]) + np.array(made) * a)]
        for i, a in enumerate((0.0, 5.01, 10.02, 15.01, 20.02, 25.01, 0.01))
    ]
    return (
        "  interference_run:\n    - date: 2027-06-16\n      route: restrained\n      field_is: raw\n"
        "      in_force: {sensor_mv_per_a: 26.4}\n      columns: [current_a, field_x_ut, field_y_ut, field_z_ut]\n"
        f"      rows: {rows}\n  hover: [{{date: 2027-06-17, mean_current_a: {HOVER_A}}}]\n"
    )


def checked(headings, fixed, iron=UNIT, turned=0.0, accuracy=0.1):
    rows = [[float(h), round(float(h + error_deg(h, fixed, iron)[0] + turned) % 360, 2) % 360] for h in headings]
    return (
        f"  heading_check: [{{date: 2027-06-20, reference: {{accuracy_deg: {accuracy}}}, "
        f"columns: [true_deg, indicated_deg], rows: {rows}}}]\n"
    )


def rotation(centre, iron=UNIT, kind="raw", then="", count=60, noise=0.05, only=lambda ways: ways):
    field = math.hypot(NORTH_UT, DOWN_UT) * only(directions(count))
    readings = field @ np.array(iron).T + np.array(centre)
    readings = readings + np.random.default_rng(7).normal(0, noise, readings.shape)
    return (
        f"  compass_rotation:\n    - date: 2027-06-18\n      field_is: {kind}\n{then}"
        f"      columns: [field_x_ut, field_y_ut, field_z_ut]\n      rows: {readings.round(3).tolist()}\n"
    )


def ut(most):
    return st.floats(-most, most).map(lambda value: round(value, 3))


irons = st.tuples(*[st.floats(-0.06, 0.06)] * 6).map(
    lambda t: UNIT + np.array([[t[0], t[3], t[4]], [t[3], t[1], t[5]], [t[4], t[5], t[2]]])
)
horizontal = st.tuples(ut(5), ut(5))
# With a vertical part, so that no turn of the aircraft explains it.
per_ampere = st.tuples(ut(0.06), ut(0.06), ut(0.06)).filter(lambda v: abs(v[2]) >= 0.15 * math.hypot(v[0], v[1]))


def agree(seen, true, within):
    """Figures near the truth, and no verdict that the truth contradicts."""
    for case, value in true.items():
        assert computed(seen, "total_deviation_deg", case).value == pytest.approx(value, abs=within)
    most = max(true.values())
    for rule, limit in ((TOTAL, 10), (AIM, 5)):
        told = outcome(seen, rule)
        assert not (isinstance(told, Clear) and most > limit + 0.05)
        leaning = computed(seen, "total_deviation_deg", "full-tilted").value
        assert not (isinstance(told, Finding) and max(most, leaning) < limit - 0.05)


@settings(derandomize=True, deadline=None, max_examples=25)
@given(hard=horizontal, made=per_ampere, count=st.sampled_from([8, 9, 12]), first=st.integers(0, 45))
def test_a_heading_check_and_the_current_add_up_as_vectors(hard, made, count, first):
    headings = [(first + i * 360 / count) % 360 for i in range(count)]
    fixed = np.array([*hard, 0.0])
    seen = inspect_text(head((0, 0, 0)) + checked(headings, fixed) + run(made), JUDGED_ON)
    level = {f"{load}-level": worst_deg(fixed + np.array(made) * a) for load, a in LOADS}
    agree(seen, level, 0.1)
    # Of iron that lies level only the lean of the current's field counts anew: never less than level.
    assert computed(seen, "total_deviation_deg", "full-tilted").value >= level["full-level"] - 0.1


@settings(derandomize=True, deadline=None, max_examples=15)
@given(hard=horizontal, made=per_ampere, iron=irons, count=st.sampled_from([8, 12]), first=st.integers(0, 45))
def test_eight_headings_show_soft_iron_too(hard, made, iron, count, first):
    headings = [(first + i * 360 / count) % 360 for i in range(count)]
    fixed = np.array([*hard, 0.0])
    seen = inspect_text(head((0, 0, 0)) + checked(headings, fixed, iron) + run(made), JUDGED_ON)
    true = {f"{load}-level": worst_deg(fixed + np.array(made) * a, iron) for load, a in LOADS}
    agree(seen, true, 0.6)


@settings(derandomize=True, deadline=None, max_examples=15)
@given(
    hard=horizontal, down=ut(5), made=per_ampere, iron=irons, multiplied=st.one_of(st.just(UNIT), irons),
    wrong=st.tuples(ut(3), ut(3), ut(3)),
)
def test_a_rotation_and_the_current_add_up_as_vectors(hard, down, made, iron, multiplied, wrong):
    """The flight controller adds hard iron and interference first and then multiplies by its matrix."""
    centre, matrix = np.array([*hard, down]), multiplied.round(4)
    added = (np.array(wrong) - centre).round(3)
    compass = f", hard_iron_ut: {added.tolist()}, soft_iron: {matrix.tolist()}"
    text = head((0, 0, 0), compass) + rotation(centre, iron) + run(made)
    seen = inspect_text(text, JUDGED_ON)
    true = {
        f"{load}-{attitude}": worst_deg(matrix @ (np.array(wrong) + np.array(made) * a), matrix @ iron, angle)
        for load, a in LOADS
        for attitude, angle in (("level", 0.0), ("tilted", 25.0))
    }
    agree(seen, true, 0.15)
    for case in ("x", "y", "z"):
        at = "xyz".index(case)
        assert computed(seen, "hard_iron_needed_ut", case).value == pytest.approx(-centre[at], abs=0.1)
    assert computed(seen, "soft_iron_axis_ratio").value == pytest.approx(np.linalg.cond(iron), abs=0.01)


@settings(derandomize=True, deadline=None, max_examples=15)
@given(wrong=st.tuples(ut(12), ut(12), ut(5)), then=st.tuples(ut(9), ut(9), ut(9)), iron=irons)
def test_a_compensated_rotation_says_what_a_raw_one_says(wrong, then, iron):
    """Whatever was in force, and whether it was multiplied afterwards."""
    centre, matrix = np.array([3.0, -7.0, 5.0]), np.linalg.inv(iron).round(4)
    added = (np.array(wrong) - centre).round(3)
    settings_now = f", hard_iron_ut: {added.tolist()}, soft_iron: {matrix.tolist()}"
    in_force = f"      in_force: {{hard_iron_ut: {list(then)}, soft_iron: {matrix.tolist()}}}\n"
    logs = (rotation(centre, iron), rotation(matrix @ (centre + then), matrix @ iron, "compensated", in_force))
    errors, answers = [], []
    for log in logs:
        seen = inspect_text(head((0, 0, 0), settings_now) + log, JUDGED_ON)
        told = outcome(seen, "compass/hard-iron")
        errors.append(float(told.evidence.split("largest heading error ")[1].split("°")[0]))
        answers.append(type(told))
    true = worst_deg(matrix @ np.array([*wrong[:2], wrong[2]]))
    assert errors == pytest.approx([true, true], abs=0.4)
    assert answers[0] is answers[1] or abs(true - 10) < 0.5
    if abs(true - 10) > 0.5:
        assert answers[0] is (Finding if true > 10 else Clear)


@pytest.mark.parametrize("side", [1, -1])
@pytest.mark.parametrize("axis", [0, 1])
def test_hard_iron_and_current_against_each_other_and_with_each_other(axis, side):
    """6° by iron and 6° by the current: nothing over, or 12°. Each sign, forward and right."""
    fixed = np.zeros(3)
    fixed[axis] = side * NORTH_UT * math.sin(math.radians(6))
    for sign, rule, kind in ((-1, TOTAL, Clear), (1, TOTAL, Finding)):
        made = sign * fixed / FULL_A
        made[2] = 0.15 * np.linalg.norm(made)  # so that no turn explains it; level it turns nothing
        seen = inspect_text(head((0, 0, 0)) + checked(range(0, 360, 45), fixed) + run(made), JUDGED_ON)
        assert isinstance(outcome(seen, rule), kind)
        expected = worst_deg(fixed * (1 + sign))
        assert computed(seen, "total_deviation_deg", "full-level").value == pytest.approx(expected, abs=0.1)
    # The offset that the flight controller adds counts as the current's own field does.
    seen = inspect_text(head(-fixed / FULL_A) + checked(range(0, 360, 45), fixed) + run((0, 0, 0)), JUDGED_ON)
    assert computed(seen, "total_deviation_deg", "full-level").value == pytest.approx(0, abs=0.1)


@settings(derandomize=True, deadline=None, max_examples=10)
@given(hard=horizontal, made=per_ampere)
def test_turning_or_mirroring_compass_and_readings_changes_nothing(hard, made):
    def told(turn, heading):
        fixed = turn @ np.array([*hard, 0.0])
        headings = [heading(h) % 360 for h in range(0, 360, 45)]
        text = head((0, 0, 0)) + checked(headings, fixed) + run(turn @ np.array(made))
        seen = inspect_text(text, JUDGED_ON)
        return computed(seen, "total_deviation_deg", "full-level").value, type(outcome(seen, TOTAL))

    quarter = np.array([[0.0, -1, 0], [1, 0, 0], [0, 0, 1]])
    one, turned, mirrored = (
        told(UNIT, lambda h: h),
        told(quarter, lambda h: h - 90),
        told(np.diag([1.0, -1, 1]), lambda h: -h),
    )
    assert one[0] == pytest.approx(turned[0], abs=0.05) == pytest.approx(mirrored[0], abs=0.05)
    assert one[1] is turned[1] is mirrored[1]


@settings(derandomize=True, deadline=None)
@given(a=st.floats(0, 10), b=st.floats(0, 10), alpha=st.floats(0, 360), beta=st.floats(0, 360))
def test_one_cycle_and_two_cycles_add_up_to_no_less_than_either_and_no_more_than_both(a, b, alpha, beta):
    turn = np.radians(np.arange(0, 360, 0.25))
    largest = np.max(np.abs(a * np.sin(turn - math.radians(alpha)) + b * np.sin(2 * (turn - math.radians(beta)))))
    assert max(a, b) - 1e-3 <= largest <= a + b + 1e-9


@pytest.mark.parametrize(("up", "expected"), [(0.0, Clear), (15.8, Clear), (17.0, Finding), (-17.0, Finding)])
def test_a_level_check_does_not_see_vertical_iron_and_a_rotation_does(up, expected):
    """Iron up or down leaves every level heading alone; at 25°, 39.7 sin 10° / sin 25° = 16.3 µT is the limit."""
    check, still = checked((0, 90, 180, 270), np.zeros(3), np.eye(3)), run((0, 0, 0.0002))
    centre = ", hard_iron_ut: [0, 0, 0], soft_iron: [[1, 0, 0], [0, 1, 0], [0, 0, 1]]"
    text = head((0, 0, 0), centre) + check + rotation((0, 0, up), np.eye(3)) + still
    assert isinstance(outcome(inspect_text(text, JUDGED_ON), TOTAL), expected)
    assert isinstance(outcome(inspect_text(text, JUDGED_ON), "compass/hard-iron"), Clear)
    told = outcome(inspect_text(text, JUDGED_ON), TOTAL)
    if isinstance(told, Finding):  # nothing of it is made by the current, so no loaded run is asked for
        assert told.do == f"set hard_iron_ut to [0.0, 0.0, {-up:.1f}], then log a rotation again"
        assert told.mind == SETTINGS
        assert f" rows: hard iron left over [0.0, 0.0, {up:.1f}] µT" in told.evidence


def test_four_headings_hide_soft_iron_and_a_rotation_brings_it_back():
    """Scales of the axes 1.15 to 1: right at north, east, south and west, 4° wrong in between."""
    iron = np.diag([1.15, 1.0, 1.07])
    hard = np.array([0.0, NORTH_UT * math.sin(math.radians(8)), 0.0])
    check = checked((0, 90, 180, 270), hard, iron)
    without = head((0, 0, 0)) + check + run((0, 0, 0.0002))
    centre = f", hard_iron_ut: [0, {hard[1]:.3f}, 0], soft_iron: [[1, 0, 0], [0, 1, 0], [0, 0, 1]]"
    both = head((0, 0, 0), centre) + check + rotation((0, 0, 0), iron) + run((0, 0, 0.0002))
    assert worst_deg(hard, iron) > 10
    told = expect(Finding, outcome(inspect_text(both, JUDGED_ON), TOTAL))
    assert ", tilted 25°: compass " in told.message
    # (1.15 · 1.07)^(1/3) = 1.0716, over 1.15, 1 and 1.07.
    assert told.do.startswith("set hard_iron_ut to [0.0, 0.0, 0.0] and soft_iron to [[0.93")
    assert told.do.endswith("]], then log a rotation again")
    eight = head((0, 0, 0)) + checked(range(0, 360, 45), hard, iron) + run((0, 0, 0.0002))
    assert not isinstance(outcome(inspect_text(eight, JUDGED_ON), TOTAL), Clear)
    assert isinstance(outcome(inspect_text(without, JUDGED_ON), "compass/soft-iron").because, str)
