"""Charge, flight time and the way home against worked values that were computed apart from this project."""

import math

import pytest

from preflint.compute.energy import (
    cell_under_load_v,
    charge_mah,
    endurance_min,
    hover_current_ratio,
    way_home_s,
)


def test_flight_time_to_a_reserve_of_a_fifth():
    """6.0 Ah, 20 % left, 15.4 A: 60 · 0.8 · 6.0 / 15.4. Computed apart."""
    assert endurance_min(6.0, 0.2, 15.4) == pytest.approx(18.70, abs=0.005)


def test_three_hundred_metres_home_against_the_wind_and_down():
    """300 m at 10 m/s against 6 m/s, 30 m down at 1.5 m/s: 75 s and 20 s; 406 mAh at 15.4 A, 6.8 % of 6 Ah."""
    seconds = way_home_s(300, 10, 6) + 30 / 1.5
    assert seconds == pytest.approx(95)
    assert charge_mah(15.4, seconds) == pytest.approx(406, abs=0.5)
    assert charge_mah(15.4, seconds) / 6000 == pytest.approx(0.068, abs=0.0005)


def test_three_hundred_grams_more():
    """1950 g and 300 g more: the current times 1.2394, 15.4 A to 19.09 A, 18.70 min to 15.09 min."""
    ratio = hover_current_ratio(2250 / 1950)
    assert ratio == pytest.approx(1.2394, abs=0.00005)
    assert endurance_min(6.0, 0.2, 15.4 * ratio) == pytest.approx(15.09, abs=0.005)


def test_hot_and_high():
    """From 1.199 to 0.956 kg/m³: 1.120 times the current."""
    assert hover_current_ratio(1.0, 0.956 / 1.199) == pytest.approx(1.120, abs=0.0005)


@pytest.mark.parametrize(("warning_v", "cell_v"), [(13.20, 3.134), (12.00, 2.834)])
def test_a_cell_at_the_warning_under_full_throttle(warning_v, cell_v):
    """R 12.6 mΩ, 68 A less 15.4 A: 0.6628 V off the pack, of four cells."""
    assert cell_under_load_v(warning_v, 0.0126, 68 - 15.4, 4) == pytest.approx(cell_v, abs=0.0005)


def test_a_display_that_reads_high_warns_late():
    """2.44 % too high: a warning set to 14.00 V comes at 13.667 V, 3.417 V a cell."""
    assert pytest.approx(13.667, abs=0.0005) == 14.00 / 1.0244
    assert cell_under_load_v(14.00 / 1.0244, 0.0126, 0.0, 4) == pytest.approx(3.417, abs=0.0005)


def test_momentum_theory_by_another_library():
    """Ideal power T·v of the actuator disc, thrust = 2·density·area·v², solved by scipy: goes with m^1.5/√density."""
    optimize = pytest.importorskip("scipy.optimize")

    def power_w(mass_kg: float, density: float, area_m2: float = 0.29) -> float:
        thrust = mass_kg * 9.80665
        v = optimize.brentq(lambda one: 2 * density * area_m2 * one**2 - thrust, 0.01, 100)
        return float(thrust * v)

    base = power_w(1.95, 1.225)
    for mass, density in ((2.25, 1.225), (1.2, 1.225), (1.95, 0.9), (25.0, 1.1)):
        ratio = power_w(mass, density) / base
        assert hover_current_ratio(mass / 1.95, density / 1.225) == pytest.approx(ratio, rel=1e-6)


def test_the_wind_as_fast_as_the_aircraft():
    assert math.isinf(way_home_s(300, 6, 6))
    assert math.isinf(way_home_s(300, 6, 9))
    assert way_home_s(0, 6, 9) == 0


@pytest.mark.parametrize("call", [
    lambda: endurance_min(0, 0.2, 15), lambda: endurance_min(6, 1.0, 15), lambda: endurance_min(6, 0.2, 0),
    lambda: way_home_s(-1, 10), lambda: way_home_s(1, 0), lambda: way_home_s(1, 10, -1),
    lambda: hover_current_ratio(0), lambda: hover_current_ratio(1, 0), lambda: cell_under_load_v(12, 0.01, 5, 0),
])
def test_what_is_no_such_thing_is_refused(call):
    with pytest.raises(ValueError, match=r"above zero|or more"):
        call()
