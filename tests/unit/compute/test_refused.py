"""What computations refuse, as their docstrings say: an argument that means nothing never becomes a number."""

import math
from collections.abc import Callable

import numpy as np
import pytest

from preflint.compute.accelerometer import fit_axes
from preflint.compute.after_flight import mean_ratio, output_ratio
from preflint.compute.atmosphere import density_altitude_m, dew_point_c, station_pressure_hpa
from preflint.compute.ellipsoid import fit_ellipsoid
from preflint.compute.energy import cell_under_load_v, hover_current_ratio
from preflint.compute.geomagnetism import deviation_deg
from preflint.compute.gravity import normal_gravity_m_s2
from preflint.compute.hover_throttle import alone_g, by_power_law, by_square_law
from preflint.compute.induced_power import ground_effect_thrust_ratio, overlap_area_m2, overlap_factor
from preflint.compute.least_squares import Indeterminate
from preflint.compute.lift import centre_of_mass, thrust_at_voltage, thrust_in_shared_air
from preflint.compute.ratings import short_time_factor
from preflint.compute.unbalance import (
    angular_speed,
    balance_grade_mm_s,
    centrifugal_force_n,
    permissible_unbalance_g_mm,
    tip_speed_m_s,
)
from preflint.compute.wind import fall_distance_m
from preflint.compute.york import Rows, york
from preflint.compute.zonotope import distance_to_limit


@pytest.mark.parametrize(("asked", "told"), [
    (lambda: output_ratio(0.0), "a share of 0 is not between 0 and 1"),
    (lambda: output_ratio(1.0), "a share of 1 is not between 0 and 1"),
    (lambda: mean_ratio([], [1.0], 0.5), "two means above zero"),
    (lambda: mean_ratio([1.0], [0.0], 0.5), "two means above zero"),
    (lambda: mean_ratio([0.0], [1.0], 0.5), "two means above zero"),
    (lambda: dew_point_c(20.0, 0.0), "relative humidity 0 % is not above 0"),
    (lambda: dew_point_c(20.0, 101.0), "relative humidity 101 % is not above 0"),
    (lambda: density_altitude_m(0.36), "an air density of 0.36 kg/m³"),
    (lambda: density_altitude_m(2.01), "an air density of 2.01 kg/m³"),
    (lambda: station_pressure_hpa(225.0, 0.0), "an air pressure of 225 hPa is not between 226 and 1800"),
    (lambda: hover_current_ratio(0.0), "ratios of mass and density are above zero"),
    (lambda: hover_current_ratio(1.0, 0.0), "ratios of mass and density are above zero"),
    (lambda: cell_under_load_v(16.0, 0.01, 10.0, 0), "a pack has a cell or more"),
    (lambda: deviation_deg(-0.1, 18.0), "a horizontal disturbance is a finite number"),
    (lambda: deviation_deg(math.inf, 18.0), "a horizontal disturbance is a finite number"),
    (lambda: deviation_deg(1.0, 0.0), "the horizontal field must be a finite number"),
    (lambda: normal_gravity_m_s2(90.1), "latitude 90.1° is not between -90 and 90"),
    (lambda: normal_gravity_m_s2(-90.1), "latitude -90.1° is not between -90 and 90"),
    (lambda: normal_gravity_m_s2(0.0, -1001.0), "elevation -1001 m is not between"),
    (lambda: alone_g(100.0, 0.99), "a power factor is 1 or more"),
    (lambda: alone_g(-1.0, 1.0), "a power factor is 1 or more"),
    (lambda: by_square_law(0.0, 1300.0), "a thrust of 0 g is not between 0 and 1300 g"),
    (lambda: by_square_law(1301.0, 1300.0), "a thrust of 1301 g is not between 0 and 1300 g"),
    (lambda: by_power_law(1301.0, 1300.0, 2.0), "a thrust between zero and the greatest"),
    (lambda: by_power_law(1000.0, 1300.0, 0.0), "an exponent above zero"),
    (lambda: overlap_area_m2(0.3, -0.1), "a distance is zero or more"),
    (lambda: overlap_factor(1.1), "an overlap of 1.1 of the disc"),
    (lambda: overlap_factor(-0.1), "an overlap of -0.1 of the disc"),
    (lambda: ground_effect_thrust_ratio(0.2, 0.09), "holds from half a rotor radius"),
    (lambda: thrust_at_voltage(0.0, 2.0), "a share of the voltage"),
    (lambda: thrust_in_shared_air(0.99), "take no less power"),
    (lambda: centre_of_mass([[0.0, 1.0]], [0.0]), "places and masses above zero"),
    (lambda: centre_of_mass([[0.0, 1.0]], [1.0, 1.0]), "places and masses above zero"),
    (lambda: centre_of_mass([0.0, 1.0], [1.0, 1.0]), "places and masses above zero"),
    (lambda: centre_of_mass([[math.inf, 1.0]], [1.0]), "places and masses above zero"),
    (lambda: short_time_factor(-101.0, 100.0), "a wire temperature of -101 °C"),
    (lambda: short_time_factor(20.0, 401.0), "a wire temperature of 401 °C"),
    (lambda: angular_speed(-1.0), "a speed is a finite number"),
    (lambda: angular_speed(math.inf), "a speed is a finite number"),
    (lambda: balance_grade_mm_s(-1.0, 50.0, 8000.0), "an unbalance is zero or more"),
    (lambda: balance_grade_mm_s(1.0, 0.0, 8000.0), "a mass is above zero"),
    (lambda: permissible_unbalance_g_mm(16.0, 50.0, 0.0), "a mass and a speed are above zero"),
    (lambda: centrifugal_force_n(-1.0, 1.0, 8000.0), "a mass and a radius are zero or more"),
    (lambda: centrifugal_force_n(1.0, -1.0, 8000.0), "a mass and a radius are zero or more"),
    (lambda: tip_speed_m_s(0.0, 8000.0), "a diameter is above zero"),
    (lambda: fall_distance_m(-1.0, 30.0), "a speed and a height are zero or more"),
    (lambda: fall_distance_m(10.0, -1.0), "a speed and a height are zero or more"),
])  # fmt: skip
def test_what_means_nothing_is_refused(asked: Callable[[], object], told: str) -> None:
    with pytest.raises(ValueError, match=told):
        asked()


