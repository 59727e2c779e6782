"""Balance grades and what turns, against published numbers and worked examples."""

import math

import pytest

from preflint.compute.atmosphere import tip_mach
from preflint.compute.unbalance import (
    angular_speed,
    balance_grade_mm_s,
    centrifugal_force_n,
    permissible_unbalance_g_mm,
    tip_speed_m_s,
)


# ISO 21940-11 (formerly ISO 1940-1): permissible residual specific unbalance, in g mm/kg or µm, from its chart as
# makers of balancing machines print it; G 6.3 at 3000 rpm is 20 there, G 2.5 is 8, G 16 is 50 (read to a tenth).
@pytest.mark.parametrize(("grade", "rpm", "micrometres"), [
    (6.3, 3000, 20), (2.5, 3000, 8), (16, 3000, 51), (6.3, 1500, 40), (2.5, 1500, 16), (40, 1000, 382),
])
def test_the_chart_of_the_standard(grade, rpm, micrometres):
    assert permissible_unbalance_g_mm(grade, 1000.0, rpm) == pytest.approx(micrometres, rel=0.02)


# Worked by hand: ω = 2π·n/60, U = G·m/ω, F = U·ω².
@pytest.mark.parametrize(("grade", "mass_g", "rpm", "unbalance"), [
    (6.3, 50, 8000, 0.376), (16, 50, 8000, 0.955), (6.3, 112, 5000, 1.348),
])
def test_what_a_grade_allows(grade, mass_g, rpm, unbalance):
    assert permissible_unbalance_g_mm(grade, mass_g, rpm) == pytest.approx(unbalance, abs=5e-4)
    assert balance_grade_mm_s(unbalance, mass_g, rpm) == pytest.approx(grade, rel=2e-3)


def test_five_gram_millimetres_on_fifty_grams():
    assert angular_speed(8000) == pytest.approx(837.76, abs=0.01)
    assert balance_grade_mm_s(5, 50, 8000) == pytest.approx(83.8, abs=0.05)
    assert centrifugal_force_n(5, 1, 8000) == pytest.approx(3.51, abs=0.005)


def test_a_blade_and_its_tip():
    """A blade of 8 g with its centre at 58 mm, at 6000 rpm; 12 in."""
    assert angular_speed(6000) == pytest.approx(628.32, abs=0.01)
    assert centrifugal_force_n(8, 58, 6000) == pytest.approx(183.2, abs=0.05)
    assert tip_speed_m_s(12, 6000) == pytest.approx(95.8, abs=0.05)


def test_the_tip_is_that_of_its_mach_number():
    assert tip_speed_m_s(12, 6000) == pytest.approx(tip_mach(0.3048, 6000, 15.0) * 340.29, rel=1e-3)  # ISO 2533: a0


@pytest.mark.parametrize("times", [0.5, 2, 3])
def test_how_each_part_counts(times):
    assert balance_grade_mm_s(5 * times, 50, 8000) == pytest.approx(times * balance_grade_mm_s(5, 50, 8000))
    assert balance_grade_mm_s(5, 50 * times, 8000) == pytest.approx(balance_grade_mm_s(5, 50, 8000) / times)
    assert balance_grade_mm_s(5, 50, 8000 * times) == pytest.approx(times * balance_grade_mm_s(5, 50, 8000))
    assert centrifugal_force_n(5, 1, 8000 * times) == pytest.approx(times**2 * centrifugal_force_n(5, 1, 8000))


@pytest.mark.parametrize("wrong", [
    lambda: angular_speed(-1), lambda: angular_speed(math.nan), lambda: balance_grade_mm_s(-1, 50, 1),
    lambda: balance_grade_mm_s(1, 0, 1), lambda: permissible_unbalance_g_mm(16, 50, 0),
    lambda: permissible_unbalance_g_mm(-1, 50, 1), lambda: centrifugal_force_n(-1, 1, 1), lambda: tip_speed_m_s(0, 1),
])
def test_what_is_no_number_of_such_a_thing(wrong):
    with pytest.raises(ValueError, match=r"zero or more|above zero"):
        wrong()
