"""Signs and units of a run against least squares by hand, for aircraft turned, mirrored, and logged in other units.

The oracle is ``numpy.linalg.lstsq`` on the rows and the horizontal field of WMM2025's test values; nothing of ours.
"""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from making.earth import DOWN_UT, NORTH_UT
from making.manifests import opening

from preflint.api import Finding
from preflint.testing import computed, inspect_text, outcome

HOVER_A, FULL_A = 20.0, 60.0
AMPERES = np.array([0.02, 7.01, 13.0, 20.0, 26.01, 12.0, 0.01])
SECONDS = np.array([0.0, 11, 19, 32, 40, 53, 60])
TURNS = {
    "as it is": np.eye(3),
    "quarter right": np.array([[0.0, -1, 0], [1, 0, 0], [0, 0, 1]]),
    "half": np.diag([-1.0, -1, 1]),
    "quarter left": np.array([[0.0, 1, 0], [-1, 0, 0], [0, 0, 1]]),
    "mirrored": np.diag([1.0, -1, 1]),
}

small = st.floats(-0.2, 0.2).map(lambda value: round(value, 4))
# Not across the horizontal field, where a turn of the aircraft would explain it, however the compass is turned.
vectors = (
    st.tuples(small, small, small)
    .filter(lambda v: min(math.hypot(v[0], v[2]) - 0.3 * abs(v[1]), math.hypot(v[1], v[2]) - 0.3 * abs(v[0])) >= 0)
    .map(np.array)
)
noises = st.lists(st.floats(-0.05, 0.05), min_size=21, max_size=21).map(lambda values: np.reshape(values, (7, 3)))


def rows(made, noise, added=(0.0, 0.0, 0.0), drift=(0.0, 0.0, 0.0)):
    """The log of an aircraft that heads north, forward, right, down in µT; a compensated one has ``added``."""
    earth = np.array([NORTH_UT, 0.0, DOWN_UT])
    return earth + np.outer(AMPERES, np.add(made, added)) + np.outer(SECONDS / 60, drift) + noise


def by_hand(field, times=False):
    """Slope in µT/A, by least squares."""
    columns = [np.ones(7), AMPERES] + [SECONDS] * times
    return np.linalg.lstsq(np.column_stack(columns), field, rcond=None)[0][1]


def plain(values):
    return f"[{', '.join(f'{value:.6f}' for value in values)}]"


def seen(field, offset, *, times=False, kind="raw", added=None, unit="ut", then=26.4, now=26.4, shown=AMPERES):
    """The inspection of an aircraft with such a log."""
    values = [SECONDS] * times + [shown, *(field / (1.0 if unit == "ut" else 0.1)).T]
    names = ["time_s"] * times + ["current_a", *(f"field_{axis}_{unit}" for axis in "xyz")]
    table = ", ".join(plain(row) for row in np.column_stack(values))
    force = "" if added is None else f", hard_iron_ut: [0, 0, 0], interference_offset_ut_per_a: {plain(added)}"
    return inspect_text(
        f"{opening()}"
        "site: {latitude_deg: 0, longitude_deg: 120, elevation_m: 0}\n"
        f"every_rotor: {{motor: {{full_throttle_draw_a: {FULL_A / 4}}}}}\npower_sensing: {{sensor_mv_per_a: {now}}}\n"
        f"compass: {{hard_iron_ut: [0, 0, 0], interference_offset_ut_per_a: {plain(offset)}}}\nrecords:\n"
        f"  interference_run:\n    - date: 2027-06-16\n      route: restrained\n      field_is: {kind}\n"
        f"      in_force: {{sensor_mv_per_a: {then}{force}}}\n      columns: [{', '.join(names)}]\n"
        f"      rows: [{table}]\n"
        f"  hover:\n    - {{date: 2027-06-17, mean_current_a: {HOVER_A}, in_force: {{sensor_mv_per_a: {now}}}}}\n",
        "2027-07-02",
    )


def slope(inspected):
    return np.array([computed(inspected, "interference_ut_per_a", axis).value for axis in "xyz"])


def level_error(inspected, kind="raw"):
    return computed(inspected, "heading_error_deg", f"{kind}-hover-level").value


