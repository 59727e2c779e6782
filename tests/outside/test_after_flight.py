"""What a flight and the first hover ask of arithmetic: worked numbers, measured propellers, second implementations."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import optimize, stats

from preflint.compute.after_flight import above_median_k, mean_ratio, output_ratio, trim_thrusts
from preflint.compute.hover_throttle import alone_g, by_power_law, by_readings, by_square_law

# The corners of a frame: 180 mm ahead and behind, 240 mm to either side.
FORWARD, RIGHT = (180, 180, -180, -180), (-240, 240, -240, 240)


def test_worked_shares_of_a_centre_of_mass_18_67_mm_ahead():
    """Scales of 1105 g at +140 mm and 845 g at -140 mm: +18.67 mm; of 180 mm it is a front share of 0.5519."""
    ahead = (1105 * 140 - 845 * 140) / 1950
    assert ahead == pytest.approx(18.67, abs=0.005)
    share = (1 + ahead / 180) / 2
    assert share == pytest.approx(0.5519, abs=5e-5)
    assert pytest.approx(1.232, abs=5e-4) == 0.5519 / 0.4481  # of the rounded shares
    assert output_ratio(share) == pytest.approx(1.110, abs=5e-4)


def test_the_outputs_give_the_centre_of_mass_back():
    """Moments by hand: the centre of thrust, thrust as the square of the output, lies over the centre of mass."""
    thrusts = np.array([0.5519, 0.5519, 0.4481, 0.4481]) / 2
    along, across = trim_thrusts(50 * np.sqrt(thrusts), FORWARD, RIGHT)
    assert along == pytest.approx([0.1038, 0.1038, -0.1038, -0.1038], abs=2e-4)
    assert across == pytest.approx([0] * 4, abs=1e-9)
    assert along[0] * 180 == pytest.approx(18.67, abs=0.03)


@given(st.lists(st.floats(20, 90), min_size=6, max_size=6), st.floats(0, 2 * math.pi))
def test_the_plane_is_that_of_another_solver(outputs, turned):
    angles = turned + np.arange(6) * math.pi / 3
    x, y = np.cos(angles), np.sin(angles)
    thrust = np.square(outputs) / np.mean(np.square(outputs))
    fit = optimize.least_squares(lambda p: p[0] + p[1] * x + p[2] * y - thrust, [1, 0, 0], xtol=1e-14, gtol=1e-14)
    along, across = trim_thrusts(outputs, x, y)
    assert along == pytest.approx(fit.x[1] * x, abs=1e-6)
    assert across == pytest.approx(fit.x[2] * y, abs=1e-6)


@given(st.lists(st.floats(20, 90), min_size=4, max_size=4), st.floats(0.1, 50))
def test_trim_mirrors_and_scales(outputs, scale):
    along, across = trim_thrusts(outputs, FORWARD, RIGHT)
    mirrored = trim_thrusts([outputs[i] for i in (1, 0, 3, 2)], FORWARD, RIGHT)
    assert mirrored[0] == pytest.approx([along[i] for i in (1, 0, 3, 2)], abs=1e-9)
    assert mirrored[1] == pytest.approx([across[i] for i in (1, 0, 3, 2)], abs=1e-9)
    wider = trim_thrusts(outputs, [scale * one for one in FORWARD], [scale * one for one in RIGHT])
    assert wider[0] == pytest.approx(along, abs=1e-9)
    louder = trim_thrusts([0.005 * one for one in outputs], FORWARD, RIGHT)
    assert louder[0] == pytest.approx(along, abs=1e-9)


def test_measured_propeller_between_its_readings():
    """A 10x4.7 propeller on a university's stand: 1.6354 N at 3234 rpm, 7.8404 N at 6528 rpm; thrust ∝ rpm^2.232.

    The square law from the upper reading is within 8 % of the speed at the lower one.
    """
    power = math.log(7.8404 / 1.6354) / math.log(6528 / 3234)
    assert power == pytest.approx(2.232, abs=5e-4)
    measured = 100 * 3234 / 6528
    assert by_power_law(1.6354, 7.8404, power) == pytest.approx(measured, rel=1e-9)
    assert by_square_law(1.6354, 7.8404) == pytest.approx(measured, rel=0.08)
    assert by_power_law(1.6354, 7.8404, 1.6) < measured < by_power_law(1.6354, 7.8404, 2.4)


def test_three_eighths_of_the_greatest_thrust():
    """1950 g on four of 1300 g: thrust to weight 2.667, a share of 37.5 %, so √0.375 = 61.2 % of throttle."""
    assert by_square_law(1950 / 4, 1300) == pytest.approx(61.24, abs=5e-3)


def test_readings_between_two_and_none_beyond():
    throttle, thrust = [30, 45, 60, 75], [150, 330, 590, 860]
    assert by_readings(330, throttle, thrust) == pytest.approx(45)
    assert by_readings(330, throttle[::-1], thrust[::-1]) == pytest.approx(45)
    assert 45 < by_readings(480, throttle, thrust) < 60
    for beyond in (149, 861):
        with pytest.raises(ValueError, match="both sides"):
            by_readings(beyond, throttle, thrust)


@given(st.floats(1, 2), st.floats(1, 5000))
def test_a_rotor_in_the_air_of_others_takes_the_power_of_one_with_more_lift(factor, lifted):
    """Power goes with thrust to the power of 1.5."""
    assert (alone_g(lifted, factor) / lifted) ** 1.5 == pytest.approx(factor)


@given(st.lists(st.floats(-20, 120), min_size=3, max_size=12))
def test_the_median_is_that_of_another_library(celsius):
    assert above_median_k(celsius[0], celsius) == pytest.approx(celsius[0] - float(np.median(celsius)))


def test_the_uncertainty_of_a_ratio_of_means_by_drawing():
    """Rectangular errors of half a width of 1 point on each of two and two outputs."""
    draw = stats.uniform(-1, 2).rvs(size=(4, 200_000), random_state=7)
    cw, ccw = 58 + draw[:2].mean(axis=0), 46 + draw[2:].mean(axis=0)
    ratio, u = mean_ratio([58, 58], [46, 46], 1.0)
    assert ratio == pytest.approx(float(np.mean(cw / ccw)), rel=1e-3)
    assert u == pytest.approx(float(np.std(cw / ccw)), rel=0.01)


@pytest.mark.parametrize("call", [
    lambda: above_median_k(40, [40, 40]), lambda: output_ratio(1.0), lambda: mean_ratio([], [1], 1),
    lambda: mean_ratio([1], [0], 1), lambda: trim_thrusts([0, 0], [1, -1], [0, 0]),
    lambda: trim_thrusts([1], [1, 2], [0]),
    lambda: by_square_law(1301, 1300), lambda: by_square_law(0, 1300), lambda: by_power_law(1, 2, 0),
    lambda: alone_g(1, 0.9),
])
def test_what_has_no_answer_is_refused(call):
    with pytest.raises(ValueError, match=r"\w"):
        call()