def test_at_the_ends_of_what_they_take_they_answer() -> None:
    assert normal_gravity_m_s2(90.0, 10_000.0) > normal_gravity_m_s2(0.0, 10_000.0) > 9.7
    assert short_time_factor(100.0, 100.0) == 0.0
    assert by_square_law(1300.0, 1300.0) == by_power_law(1300.0, 1300.0, 2.0) == 100.0
    assert overlap_factor(0.0) == 1.0
    assert dew_point_c(20.0, 100.0) == pytest.approx(20.0)


SIDES = 9.81 * np.vstack([np.eye(3), -np.eye(3)])


@pytest.mark.parametrize(("readings", "told"), [
    (SIDES[:5], "5 readings are too few"),
    (SIDES * [1, 1, 0], "an axis shows the same on every side"),
    # One side six times, but for a little: nothing tells zero from scale, or a scale comes out below zero.
    (np.array([[0, 0, 9.8], [0.01, 0, 9.8], [0, 0.01, 9.8], [0, 0, 9.81], [0.01, 0.01, 9.8], [0.01, 0, 9.81]]),
     "do not tell zero from scale"),
    (np.array([[-0.3, 2.9, -2.9], [6.6, 7.2, -0.7], [-10.4, 2.6, -4.5], [12.3, 10.8, -7.0], [12.2, 0.8, -4.0],
               [3.4, -10.1, -12.7], [-1.7, -8.3, -2.0]]), "settle on no zero and scale"),
    (np.array([[-0.5, -1.6, 10], [0.1, -1.2, 9.1], [-0.1, -0.9, 9.7], [0.1, 0, 9.3], [0.6, 0.9, 10.1],
               [-0.8, 0.7, 9.3]]), "not those of one accelerometer"),
])  # fmt: skip
def test_sides_that_tell_no_zero(readings: np.ndarray, told: str) -> None:
    with pytest.raises(Indeterminate, match=told):
        fit_axes(readings, 9.81, 0.02)


