"""What hovering costs at least: momentum theory of actuator discs in still air, out of ground effect.

Source: J. G. Leishman, Principles of Helicopter Aerodynamics, chapter 2, unless a function says otherwise.
"""

import math

# Power of two rotors on one axis over that of two far apart. In one plane, equal thrust:
COAXIAL_COPLANAR = math.sqrt(2)
# The lower one in the fully contracted wake of the upper one and loaded alike all over; equal thrust or equal
# torque, which differ by 0.0002. Loaded only outside the wake it comes down to 2/√3 = 1.155.
COAXIAL_SEPARATED = 1.281
# A duct as wide below as at the disc keeps the wake from contracting: the same thrust for less power.
DUCT = 1 / math.sqrt(2)


def disc_area_m2(diameter_m: float) -> float:
    """Area swept by a rotor."""
    return math.pi / 4 * _above_zero(diameter_m, "a diameter") ** 2


def induced_velocity_m_s(thrust_n: float, area_m2: float, density_kg_m3: float) -> float:
    """Speed of the air through the disc in hover, √(T/(2ρA)); ValueError for a thrust below zero."""
    if not (math.isfinite(thrust_n) and thrust_n >= 0):
        raise ValueError("a thrust is a finite number, zero or more")
    _above_zero(area_m2, "an area")
    return math.sqrt(thrust_n / (2 * _above_zero(density_kg_m3, "an air density") * area_m2))


def ideal_hover_power_w(thrust_n: float, area_m2: float, density_kg_m3: float) -> float:
    """The least power that lifts ``thrust_n`` with a disc of ``area_m2``: T^1.5/√(2ρA)."""
    return thrust_n * induced_velocity_m_s(thrust_n, area_m2, density_kg_m3)


def overlap_area_m2(diameter_m: float, distance_m: float) -> float:
    """Area that two equal discs share whose centres are ``distance_m`` apart, seen from above."""
    radius = _above_zero(diameter_m, "a diameter") / 2
    if not distance_m >= 0:
        raise ValueError("a distance is zero or more")
    if distance_m >= diameter_m:
        return 0.0
    half_angle = math.acos(distance_m / diameter_m)
    return 2 * radius**2 * (half_angle - math.sin(half_angle) * math.cos(half_angle))


def overlap_factor(overlap_share: float) -> float:
    """Power of two overlapping rotors over that of two apart: 1 + 0.414·(shared area / disc area).

    1 for no overlap, √2 for the whole disc. Raises ValueError for a share outside 0 to 1.
    """
    if not 0 <= overlap_share <= 1:
        raise ValueError(f"an overlap of {overlap_share:g} of the disc is not between 0 and 1")
    return 1 + (COAXIAL_COPLANAR - 1) * overlap_share


def ground_effect_thrust_ratio(rotor_radius_m: float, height_m: float) -> float:
    """Thrust near the ground over thrust far from it, at the same power: 1/(1 - (R/4z)²).

    ``height_m`` is that of the disc above the ground. At the same thrust the power falls by this ratio to the
    power of 1.5. Source: I. C. Cheeseman, W. E. Bennett, ARC R&M 3021 (1955), for one rotor.
    Raises ValueError below half a radius, where the formula no longer holds.
    """
    if not height_m >= 0.5 * _above_zero(rotor_radius_m, "a radius"):
        raise ValueError("the formula for ground effect holds from half a rotor radius upwards")
    return 1 / (1 - (rotor_radius_m / (4 * height_m)) ** 2)


def figure_of_merit(thrust_n: float, power_w: float, area_m2: float, density_kg_m3: float) -> float:
    """Ideal over actual shaft power; above 1 the readings contradict momentum theory."""
    return ideal_hover_power_w(thrust_n, area_m2, density_kg_m3) / _above_zero(power_w, "a power")


def thrust_coefficient(thrust_n: float, density_kg_m3: float, speed_rpm: float, diameter_m: float) -> float:
    """Propeller coefficient C_T in T = C_T·ρ·n²·D⁴, n in turns per second."""
    n = _above_zero(speed_rpm, "a speed") / 60
    return thrust_n / (_above_zero(density_kg_m3, "an air density") * n**2 * _above_zero(diameter_m, "a diameter") ** 4)


def power_coefficient(power_w: float, density_kg_m3: float, speed_rpm: float, diameter_m: float) -> float:
    """Propeller coefficient C_P in P = C_P·ρ·n³·D⁵, n in turns per second."""
    n = _above_zero(speed_rpm, "a speed") / 60
    return power_w / (_above_zero(density_kg_m3, "an air density") * n**3 * _above_zero(diameter_m, "a diameter") ** 5)


def _above_zero(value: float, what: str) -> float:
    if not (math.isfinite(value) and value > 0):
        raise ValueError(f"{what} is a finite number above zero")
    return value
