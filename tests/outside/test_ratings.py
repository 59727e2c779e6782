"""How warm copper gets, its drop, and tip speeds, against published values and by hand."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from preflint.compute.atmosphere import tip_mach, tip_speed_m_s
from preflint.compute.ratings import seconds_until, seconds_with_loss, short_time_factor, steady_rise_k
from preflint.compute.wire import wire_area_mm2, wire_resistance_ohm

FOOT_M = 0.3048


@pytest.mark.parametrize(("from_c", "to_c", "k"), [
    # IEC 60364-5-54, tables A.54.2 to A.54.5, copper: from memory. PVC in a cable, PVC bare, XLPE in a cable and bare.
    (70, 160, 115), (30, 160, 143), (90, 250, 143), (30, 250, 176), (60, 200, 141), (30, 200, 159),
])
def test_short_time_factors(from_c, to_c, k):
    assert short_time_factor(from_c, to_c) == pytest.approx(k, abs=0.5)


def test_the_factor_by_the_physics_of_copper():
    # Heat per volume 3.45e-3 J/(K mm³), 17.241e-6 Ω mm at 20 °C, 234.5 °C: IEC 60364-5-54, table A.54.1, from memory.
    for low, high in ((20, 120), (50, 200), (90, 250)):
        heat = 3.45e-3 * (234.5 + 20) / 17.241e-6 * math.log((234.5 + high) / (234.5 + low))
        assert short_time_factor(low, high) == pytest.approx(math.sqrt(heat), rel=0.002)


@pytest.mark.parametrize(("low", "high", "seconds"), [(70, 160, 31.3), (90, 250, 48.4)])
def test_seconds_of_a_lead_at_full_throttle(low, high, seconds):
    # t = (k·A/I)²: 115 and 143 A√s/mm², 3.3088 mm² of No. 12, 68 A; by hand.
    assert seconds_until(12, 68, low, high) == pytest.approx(seconds, abs=0.1)


def test_the_first_kelvin():
    # ρ·(I/A)²/(density·c) with 17.241e-9 Ω m, 8960 kg/m³, 385 J/(kg K): handbook values of copper, from memory.
    per_second = 17.241e-9 * (68 / 3.3088e-6) ** 2 / (8960 * 385)
    assert per_second == pytest.approx(2.11, abs=0.005)
    assert 1 / seconds_until(12, 68, 20, 21) == pytest.approx(per_second, rel=0.005)


@pytest.mark.parametrize(("amperes", "kelvin"), [(47, 150), (30, 61.1), (68, 314.0), (0, 0)])
def test_one_wire_in_free_air(amperes, kelvin):
    # FAA AC 43.13-1B CHG 1, p. 11-27: one No. 14 wire in free air carries 47 A at a rise of 150 °C; the others by hand.
    assert steady_rise_k(14, amperes) == pytest.approx((kelvin, kelvin), abs=0.05)


@pytest.mark.parametrize(("gauge", "amperes"), [(10, 55), (12, 41), (16, 22), (18, 16), (20, 11), (22, 7)])
def test_other_gauges_against_chassis_wiring(gauge, amperes):
    # Handbook of Electronic Tables and Formulas, "maximum current for chassis wiring", as HyperPhysics has it: 32 A for
    # No. 14. What warms another gauge as much lies near our two bounds: a factor of two, since that table has no rise.
    # For gauges thinner than that it falls off faster than heat does (3.5 A for No. 24), and is left out.
    least, most = steady_rise_k(gauge, amperes)
    of_14 = steady_rise_k(14, 32)[0]
    assert least / 2 < of_14 < most * 2


@pytest.mark.parametrize(("ohm_per_foot", "feet", "volts"), [
    # FAA AC 43.13-1B CHG 1, tables 11-7 and 11-8, at 20 A. Rows that the circular rounds badly or misprints are left
    # out: 3.60 for 3.555, .366 for 0.491.
    (0.00044, 107, 0.942), (0.00028, 90, 0.504), (0.00306, 100, 6.12), (0.00126, 39, 0.98),
    (0.00126, 156, 3.93), (0.00126, 273, 6.88),
])
def test_voltage_drops_of_the_circular(ohm_per_foot, feet, volts):
    assert ohm_per_foot * feet * 20 == pytest.approx(volts, abs=0.005)


def test_drop_of_a_lead_both_ways():
    # 5.2107 mΩ/m of No. 12 (ASTM B258, IEC 60028), twice 130 mm, 68 A: 92 mV and 6.3 W, by hand.
    drop = 68 * wire_resistance_ohm(12, 2 * 0.130)
    assert drop == pytest.approx(0.0921, abs=5e-5)
    assert 68 * drop == pytest.approx(6.26, abs=0.01)
    # The circular's table 11-9 has 2.02 Ω per 1000 ft at most for tinned strands: 6.627 mΩ/m, a quarter more.
    assert pytest.approx(6.627, abs=5e-4) == 2.02 / 1000 / FOOT_M * 1000


def test_the_circulars_own_temperature_formula_is_not_used():
    # FAA AC 43.13-1B CHG 1, p. 11-22: T1 + (TR - T1)·√(I/Imax). Of 50 °C, 200 °C, 26 A it has 181.6 °C at 20 A, where
    # Joule's law has 138.8 °C: careful. At 40 A it has 236 °C where Joule's law has 405 °C.
    for amperes, circular, joule in ((20, 181.6, 138.8), (40, 236.1, 405.0)):
        assert 50 + 150 * math.sqrt(amperes / 26) == pytest.approx(circular, abs=0.1)
        ours = 150 * steady_rise_k(14, amperes)[0] / steady_rise_k(14, 26)[0]
        assert 50 + ours == pytest.approx(joule, abs=0.1)


@pytest.mark.parametrize(("diameter", "rpm", "metres_per_second", "celsius", "mach"), [
    # π·D·n and √(1.4·287.05287·T), ISO 2533: by hand.
    (0.3048, 6000, 95.76, 15, 0.2814), (0.254, 10000, 132.994, 15, 0.3908), (0.127, 30000, 199.491, 15, 0.5862),
    (0.3302, 8000, 138.314, 15, 0.4065), (0.254, 10000, 132.994, -20, 0.4170), (0.254, 10000, 132.994, 40, 0.3749),
])
def test_tips(diameter, rpm, metres_per_second, celsius, mach):
    assert tip_speed_m_s(diameter, rpm) == pytest.approx(metres_per_second, abs=0.01)
    assert tip_mach(diameter, rpm, celsius) == pytest.approx(mach, abs=1e-4)


@settings(derandomize=True, deadline=None)
@given(st.integers(-3, 39), st.floats(0.1, 500), st.floats(1.01, 10))
def test_more_current_and_less_copper_are_warmer(gauge, amperes, times):
    low, high = steady_rise_k(gauge, amperes)
    assert low <= high
    assert steady_rise_k(gauge, amperes * times)[0] == pytest.approx(low * times**2)
    assert steady_rise_k(gauge + 1, amperes) > (low, high)
    soon = seconds_until(gauge, amperes * times, 40, 200)
    assert soon * times**2 == pytest.approx(seconds_until(gauge, amperes, 40, 200))
    # From a warmer start it is sooner, and on the way both parts add up.
    parts = seconds_until(gauge, amperes, 40, 90) + seconds_until(gauge, amperes, 90, 200)
    assert parts == pytest.approx(seconds_until(gauge, amperes, 40, 200))


def test_the_ends():
    assert seconds_until(12, 0, 40, 200) == math.inf
    assert seconds_until(12, 68, 200, 200) == 0
    assert short_time_factor(210, 200) == 0
    assert wire_area_mm2(12) == pytest.approx(3.3088, abs=5e-5)


@pytest.mark.parametrize(("call", "says"), [
    (lambda: steady_rise_k(41, 10), "not between -3"),
    (lambda: steady_rise_k(12, -1), "current"),
    (lambda: seconds_until(12, math.nan, 20, 100), "current"),
    (lambda: short_time_factor(20, 500), "not between -100 and 400"),
    (lambda: tip_speed_m_s(0, 100), "diameter above zero"),
])
def test_out_of_reach(call, says):
    with pytest.raises(ValueError, match=says):
        call()


@pytest.mark.parametrize(("part", "times"), [(0.5, 1.386294), (0.632121, 1.581977), (0.9, 2.558428), (1e-6, 1.0)])
def test_a_wire_that_sheds_heat_takes_longer(part, times):
    """Newton's law of cooling: the part 1 - e^(-t/τ) is reached after t, and without a loss after part·τ."""
    assert seconds_with_loss(10.0, part * 200, 200.0) == pytest.approx(10 * times, rel=1e-5)


def test_a_wire_that_settles_lower_never_gets_there():
    assert seconds_with_loss(10.0, 200.0, 200.0) == math.inf
    assert seconds_with_loss(10.0, 200.0, -5.0) == math.inf
    assert seconds_with_loss(1.0, 1.0, 2.0) == pytest.approx(2 * math.log(2))
    assert seconds_with_loss(0.0, 200.0, 300.0) == seconds_with_loss(10.0, 0.0, 300.0) == 0.0
    with pytest.raises(ValueError, match="zero or more"):
        seconds_with_loss(-1.0, 1.0, 2.0)
