"""Momentum theory against worked examples and measured propellers."""

import math

import numpy as np
import pytest
from scipy import optimize

from preflint.compute.induced_power import (
    COAXIAL_COPLANAR,
    COAXIAL_SEPARATED,
    DUCT,
    disc_area_m2,
    figure_of_merit,
    ground_effect_thrust_ratio,
    ideal_hover_power_w,
    induced_velocity_m_s,
    overlap_area_m2,
    overlap_factor,
    power_coefficient,
    thrust_coefficient,
)

G = 9.80665
POUND_N = 0.45359237 * G
FOOT_M = 0.3048
HORSEPOWER_W = 550 * FOOT_M * POUND_N
SLUG_FT3 = POUND_N / FOOT_M / FOOT_M**3  # kg/m³ in one slug per cubic foot
RHO = 1.225


def test_tilt_rotor():
    # Leishman, Principles of Helicopter Aerodynamics, chapter 2, example (from memory, recomputed): 45 000 lb
    # on two rotors of 38 ft, 0.002378 slug/ft³: v 64.59 ft/s, ideal 2642 hp a rotor, 3523 hp at a figure of
    # merit of 0.75.
    thrust, area, rho = 22_500 * POUND_N, disc_area_m2(38 * FOOT_M), 0.002378 * SLUG_FT3
    assert area / FOOT_M**2 == pytest.approx(1134.1, abs=0.1)
    assert induced_velocity_m_s(thrust, area, rho) / FOOT_M == pytest.approx(64.59, abs=0.01)
    ideal = ideal_hover_power_w(thrust, area, rho)
    assert ideal / HORSEPOWER_W == pytest.approx(2642, abs=1)
    assert figure_of_merit(thrust, 3523 * HORSEPOWER_W, area, rho) == pytest.approx(0.75, abs=2e-4)


def test_momentum_calculator():
    # spinningwing.com momentum theory calculator shows 36.70 ft/s and 433.8 hp
    # (6500 lb, 18 ft radius, 0.00237 slug/ft³).
    thrust, area, rho = 6500 * POUND_N, disc_area_m2(36 * FOOT_M), 0.00237 * SLUG_FT3
    assert induced_velocity_m_s(thrust, area, rho) / FOOT_M == pytest.approx(36.70, abs=0.01)
    assert ideal_hover_power_w(thrust, area, rho) / HORSEPOWER_W == pytest.approx(433.8, abs=0.1)


@pytest.mark.parametrize(
    ("mass", "rotors", "diameter", "velocity", "total"),
    # Arithmetic in another program: ISA sea level.
    [(1.5, 4, 0.254, 5.44270, 80.062), (2.5, 6, 0.3048, 4.78092, 117.212), (1.0, 4, 0.127, 8.88789, 87.160)],
)
def test_multirotors(mass, rotors, diameter, velocity, total):
    thrust, area = mass * G / rotors, disc_area_m2(diameter)
    assert induced_velocity_m_s(thrust, area, RHO) == pytest.approx(velocity, rel=1e-5)
    assert rotors * ideal_hover_power_w(thrust, area, RHO) == pytest.approx(total, rel=1e-5)


# UIUC Propeller Database, Vol. 1 (Brandt, Deters, Ananda, Dantsker, Selig), APC Slow Flyer 10x4.7, static run
# kt0835: rpm, C_T, C_P. The thrust, power and figure of merit at 1.225 kg/m³ were recomputed from them.
UIUC = [
    (2377, 0.1059, 0.0431, 0.8475, 3.471, 0.6380),
    (3234, 0.1104, 0.0444, 1.6354, 9.004, 0.6592),
    (4029, 0.1158, 0.0466, 2.6624, 18.274, 0.6747),
    (5147, 0.1237, 0.0500, 4.6414, 40.877, 0.6943),
    (6528, 0.1299, 0.0531, 7.8404, 88.570, 0.7035),
]


@pytest.mark.parametrize(("rpm", "ct", "cp", "thrust", "power", "merit"), UIUC)
def test_measured_propeller(rpm, ct, cp, thrust, power, merit):
    assert thrust_coefficient(thrust, RHO, rpm, 0.254) == pytest.approx(ct, rel=2e-4)
    assert power_coefficient(power, RHO, rpm, 0.254) == pytest.approx(cp, rel=2e-4)
    ours = figure_of_merit(thrust, power, disc_area_m2(0.254), RHO)
    assert ours == pytest.approx(merit, abs=1e-4)
    assert ours == pytest.approx(ct**1.5 / cp * math.sqrt(2 / math.pi), rel=5e-4)
    assert ours < 1