def true_level_error(left):
    across = math.hypot(left[0], left[1]) * HOVER_A / NORTH_UT
    return math.degrees(math.asin(across)) if across < 1 else 180.0


@settings(derandomize=True, deadline=None, max_examples=20)
@given(made=vectors, noise=noises, drift=vectors, times=st.booleans())
def test_the_slope_is_that_of_least_squares(made, noise, drift, times):
    field = rows(made, noise, drift=drift)
    assert slope(seen(field, -made, times=times)) == pytest.approx(by_hand(field, times), abs=2e-5)


@settings(derandomize=True, deadline=None, max_examples=15)
@given(made=vectors, installed=vectors, noise=noises)
def test_an_aircraft_turned_or_mirrored_with_its_readings(made, installed, noise):
    field = rows(made, noise)
    left = by_hand(field) + installed
    before = None
    for turn in TURNS.values():
        inspected = seen(field @ turn.T, turn @ installed)
        assert slope(inspected) == pytest.approx(turn @ by_hand(field), abs=2e-5)
        assert level_error(inspected) == pytest.approx(true_level_error(left), abs=0.25)
        answers = [type(outcome(inspected, f"interference/{rule}")) for rule in ("heading-error", "offset-sign")]
        assert before in (None, answers)
        before = answers


@settings(derandomize=True, deadline=None, max_examples=15)
@given(made=vectors, installed=vectors, noise=noises)
def test_readings_turned_but_not_the_offset_are_another_aircraft(made, installed, noise):
    turn = TURNS["quarter right"]
    field = rows(made, noise) @ turn.T
    left = turn @ by_hand(rows(made, noise)) + installed
    assert level_error(seen(field, installed)) == pytest.approx(true_level_error(left), abs=0.25)


@settings(derandomize=True, deadline=None, max_examples=15)
@given(made=vectors, installed=vectors, noise=noises, times=st.booleans())
def test_milligauss_are_a_tenth_of_a_microtesla(made, installed, noise, times):
    field = rows(made, noise)
    in_ut, in_mgauss = (seen(field, installed, times=times, unit=unit) for unit in ("ut", "mgauss"))
    assert slope(in_mgauss) == pytest.approx(slope(in_ut), abs=2e-5)
    assert level_error(in_mgauss) == pytest.approx(level_error(in_ut), abs=0.05)


@settings(derandomize=True, deadline=None, max_examples=20)
@given(made=vectors, installed=vectors, added=vectors, noise=noises)
def test_a_compensated_log_has_the_offset_in_it(made, installed, added, noise):
    field = rows(made, noise, added=added)
    left = by_hand(field) - added + installed
    inspected = seen(field, installed, kind="compensated", added=added)
    assert level_error(inspected, "compensated") == pytest.approx(true_level_error(left), abs=0.25)


@settings(derandomize=True, deadline=None, max_examples=20)
@given(made=vectors, noise=noises, scale=st.floats(0.5, 2))
def test_amperes_shown_go_the_other_way_from_the_scale(made, noise, scale):
    # The same millivolts, shown by another scale then: amperes × 26.4 / then; field for each ampere × then / 26.4.
    then = round(26.4 * scale, 3)
    field = rows(made, noise)
    shown = AMPERES * 26.4 / then
    installed = -made * 1.2
    inspected = seen(field, installed, then=then, shown=shown)
    assert slope(inspected) == pytest.approx(by_hand(field) * then / 26.4, abs=5e-5)
    # Judged by the amperes shown now, the run says what it says with the scale that is set now.
    as_now = by_hand(field) + installed
    assert level_error(inspected) == pytest.approx(true_level_error(as_now), abs=0.25)


@settings(derandomize=True, deadline=None, max_examples=20)
@given(made=vectors, noise=noises)
def test_the_offset_that_is_offered_is_the_opposite_of_the_slope(made, noise):
    field = rows(made, noise)
    told = outcome(seen(field, 3 * made + 0.3), "interference/heading-error")
    if isinstance(told, Finding):
        offered = np.array([float(v) for v in told.do.split("_a to [")[1].split("]")[0].split(",")])
        assert offered == pytest.approx(-by_hand(field), abs=1e-4)