# Drawn without a shape (by chance, then to two digits), each ending a fit in its own way.
SCATTERED = [
    ([-1.43, -0.56, -0.87], [-1.25, -0.91, 0.42], [-0.13, 0.79, -0.29], [-1.06, 0.66, 0.52], [-0.54, -1.39, -1.41],
     [-0.16, -1.01, 0.02], [-0.0, -1.17, 0.27], [1.41, -0.92, -0.98], [-2.24, -2.73, -0.99], [2.48, -1.16, -0.29]),
    ([2.93, 1.16, 0.87], [-1.24, -0.52, -1.63], [4.03, -0.81, -0.89], [3.0, -2.78, 3.18], [-0.37, -0.13, 4.53],
     [1.33, 0.43, -1.19], [1.77, -0.33, -0.97], [-2.32, -1.71, 0.43], [-0.68, 1.79, 0.71], [2.8, 2.32, -0.23]),
    ([-0.7, -0.58, -0.1], [0.34, 0.91, -0.26], [0.76, 0.77, 0.14], [1.21, -0.47, -0.85], [0.09, -0.93, -0.06],
     [0.65, 0.81, 0.44], [-0.92, 0.63, -0.29], [0.58, -1.6, -1.28], [-1.13, 0.85, -0.99], [-1.11, 0.93, 0.95],
     [-0.33, 0.93, -0.23], [-0.45, -0.98, 0.35], [1.07, -1.38, 1.51]),
]  # fmt: skip


@pytest.mark.parametrize(("points", "told"), [
    (np.zeros((0, 3)), "no points"),
    (np.ones((20, 3)), "all points are the same"),
    (np.array(SCATTERED[0]), "tell no shape"),
    (np.array(SCATTERED[1]), "settle on no shape"),
    (np.array(SCATTERED[2]), "do not determine an ellipsoid"),
])  # fmt: skip
def test_points_that_tell_no_ellipsoid(points: np.ndarray, told: str) -> None:
    with pytest.raises(Indeterminate, match=told):
        fit_ellipsoid(points)


@pytest.mark.parametrize("size", [1e155, 1e200, 1e300])
def test_numbers_whose_squares_are_none_are_refused(size: float) -> None:
    for x, y in (([0, size, 2 * size], [0, 1, 2]), ([0, 1, 2], [0, size, -size]), ([size], [1]), ([1], [size])):
        with pytest.raises(ValueError, match="too large to be fitted"):
            Rows.of(np.array(x, dtype=float), np.array(y, dtype=float))


@pytest.mark.parametrize(("x", "y", "u", "told"), [
    # Sums too small for a floating-point number: of the rows, of their uncertainties, of what they tell.
    ([1e-170], [1], (0, 1, 1), "do not tell a slope"),
    ([1], [1], (0, 1e-170, 1), "do not tell a slope"),
    ([1], [1], (0, 1, 1e-170), "do not tell a slope"),
    ([1e-20], [1e-20], (0, 1e150, 1), "do not tell a slope"),
    ([1e-160], [1e-160], (0, 1e-5, 1), "do not tell a slope"),
    # Beyond what can be squared, or put together at the end.
    ([1], [1], (1e160, 1, 1), "do not tell a slope"),
    ([1], [1], (0, 1e155, 1e155), "do not tell a slope"),
    ([8.5e-58, 0], [-1, 6.9e45], (1, 1, 3e21), "do not tell a slope"),
    # An error of x four times the way between the rows.
    ([0, 1], [-1, 0], (4, 0.5, 2), "does not settle"),
    # Beyond what can be squared on the way.
    ([1], [1e150], (1e10, 1, 1), "does not settle"),
])  # fmt: skip
def test_rows_that_tell_no_slope(x: list[float], y: list[float], u: tuple[float, float, float], told: str) -> None:
    with pytest.raises(Indeterminate, match=told):
        york(Rows.of(np.array(x, dtype=float), np.array(y, dtype=float)), *u)


@pytest.mark.parametrize(("load", "left"), [(2.0, 2.0), (5.0, 1.0), (6.0, 0.0), (7.0, -1.0), (-0.5, -0.5)])
def test_along_one_direction_the_limits_are_nothing_and_all(load: float, left: float) -> None:
    """Three that give 1, 2 and 3 give from 0 to 6 together."""
    assert distance_to_limit([[1.0, 2.0, 3.0]], [load]) == pytest.approx(left)
