"""Thrust, centre of mass and control authority against published values and another library."""

import math

import numpy as np
import pytest
from scipy.optimize import linprog
from scipy.spatial import ConvexHull

from preflint.compute.lift import (
    TORQUE_PER_THRUST,
    VOLTAGE_POWER,
    centre_of_mass,
    thrust_at_voltage,
    thrust_in_shared_air,
)
from preflint.compute.zonotope import (
    distance_to_limit,
    even_margin,
    even_shares,
    least_greatest_share,
    with_each_gone,
)

# G.-X. Du, Q. Quan, B. Yang, K.-Y. Cai, J. Guidance, Control, and Dynamics 38(5), 2015, arXiv:1403.5986: a
# hexacopter of 1.535 kg (g = 9.80 m/s²), arms of 0.275 m, 6.125 N a rotor, torque 0.1 m of thrust.
WEIGHT_N, ARM_M, MOST_N, TORQUE_M = 1.535 * 9.80, 0.275, 6.125, 0.1
LOAD = [WEIGHT_N, 0, 0, 0]


def hexacopter(spins, worn=1.0):
    angles = np.radians(60 * np.arange(6))
    yaw = np.array([TORQUE_M if spin == "P" else -TORQUE_M for spin in spins])
    gives = np.vstack([np.ones(6), -ARM_M * np.sin(angles), ARM_M * np.cos(angles), yaw]) * MOST_N
    gives[:, 0] *= worn
    return gives


# The table of that paper, from memory; its negative ones by facets and by a convex hull.
@pytest.mark.parametrize(("spins", "stopped", "index"), [
    ("PNPNPN", None, 1.4861), ("PPNNPN", None, 1.1295),
    *(("PNPNPN", rotor, 0.0) for rotor in range(1, 7)),
    ("PPNNPN", 1, 0.7221), ("PPNNPN", 2, 0.4510), ("PPNNPN", 3, 0.4510), ("PPNNPN", 4, 0.7221),
    ("PPNNPN", 5, -0.2133), ("PPNNPN", 6, -0.2133),
])  # fmt: skip
def test_the_published_hexacopter(spins, stopped, index):
    gives = hexacopter(spins)
    left = gives if stopped is None else np.delete(gives, stopped - 1, axis=1)
    told = distance_to_limit(left, LOAD)
    assert told == pytest.approx(index, abs=5e-5)
    if index == 0:
        assert abs(told) < 1e-9
        assert abs(even_margin(left, LOAD)) < 1e-9


@pytest.mark.parametrize(("worn", "index"), [
    (1, 1.4861), (0.9, 1.3374), (0.8, 1.1888), (0.7, 1.0402), (0.5, 0.7430), (0.3, 0.4458), (0.1, 0.1486),
])  # fmt: skip
def test_a_worn_rotor_loses_in_proportion(worn, index):
    assert distance_to_limit(hexacopter("PNPNPN", worn), LOAD) == pytest.approx(index, abs=5e-5)


# Worked out with scipy.optimize.linprog 1.17.1.
@pytest.mark.parametrize(("stopped", "margin"), [(None, 0.8187), (1, 0.5147), (4, 0.5147), (2, 0.4912), (3, 0.4912)])
def test_the_margin_without_units(stopped, margin):
    gives = hexacopter("PPNNPN")
    left = gives if stopped is None else np.delete(gives, stopped - 1, axis=1)
    assert even_margin(left, LOAD) == pytest.approx(margin, abs=5e-5)
    assert even_margin(np.delete(gives, 4, axis=1), LOAD) < 0


def hull_distance(gives, load):
    """By the hull of all 2^n corners: a method of its own."""
    corners = np.array([gives @ [i >> bit & 1 for bit in range(gives.shape[1])] for i in range(2 ** gives.shape[1])])
    hull = ConvexHull(corners)
    return float(np.min(-(hull.equations[:, :-1] @ load + hull.equations[:, -1])))


def margin_by_programme(gives, load):
    """How much of its half range every column can leave free on both sides: the most, by a linear programme."""
    count = gives.shape[1]
    solved = linprog(
        [0.0] * count + [-1.0], A_eq=np.hstack([gives, np.zeros((4, 1))]), b_eq=load,
        A_ub=np.vstack([np.hstack([np.eye(count), np.full((count, 1), 0.5)]),
                        np.hstack([-np.eye(count), np.full((count, 1), 0.5)])]),
        b_ub=[1.0] * count + [0.0] * count, bounds=[(None, None)] * (count + 1),
    )  # fmt: skip
    return -solved.fun


