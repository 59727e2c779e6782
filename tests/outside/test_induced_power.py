"""Momentum theory against worked examples and measured propellers."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import optimize

from preflint.compute.atmosphere import tip_mach
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
    (2676, 0.1079, 0.0437, 1.0944, 5.021, 0.6471),
    (2947, 0.1079, 0.0437, 1.3272, 6.706, 0.6471),
    (3234, 0.1104, 0.0444, 1.6354, 9.004, 0.6592),
    (3494, 0.1117, 0.0450, 1.9314, 11.509, 0.6619),
    (3762, 0.1143, 0.0460, 2.2911, 14.685, 0.6703),
    (4029, 0.1158, 0.0466, 2.6624, 18.274, 0.6747),
    (4319, 0.1177, 0.0474, 3.1096, 22.897, 0.6797),
    (4590, 0.1200, 0.0484, 3.5808, 28.063, 0.6853),
    (4880, 0.1223, 0.0494, 4.1251, 34.422, 0.6908),
    (5147, 0.1237, 0.0500, 4.6414, 40.877, 0.6943),
    (5417, 0.1252, 0.0508, 5.2034, 48.416, 0.6958),
    (5715, 0.1263, 0.0513, 5.8426, 57.414, 0.6981),
    (5960, 0.1278, 0.0520, 6.4297, 66.007, 0.7010),
    (6226, 0.1286, 0.0524, 7.0604, 75.825, 0.7022),
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
    assert ideal_hover_power_w(thrust, disc_area_m2(0.254), RHO) < power
    assert tip_mach(0.254, rpm, 15) < 0.3  # where C_T and C_P do not depend on the speed of sound


# The same propeller in forward flight, 6512 rpm: advance ratio, C_T, C_P. The measured power is never less than
# thrust times the speed of the air through the disc, (V + v) with v from T = 2 rho A (V + v) v.
UIUC_FORWARD = [
    (0.089, 0.1201, 0.0523), (0.176, 0.1059, 0.0500), (0.266, 0.0895, 0.0465), (0.357, 0.0743, 0.0434),
    (0.445, 0.0562, 0.0381),
]


@pytest.mark.parametrize(("advance", "ct", "cp"), UIUC_FORWARD)
def test_measured_propeller_in_forward_flight(advance, ct, cp):
    n, diameter = 6512 / 60, 0.254
    thrust, power = ct * RHO * n**2 * diameter**4, cp * RHO * n**3 * diameter**5
    speed, area = advance * n * diameter, disc_area_m2(diameter)
    through = speed / 2 + math.sqrt(speed**2 / 4 + thrust / (2 * RHO * area))
    assert thrust * through < power
    assert thrust * through > ideal_hover_power_w(thrust, area, RHO)


def test_coaxial_pair_in_one_plane():
    # Leishman, chapter 2: equal thrust in one plane, both through one disc area: 2^(1/2) = 1.414.
    area = disc_area_m2(0.4)
    apart = 2 * ideal_hover_power_w(10, area, RHO)
    assert ideal_hover_power_w(20, area, RHO) == pytest.approx(COAXIAL_COPLANAR * apart)


def coaxial_factor(thrust_lower):
    """Ideal power of a pair over that of two rotors apart with half the thrust each; the upper one's thrust is 2.

    Leishman, chapter 2 (from memory): the lower rotor, loaded alike all over, in the fully contracted wake of
    the upper one. With rho A = 1 and v_upper = 1 the upper power is 2 too; through the lower disc flows
    s = 1 + v_lower; momentum T = s w - 2, energy T s = s w^2 / 2 - 2.
    """
    s = optimize.brentq(lambda s: (thrust_lower + 2) ** 2 / s / 2 - 2 - thrust_lower * s, 1e-6, 10)
    return (2 + thrust_lower * s) / (2 * ((2 + thrust_lower) / 2) ** 1.5 / math.sqrt(2)), s


def test_coaxial_pair_in_the_contracted_wake():
    # Leishman, chapter 2 (from memory): 1.281 for equal thrust, and for equal torque with T_upper / T_lower = 1.4375.
    equal, _ = coaxial_factor(2)
    assert equal == pytest.approx(1.281, abs=5e-4)
    factor, s = coaxial_factor(2 / 1.4375)
    assert factor == pytest.approx(COAXIAL_SEPARATED, abs=5e-4)
    assert 2 / 1.4375 * s == pytest.approx(2, abs=1e-3)  # the same power, so at the same speed the same torque


def test_no_sharing_of_the_thrust_gets_much_below():
    best = optimize.minimize_scalar(lambda thrust: coaxial_factor(thrust)[0], bounds=(0.2, 6), method="bounded")
    assert 1.2795 < best.fun < COAXIAL_SEPARATED


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


@settings(derandomize=True, deadline=None)
@given(
    thrust=st.floats(0.01, 1e4), diameter=st.floats(0.02, 20), density=st.floats(0.3, 1.5), times=st.floats(0.01, 100)
)
def test_scaling_laws(thrust, diameter, density, times):
    area = disc_area_m2(diameter)
    power = ideal_hover_power_w(thrust, area, density)
    assert ideal_hover_power_w(thrust * times, area, density) == pytest.approx(power * times**1.5, rel=1e-12)
    assert ideal_hover_power_w(thrust, area, density * times) == pytest.approx(power / times**0.5, rel=1e-12)
    assert ideal_hover_power_w(thrust, disc_area_m2(diameter * times), density) == pytest.approx(
        power / times, rel=1e-12
    )
    # Pounds, feet and slugs give the same power.
    imperial = ideal_hover_power_w(thrust / POUND_N, area / FOOT_M**2, density / SLUG_FT3)
    assert imperial * FOOT_M * POUND_N == pytest.approx(power, rel=1e-12)
    # Two discs with half the thrust each, far apart, are one disc of twice the area.
    assert 2 * ideal_hover_power_w(thrust / 2, area, density) == pytest.approx(
        ideal_hover_power_w(thrust, 2 * area, density), rel=1e-12
    )


@settings(derandomize=True, deadline=None)
@given(total=st.floats(1, 100), areas=st.lists(st.floats(0.01, 1), min_size=2, max_size=8), seed=st.integers(0, 999))
def test_no_other_sharing_of_the_thrust_costs_less_than_by_area(total, areas, seed):
    best = ideal_hover_power_w(total, sum(areas), RHO)
    shares = np.random.default_rng(seed).dirichlet(np.ones(len(areas)))
    other = sum(ideal_hover_power_w(total * share, area, RHO) for share, area in zip(shares, areas, strict=True))
    assert other >= best * (1 - 1e-12)
    by_area = sum(ideal_hover_power_w(total * area / sum(areas), area, RHO) for area in areas)
    assert by_area == pytest.approx(best, rel=1e-12)


@pytest.mark.parametrize(("call", "says"), [
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
])
def test_nonsense_is_refused(call, says):
    with pytest.raises(ValueError, match=says):
        call()
