"""Verdicts on the compass against a model of field and flight controller that uses nothing of ours.

The compass measures the Earth's field and what the current makes; the flight controller adds its offset for
each ampere shown. The true heading error is found by trying all headings, never by the formula judged by.
"""

import math

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st
from making.earth import DOWN_UT, NORTH_UT
from making.manifests import manifest

from preflint.api import Clear, Finding
from preflint.testing import computed, inspect_text, outcome

SITE = "site: {latitude_deg: 0, longitude_deg: 120, elevation_m: 0}\n"
JUDGED_ON = "2027-07-02"
HOVER_A, FULL_A = 20.0, 80.0

small = st.floats(-0.2, 0.2).map(lambda value: round(value, 4))
vectors = st.tuples(small, small, small)
# Not across the horizontal field, where a turn of the aircraft would explain it: the nose points north, or east.
unlike_a_turn = vectors.filter(
    lambda v: math.hypot(v[0], v[2]) >= 0.3 * abs(v[1]) and math.hypot(v[1], v[2]) >= 0.3 * abs(v[0])
)


def logged(made, added, amperes):
    """What a log shows in body axes, the aircraft level and heading north: forward, right, down.

    The last digit flutters, as that of any sensor does.
    """
    field = np.array([NORTH_UT, 0.0, DOWN_UT])
    return [
        [2 * a, a, *(round(float(v) + 0.0001 * (i % 2), 4) for v in field + (np.array(made) + added) * a)]
        for i, a in enumerate(amperes)
    ]


def recorded(made, installed, kind="raw", then=(0.0, 0.0, 0.0), sensor=(26.4, 26.4)):
    rows = logged(made, np.array(then) if kind == "compensated" else np.zeros(3), (0.01, 5.02, 10, 15.01, 20, 25, 0))
    force = f", hard_iron_ut: [0, 0, 0], interference_offset_ut_per_a: {list(then)}" if kind == "compensated" else ""
    entry = (
        f"date: 2027-06-16\nroute: restrained\nfield_is: {kind}\nin_force: {{sensor_mv_per_a: {sensor[0]}{force}}}\n"
        f"columns: [throttle_percent, current_a, field_x_ut, field_y_ut, field_z_ut]\nrows: {rows}\n"
    )
    return manifest(
        f"{SITE}every_rotor: {{motor: {{full_throttle_draw_a: {FULL_A / 4}}}}}\n"
        f"power_sensing: {{sensor_mv_per_a: {sensor[1]}}}\n"
        f"compass: {{hard_iron_ut: [0, 0, 0], interference_offset_ut_per_a: "
        f"[{', '.join(f'{v:.6f}' for v in installed)}]}}\n",
        records={"interference_run": entry, "hover": f"date: 2027-06-17, mean_current_a: {HOVER_A}"},
    )


def worst_heading_error_deg(disturbance):
    """Level: the largest difference between true and indicated heading over all headings, by trying them."""
    heading = np.radians(np.arange(0, 360, 0.25))
    forward = NORTH_UT * np.cos(heading) + disturbance[0]
    right = -NORTH_UT * np.sin(heading) + disturbance[1]
    error = (np.arctan2(-right, forward) - heading + math.pi) % (2 * math.pi) - math.pi
    return float(np.max(np.abs(np.degrees(error))))


@settings(derandomize=True, deadline=None, max_examples=25)
@given(made=unlike_a_turn, installed=vectors)
def test_the_heading_error_is_that_of_trying_all_headings(made, installed):
    seen = inspect_text(recorded(made, installed), JUDGED_ON)
    left = np.array(made) + np.array(installed)
    for case, current in (("hover", HOVER_A), ("full", FULL_A)):
        true = worst_heading_error_deg(left * current)
        assert abs(computed(seen, "heading_error_deg", f"raw-{case}-level").value - true) < 0.35
    worst = max(worst_heading_error_deg(left * a) for a in (HOVER_A, FULL_A))
    told = outcome(seen, "interference/heading-error")
    if worst > 10.5:  # level alone; tilted it is no less
        assert isinstance(told, Finding)
    if np.linalg.norm(left) * FULL_A < 0.98 * NORTH_UT * math.sin(math.radians(10)):  # whatever the tilt
        assert isinstance(told, Clear)


@settings(derandomize=True, deadline=None, max_examples=25)
@given(made=unlike_a_turn)
def test_the_opposite_clears_and_its_mirror_image_has_the_wrong_sign(made):
    right, wrong = (recorded(made, sign * np.array(made)) for sign in (-1, 1))
    seen = inspect_text(right, JUDGED_ON)
    for rule in ("heading-error", "heading-error-aim", "offset-sign"):
        assert isinstance(outcome(seen, f"interference/{rule}"), Clear)
    if np.linalg.norm(made) > 0.01:
        assert isinstance(outcome(inspect_text(wrong, JUDGED_ON), "interference/offset-sign"), Finding)


@settings(derandomize=True, deadline=None, max_examples=25)
@given(made=unlike_a_turn, then=vectors, installed=vectors)
def test_a_compensated_log_says_what_a_raw_one_says(made, then, installed):
    raw = inspect_text(recorded(made, installed), JUDGED_ON)
    compensated = inspect_text(recorded(made, installed, "compensated", then), JUDGED_ON)
    for load in ("hover-level", "hover-tilted", "full-level", "full-tilted"):
        one = computed(raw, "heading_error_deg", f"raw-{load}").value
        other = computed(compensated, "heading_error_deg", f"compensated-{load}").value
        assert abs(one - other) < 0.1 or max(one, other) > 80  # near the end of the arcsine small things grow
    for rule in ("heading-error", "heading-error-aim", "offset-sign"):
        answers = {type(outcome(seen, f"interference/{rule}")) for seen in (raw, compensated)}
        near_a_limit = any(
            abs(computed(raw, "heading_error_deg", f"raw-{load}").value - limit) < 0.3
            for load in ("full-level", "full-tilted")
            for limit in (5, 10)
        )
        assert len(answers) == 1 or near_a_limit


@settings(derandomize=True, deadline=None, max_examples=25)
@given(made=unlike_a_turn, installed=vectors, scale=st.floats(0.5, 2))
def test_the_offset_that_is_offered_leaves_nothing_over(made, installed, scale):
    now = round(26.4 * scale, 3)
    told = outcome(inspect_text(recorded(made, installed, sensor=(26.4, now)), JUDGED_ON), "interference/heading-error")
    if not isinstance(told, Finding):
        return
    offered = np.array([float(v) for v in told.do.split("_a to [")[1].split("]")[0].split(",")])
    # The same sensor shows 26.4 / now of the amperes it showed then.
    assert np.allclose(offered * 26.4 / now, -np.array(made), atol=0.0006)


@settings(derandomize=True, deadline=None, max_examples=15)
@given(made=unlike_a_turn, installed=vectors)
def test_turning_or_mirroring_the_compass_changes_no_verdict(made, installed):
    def kinds(turn):
        text = recorded(tuple(turn @ np.array(made)), turn @ np.array(installed))
        seen = inspect_text(text, JUDGED_ON)
        return [type(outcome(seen, f"interference/{rule}")) for rule in ("heading-error", "offset-sign")]

    quarter = np.array([[0.0, -1, 0], [1, 0, 0], [0, 0, 1]])
    mirror = np.diag([1.0, -1, 1])
    assert kinds(np.eye(3)) == kinds(quarter) == kinds(mirror)
