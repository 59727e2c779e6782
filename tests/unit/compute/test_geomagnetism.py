"""How far a disturbance turns a compass, against a brute search over headings and tilts; and refusals."""

from concurrent.futures import ThreadPoolExecutor

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from preflint.compute.geomagnetism import deviation_deg, geomagnetic_field, heading_error_deg, horizontal_disturbance_ut

component = st.floats(-60, 60).map(lambda value: round(value, 3))


def turned_most(horizontal_disturbance, horizontal_field):
    """Greatest angle between the field and the field plus a vector of that length in any direction."""
    way = np.radians(np.linspace(0, 360, 14401))
    seen = horizontal_field + horizontal_disturbance * np.exp(1j * way)
    return np.degrees(np.abs(np.angle(seen))).max()


def horizontal_most(disturbance, tilt_deg):
    """Greatest horizontal part over tilts about every horizontal line, by rotating the vector."""
    about, tilt = np.meshgrid(np.radians(np.linspace(0, 360, 721)), np.radians(np.linspace(0, tilt_deg, 26)))
    about, tilt = about.reshape(-1, 1), tilt.reshape(-1, 1)
    lines = np.hstack([np.cos(about), np.sin(about), np.zeros_like(about)])
    turned = (
        disturbance * np.cos(tilt)
        + np.cross(lines, disturbance) * np.sin(tilt)
        + lines * (lines @ disturbance)[:, None] * (1 - np.cos(tilt))
    )
    return float(np.hypot(turned[:, 0], turned[:, 1]).max())


@settings(derandomize=True, deadline=None, max_examples=40)
@given(st.floats(0, 0.98), st.floats(2, 45))
def test_deviation_is_the_worst_over_all_headings(share, horizontal):
    assert deviation_deg(share * horizontal, horizontal) == pytest.approx(
        turned_most(share * horizontal, horizontal), abs=0.02
    )


@pytest.mark.parametrize("share", [1.0, 1.2, 40.0])
def test_a_disturbance_as_large_as_the_field_leaves_no_heading(share):
    assert deviation_deg(share * 20, 20) == 180


def test_a_disturbance_just_below_the_field_is_a_right_angle():
    assert deviation_deg(19.9999999999, 20) == pytest.approx(90, abs=0.001)


@settings(derandomize=True, deadline=None, max_examples=15)
@given(component, component, component, st.sampled_from([0, 10, 25, 60]))
def test_tilt_is_the_worst_over_all_ways_of_tilting(x, y, z, tilt_deg):
    disturbance = np.array([x, y, z])
    length = float(np.linalg.norm(disturbance))
    assert horizontal_disturbance_ut(disturbance, tilt_deg) == pytest.approx(
        horizontal_most(disturbance, tilt_deg), abs=1e-9 + 2e-3 * length
    )


@settings(derandomize=True, deadline=None)
@given(st.tuples(component, component, component), st.tuples(component, component, component))
def test_a_ball_around_the_disturbance_widens_it_by_its_radius_at_most(one, other):
    apart = float(np.linalg.norm(np.subtract(one, other)))
    differ = abs(horizontal_disturbance_ut(one, 25) - horizontal_disturbance_ut(other, 25))
    assert differ <= apart + 1e-9


def test_level_and_tilted_by_hand():
    # 3-4-5 in the plane and nothing vertical: tilting cannot add; asin(5/20) = 14.4775 degrees.
    assert heading_error_deg([3, -4, 0], 20, 0) == pytest.approx(14.477512, abs=1e-6)
    assert heading_error_deg([3, -4, 0], 20, 25) == pytest.approx(14.477512, abs=1e-6)
    # All vertical: nothing level; 8 sin 25° = 3.38095, asin(3.38095/20) = 9.7325 degrees.
    assert heading_error_deg([0, 0, -8], 20, 0) == 0
    assert heading_error_deg([0, 0, -8], 20, 25) == pytest.approx(9.7325, abs=1e-3)


@pytest.mark.parametrize(("arguments", "says"), [
    (([1, 2], 20, 0), "three finite numbers"),
    (([1, 2, float("nan")], 20, 0), "three finite numbers"),
    (([1, 2, 3], 0, 0), "above zero"),
    (([1, 2, 3], float("nan"), 0), "above zero"),
    (([1, 2, 3], 20, 91), "not between 0 and 90"),
    (([1, 2, 3], 20, float("nan")), "not between 0 and 90"),
])
def test_nonsense_is_refused(arguments, says):
    with pytest.raises(ValueError, match=says):
        heading_error_deg(*arguments)


@pytest.mark.parametrize(("arguments", "says"), [
    ((91, 0, 0, 2026), "latitude 91° is not between -90 and 90"),
    ((float("nan"), 0, 0, 2026), "latitude"),
    ((0, 361, 0, 2026), "longitude 361° is not between -180 and 360"),
    ((0, 0, 9e6, 2026), "elevation 9000000 m is not between"),
    ((0, 0, 0, 2019.99), "for 2019.990; those at hand run from 2020.0 to 2030.0"),
    ((0, 0, 0, 2031.5), "no World Magnetic Model at hand for 2031.50"),
    ((0, 0, 0, float("nan")), "no World Magnetic Model at hand"),
])
def test_off_the_globe_or_out_of_time(arguments, says):
    with pytest.raises(ValueError, match=says):
        geomagnetic_field(*arguments)


def test_the_model_changes_at_the_turn_of_2025_without_a_jump():
    before, after = geomagnetic_field(54, -3, 100, 2024.9999), geomagnetic_field(54, -3, 100, 2025.0)
    assert before.u_down_ut != after.u_down_ut
    assert before.total_ut == pytest.approx(after.total_ut, abs=0.3)


def test_many_threads_give_what_one_gives():
    places = [(latitude, longitude) for latitude in range(-80, 81, 20) for longitude in range(-170, 171, 20)]
    geomagnetic_field.cache_clear()
    alone = [geomagnetic_field(latitude, longitude, 0, 2026.0) for latitude, longitude in places]
    geomagnetic_field.cache_clear()
    with ThreadPoolExecutor(8) as pool:
        together = list(pool.map(lambda place: geomagnetic_field(*place, 0, 2026.0), places))
    assert together == alone


def test_both_poles_give_finite_numbers():
    for latitude in (-90, 90):
        field = geomagnetic_field(latitude, 0, 0, 2026)
        assert np.isfinite(field.total_ut)
        assert field.total_ut > 50