def test_coaxial_pair_in_one_plane():
    # Leishman, chapter 2: equal thrust in one plane, both through one disc area: 2^(1/2) = 1.414.
    area = disc_area_m2(0.4)
    apart = 2 * ideal_hover_power_w(10, area, RHO)
    assert ideal_hover_power_w(20, area, RHO) == pytest.approx(COAXIAL_COPLANAR * apart)


def test_coaxial_pair_in_the_contracted_wake():
    # Leishman, chapter 2 (from memory): lower rotor in the fully contracted wake, equal torque: 1.281, with
    # T_upper / T_lower = 1.4375. Solved here with rho A = 1 and v_upper = 1, so T_upper = 2 and P_upper = 2:
    # through the lower disc flows s = 1 + v_lower; momentum T = s w - 2, energy T s = s w^2 / 2 - 2 = 2.
    s = optimize.brentq(lambda s: (s * math.sqrt(8 / s) - 2) * s - 2, 1, 2)
    thrust_lower = 2 / s
    assert 2 / thrust_lower == pytest.approx(1.4375, abs=2e-4)
    apart = 2 * ((2 + thrust_lower) / 2) ** 1.5 / math.sqrt(2)
    assert pytest.approx(4 / apart, abs=5e-4) == COAXIAL_SEPARATED


def test_duct():
    # Leishman, chapter 6 (from memory): a duct whose wake does not contract has the far wake at disc speed:
    # T = rho A v^2, P = T v / 2 = T^1.5 / (2 sqrt(rho A)), less than the open disc by 2^(1/2).
    area = disc_area_m2(0.2)
    assert 10 * math.sqrt(10 / (RHO * area)) / 2 == pytest.approx(DUCT * ideal_hover_power_w(10, area, RHO))


def test_overlap_is_the_area_counted_in_points():
    # By counting: a fine grid of points, those that lie in both discs.
    grid = (np.arange(2000) + 0.5) / 2000 * 0.4 - 0.2
    x, y = np.meshgrid(grid, grid)
    for distance in (0.0, 0.05, 0.2, 0.35, 0.4, 0.7):
        both = np.hypot(x, y) < 0.2
        both &= np.hypot(x - distance, y) < 0.2
        assert overlap_area_m2(0.4, distance) == pytest.approx(both.mean() * 0.16, abs=2e-5)


def test_overlap_factor():
    # Leishman, chapter 2 (overlapping rotors, from memory): 1 + (2^(1/2) - 1) m'.
    assert overlap_factor(0) == 1
    assert overlap_factor(1) == pytest.approx(1.414, abs=5e-4)
    assert overlap_factor(0.3) == pytest.approx(1 + 0.414 * 0.3, abs=1e-3)


@pytest.mark.parametrize(("height_over_radius", "ratio"), [(0.5, 1.3333), (1, 1.0667), (2, 1.0159), (10, 1.0006)])
def test_ground_effect(height_over_radius, ratio):
    # Cheeseman and Bennett, ARC R&M 3021 (1955): 1 / (1 - (R / 4z)^2), from memory.
    assert ground_effect_thrust_ratio(0.2, 0.2 * height_over_radius) == pytest.approx(ratio, abs=5e-5)


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (lambda: ideal_hover_power_w(-1, 1, 1), "thrust"),
        (lambda: ideal_hover_power_w(math.nan, 1, 1), "thrust"),
        (lambda: ideal_hover_power_w(1, 0, 1), "an area is a finite number above zero"),
        (lambda: ideal_hover_power_w(1, 1, math.nan), "an air density is"),
        (lambda: disc_area_m2(math.inf), "a diameter is"),
        (lambda: overlap_area_m2(1, -0.1), "distance is zero or more"),
        (lambda: overlap_factor(1.1), "not between 0 and 1"),
        (lambda: ground_effect_thrust_ratio(0.2, 0.09), "half a rotor radius"),
        (lambda: figure_of_merit(1, 0, 1, 1), "a power is"),
        (lambda: thrust_coefficient(1, 1, 0, 1), "a speed is"),
        (lambda: power_coefficient(1, 1, 1, 0), "a diameter is"),
    ],
)
def test_nonsense_is_refused(call, says):
    with pytest.raises(ValueError, match=says):
        call()
