"""Zero and scale of an accelerometer, against another implementation and a sensor that is made up."""

import math

import numpy as np
import pytest
from scipy.optimize import least_squares

from preflint.compute.accelerometer import fit_axes, tilt_of_zero_deg
from preflint.compute.least_squares import Indeterminate

G = 9.81


def turned(rng, count):
    """Readings at rest on sides that nobody set plumb, in m/s², with the zero and scale that made them."""
    sides = np.vstack([np.eye(3), -np.eye(3), rng.normal(size=(count, 3))])
    sides += rng.normal(0, 0.05, sides.shape)
    zero, scale = rng.uniform(-0.5, 0.5, 3), rng.uniform(0.9, 1.1, 3)
    return zero, scale, G * sides / np.linalg.norm(sides, axis=1)[:, None] * scale + zero


@pytest.mark.parametrize("seed", range(20))
@pytest.mark.parametrize("more", [0, 6, 30])
def test_what_made_the_readings_is_found_again(seed, more):
    zero, scale, readings = turned(np.random.default_rng(seed), more)
    found = fit_axes(readings, G, 0.05)
    assert found.zero == pytest.approx(zero, abs=1e-9)
    assert found.scale == pytest.approx(scale, abs=1e-9)
    assert np.abs(found.off_m_s2).max() < 1e-9


def test_an_axis_that_is_found_at_once_does_not_end_the_search_for_the_others():
    """For each side there is one that is its mirror image: what is down shows as much up, and has no zero."""
    sides = np.array([[1, 0.1, 0.2], [-1, 0.15, 0.1], [0.1, 1, 0.15], [-0.05, -1, 0.1], [0.05, 0.1, 1]])
    sides = np.vstack([sides, sides * [1, 1, -1]])
    zero, scale = np.array([0.3, -0.2, 0.0]), np.array([1.05, 0.95, 1.02])
    found = fit_axes(G * sides / np.linalg.norm(sides, axis=1)[:, None] * scale + zero, G, 0.05)
    assert found.zero == pytest.approx(zero, abs=1e-9)
    assert found.scale == pytest.approx(scale, abs=1e-9)


def test_a_search_that_only_ever_goes_down_does_not_end_early():
    """Worked by hand: on each axis 9.9 and 9.7 up, 9.7 down twice, the other axes at their zero.

    Of (r - z)/s = ±g, with k = 1/s and m = z·k, 4m = 0.2k and 380.28k - 0.2m = 39g: z = 0.05, s = 380.27/(39g). What
    lies half-way between the extremes, z = 0.1 and s = 9.8/g, is above that on all axes alike.
    """
    shown = (9.9, 9.7, -9.7, -9.7)
    readings = [[one if axis == along else 0.05 for axis in range(3)] for along in range(3) for one in shown]
    found = fit_axes(readings, G, 0.05)
    assert found.zero == pytest.approx([0.05] * 3, abs=1e-9)
    assert found.scale == pytest.approx([380.27 / 39 / G] * 3, abs=1e-9)


@pytest.mark.parametrize("seed", range(20))
def test_scipy_finds_the_same_among_noise(seed):
    """scipy.optimize.least_squares, general purpose, from another start; its Jacobian gives the covariance, too."""
    rng = np.random.default_rng(100 + seed)
    _, _, readings = turned(rng, 12)
    readings = readings + rng.normal(0, 0.08, readings.shape)

    def off(six):
        return np.linalg.norm((readings - six[:3]) / six[3:], axis=1) - G

    other = least_squares(off, [0, 0, 0, 1, 1, 1], xtol=1e-15, ftol=1e-15, gtol=1e-15)
    found = fit_axes(readings, G, 0.01)
    assert np.concatenate([found.zero, found.scale]) == pytest.approx(other.x, abs=1e-6)
    variance = 2 * other.cost / (len(readings) - 6)
    expected = max(variance, (0.01 / found.scale.mean()) ** 2) * np.linalg.inv(other.jac.T @ other.jac)
    assert np.sqrt(np.diag(found.covariance)) == pytest.approx(np.sqrt(np.diag(expected)), rel=1e-3)


def test_as_often_as_said():
    """Of many made-up sensors the true zero and scale lie within 1.96 u of the fit in about 95 of 100."""
    rng, inside, count = np.random.default_rng(7), 0, 400
    for _ in range(count):
        zero, scale, readings = turned(rng, 6)
        found = fit_axes(readings + rng.normal(0, 0.05, readings.shape), G, 0.05)
        u = np.sqrt(np.diag(found.covariance))
        inside += int(np.sum(np.abs(np.concatenate([found.zero - zero, found.scale - scale])) <= 1.96 * u))
    assert 0.93 < inside / (6 * count) < 0.99


@pytest.mark.parametrize("seed", range(20))
@pytest.mark.parametrize("factor", [1e-3, 0.1, 0.5, 2.0, 16384 / G, 1e6])  # in g, or in counts of any sensor, too
def test_another_unit_scales_zero_and_scale(factor, seed):
    zero, scale, readings = turned(np.random.default_rng(seed), 3)
    found = fit_axes(readings * factor, G, 0.05)
    assert found.zero == pytest.approx(zero * factor)
    assert found.scale == pytest.approx(scale * factor)


def test_turned_over_it_is_the_same_sensor():
    _, _, readings = turned(np.random.default_rng(2), 3)
    one, other = fit_axes(readings, G, 0.05), fit_axes(-readings, G, 0.05)
    assert other.zero == pytest.approx(-one.zero)
    assert other.scale == pytest.approx(one.scale)


@pytest.mark.parametrize("readings", [np.eye(3) * G, np.zeros((8, 3)), np.tile([[0.0, 0.0, G]], (9, 1)),
                                      np.vstack([np.eye(3), np.eye(3)]) * G])
def test_sides_that_do_not_tell(readings):
    with pytest.raises(Indeterminate):
        fit_axes(readings, G, 0.05)


@pytest.mark.parametrize(("readings", "gravity", "u"), [
    (np.zeros((6, 2)), G, 0.05), (np.full((6, 3), math.nan), G, 0.05), (np.eye(3), 0.0, 0.05), (np.eye(3), G, 0.0),
])
def test_what_are_no_readings(readings, gravity, u):
    with pytest.raises(ValueError, match=r"readings are rows|are above zero"):
        fit_axes(readings, gravity, u)


def test_the_tilt_of_a_zero():
    assert tilt_of_zero_deg(0.0, 0.0, G) == 0
    assert tilt_of_zero_deg(0.3, 0.4, G) == pytest.approx(2.918, abs=1e-3)  # atan(0.5/9.81)
