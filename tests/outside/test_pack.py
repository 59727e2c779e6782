"""What packs hold, what must hold them, and what cold does: published values, against second implementations."""

import math

import pytest
from scipy.constants import g
from scipy.constants import zero_Celsius as zero_c

from preflint.compute.pack import COLD_B_K, cold_factor, energy_wh, tug_force_n


def test_the_published_ratio():
    """50 times from +20 to -20 °C: "Studies on rate capability of lithium-ion cells at low temperatures" (1999)."""
    assert cold_factor(-20, 20) == pytest.approx(50)
    assert pytest.approx(7258, abs=0.5) == COLD_B_K


# Worked by hand from that ratio, as an Arrhenius line through both of its points.
@pytest.mark.parametrize(("celsius", "factor"), [(10, 2.40), (5, 3.80), (0, 6.13), (-10, 16.8), (20, 1.0)])
def test_worked_values(celsius, factor):
    assert cold_factor(celsius) == pytest.approx(factor, abs=0.05 if factor > 10 else 0.005)


@pytest.mark.parametrize(("one", "other"), [(-20, 20), (0, 35), (11.5, 18), (30, 10)])
def test_two_steps_are_one(one, other):
    middle = (one + other) / 2
    assert cold_factor(one, middle) * cold_factor(middle, other) == pytest.approx(cold_factor(one, other))
    assert cold_factor(one, other) * cold_factor(other, one) == pytest.approx(1)
    slope = math.log(cold_factor(one, other)) / (1 / (zero_c + one) - 1 / (zero_c + other))
    assert slope == pytest.approx(math.log(50) / (1 / (zero_c - 20) - 1 / (zero_c + 20)))


@pytest.mark.parametrize("kilogram", [0.02, 0.6, 9.0])
def test_the_pull_of_a_manoeuvre(kilogram):
    """14 CFR 27.337: limit manoeuvring load factor 3.5 (from memory)."""
    assert tug_force_n(kilogram) == pytest.approx(3.5 * kilogram * g)


def test_0_6_kilogram_takes_20_6_newton():
    assert tug_force_n(0.6) == pytest.approx(20.6, abs=0.01)


# The two limits of carriage that labels are written for are 100 and 160 Wh (from memory).
@pytest.mark.parametrize(("volts", "mah", "watt_hours"), [(14.8, 6000, 88.8), (22.2, 4500, 99.9), (3.7, 300, 1.11)])
def test_watt_hours(volts, mah, watt_hours):
    assert energy_wh(volts, mah) == pytest.approx(watt_hours)


@pytest.mark.parametrize("wrong", [
    lambda: cold_factor(-61), lambda: cold_factor(20, math.nan), lambda: tug_force_n(0), lambda: tug_force_n(math.inf),
    lambda: energy_wh(0, 100), lambda: energy_wh(3.7, -1),
])
def test_what_cannot_be_is_refused(wrong):
    with pytest.raises(ValueError, match=r"pack at|mass is|voltage and"):
        wrong()