@pytest.mark.parametrize("seed", range(12))
def test_random_rotors_against_programme_and_hull(seed):
    rng = np.random.default_rng(seed)
    count = int(rng.integers(5, 9))
    gives = rng.normal(size=(4, count))
    load = gives @ rng.uniform(0, 1, count)
    solved = linprog(
        [0.0] * count + [1.0], A_eq=np.hstack([gives, np.zeros((4, 1))]), b_eq=load,
        A_ub=np.hstack([np.eye(count), -np.ones((count, 1))]), b_ub=np.zeros(count), bounds=[(0, None)] * (count + 1),
    )  # fmt: skip
    assert least_greatest_share(gives, load) == pytest.approx(solved.fun, rel=1e-7)
    assert distance_to_limit(gives, load) == pytest.approx(hull_distance(gives, load), abs=1e-6)
    assert even_margin(gives, load) == pytest.approx(margin_by_programme(gives, load), abs=1e-7)


@pytest.mark.parametrize("spins", ["PNPNPN", "PPNNPN"])
def test_each_rotor_of_the_published_hexacopter_stopped_in_turn(spins):
    gives = hexacopter(spins)
    margins, distances = with_each_gone(gives, LOAD)
    for gone, (margin, distance) in enumerate(zip(margins, distances, strict=True)):
        left = np.delete(gives, gone, axis=1)
        assert distance == pytest.approx(hull_distance(left, LOAD), abs=1e-6)
        assert margin == pytest.approx(margin_by_programme(left, LOAD), abs=1e-7)
    assert spins == "PPNNPN" or not (margins.any() or distances.any())  # nothing, without a rounding error


@pytest.mark.parametrize("seed", range(12))
@pytest.mark.parametrize("beyond", [0.2, 2.0])
def test_random_rotors_stopped_in_turn_against_programme_and_hull(seed, beyond):
    """Inside of what is left, just outside and far outside; in units of any size the margins are the same."""
    rng = np.random.default_rng(seed)
    count = int(rng.integers(6, 9))
    gives = rng.normal(size=(4, count))
    load = gives @ rng.uniform(-beyond, 1 + beyond, count)
    margins, distances = with_each_gone(gives, load)
    for gone in range(count):
        left = np.delete(gives, gone, axis=1)
        assert margins[gone] == pytest.approx(margin_by_programme(left, load), abs=1e-6)
        assert distances[gone] == pytest.approx(hull_distance(left, load), abs=1e-6)
    units = np.array([1.0, 1e-6, 50.0, 1e6])
    assert with_each_gone(gives * units[:, None], load * units)[0] == pytest.approx(margins, rel=1e-6)


def test_three_left_of_a_quad_hold_nothing_level():
    """They do not span all four directions: as each by itself is told."""
    quad = np.array([[1, 1, 1, 1], [1, 1, -1, -1], [1, -1, 1, -1], [1, -1, -1, 1]], dtype=float)
    margins, distances = with_each_gone(quad, [1, 0, 0, 0])
    assert margins.tolist() == [-math.inf] * 4
    assert distances == pytest.approx([-0.5] * 4)  # of the load (1, 0, 0, 0) along the unit (1, 1, 1, 1) / 2


@pytest.mark.parametrize(("load", "margins", "distances"), [
    # Columns of 1, 2 and 3: without one they reach from 0 to 5, 4 and 3.
    (2.5, [1.0, 0.75, 1 / 3], [2.5, 1.5, 0.5]), (4.5, [0.2, -0.25, -1.0], [0.5, -0.5, -1.5]),
])  # fmt: skip
def test_along_one_direction_what_is_left_is_less(load, margins, distances):
    told = with_each_gone([[1.0, 2.0, 3.0]], [load])
    assert (told[0], told[1]) == (pytest.approx(margins), pytest.approx(distances))


def test_a_load_that_no_shares_give():
    quad = np.array([[1, 1, 1, 1], [1, 1, -1, -1], [1, -1, 1, -1], [1, -1, -1, 1]], dtype=float)
    assert least_greatest_share(quad, [1, 1.1, 0, 0]) == math.inf
    assert least_greatest_share(quad[:, :3], [1, 0, 0, 0]) == math.inf
    assert even_margin(quad[:, :3], [1, 0, 0, 0]) == -math.inf
    assert distance_to_limit(quad[:, :3], [1, 0, 0, 0]) < 0
    assert even_shares(quad, [1, 1.1, 0, 0]) is None
    assert even_shares(quad[:, :3], [1, 0, 0, 0]) is None
    assert least_greatest_share(quad, [1, 0, 0, 0]) == pytest.approx(0.25)
    assert even_shares(quad, [1, 0.2, 0, 0]) == pytest.approx([0.3, 0.3, 0.2, 0.2])


@pytest.mark.parametrize("sign", [1, -1])
def test_a_place_that_is_nothing_but_rounding_is_none(sign):
    """Rotors at -2, 1e-16 and -1, or mirrored: 5 = a + b + c and 4 = 2a + c, so c = 6 - 2b: 2 of both at best."""
    gives = [[1.0, 1.0, 1.0], [-2.0 * sign, 1e-16 * sign, -1.0 * sign]]
    assert least_greatest_share(gives, [5.0, -4.0 * sign]) == pytest.approx(2)


def test_several_loads_are_shared_as_each_by_itself():
    quad = np.array([[1, 1, 1, 1], [1, 1, -1, -1], [1, -1, 1, -1]], dtype=float)
    loads = np.array([[[1, 0, 0], [1, 0.2, 0.1]], [[0, 0, 0], [1, 1.1, 0]], [[-1, 0, 0], [6, 0, 3]]])
    told = least_greatest_share(quad, loads)
    assert told.shape == (3, 2)
    assert told.tolist() == [[least_greatest_share(quad, one) for one in row] for row in loads]
    assert np.isinf(told).tolist() == [[False, False], [False, True], [True, False]]


@pytest.mark.parametrize("wrong", [([[1, 2]], [1, 2]), ([1, 2], [1]), ([[0, 0]], [0]), ([[1, math.nan]], [1])])
def test_what_is_no_load_is_refused(wrong):
    with pytest.raises(ValueError, match="columns"):
        least_greatest_share(*wrong)
    for of_one in (even_margin, distance_to_limit, even_shares):
        with pytest.raises(ValueError, match="columns"):
            of_one([[1, 2]], [[1], [2]])


def test_the_centre_of_gravity_of_the_handbook():
    """FAA-H-8083-1, Aircraft Weight and Balance Handbook, ch. 2 (from memory): 44 000 lb in over 400 lb."""
    assert centre_of_mass([[50], [90], [150]], [100, 100, 200]) == pytest.approx([110.0])


def test_powers_of_thrust_and_torque_of_a_measured_prop():
    """UIUC Propeller Database, 10x4.7 in, static run kt0835, first and last row and one between (rpm, C_T, C_P)."""
    rows = [(2377, 0.1059, 0.0431), (3234, 0.1104, 0.0444), (6528, 0.1299, 0.0531)]
    thrust = {rpm: ct * 1.225 * (rpm / 60) ** 2 * 0.254**4 for rpm, ct, _ in rows}
    power = math.log(thrust[6528] / thrust[3234]) / math.log(6528 / 3234)
    assert thrust[3234] == pytest.approx(1.6354, abs=5e-4)
    assert power == pytest.approx(VOLTAGE_POWER[1], abs=3e-3)
    for _, ct, cp in rows:
        assert cp / (2 * math.pi * ct) == pytest.approx(TORQUE_PER_THRUST, abs=8e-4)


def test_thrust_in_the_air_of_others():
    """Two in one plane take √2 of the power of two apart (Leishman, ch. 2): at one power 2^(-1/3) of the thrust."""
    assert thrust_in_shared_air(math.sqrt(2)) == pytest.approx(0.7937, abs=5e-5)
    assert thrust_in_shared_air(1) == 1
    with pytest.raises(ValueError, match="no less power"):
        thrust_in_shared_air(0.99)


def test_thrust_at_a_lower_voltage():
    """Worked out by hand: 2.667 at 4.2 V a cell is 1.852 at 3.5 V with the square, 1.775 with the power 2.23."""
    for power, told in zip(VOLTAGE_POWER, (1.852, 1.775), strict=True):
        assert 4 * 1300 / 1950 * thrust_at_voltage(3.5 / 4.2, power) == pytest.approx(told, abs=1e-3)
    with pytest.raises(ValueError, match="share of the voltage"):
        thrust_at_voltage(0, 2)
