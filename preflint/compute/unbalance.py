"""What turning does: unbalance and its grade, the pull on a blade's root, the speed of a tip."""

import math

_MM_PER_INCH = 25.4


def angular_speed(rpm: float) -> float:
    """ω = 2π·n, in rad/s. Raises ValueError for a speed that is negative or no finite number."""
    if not (rpm >= 0 and math.isfinite(rpm)):
        raise ValueError(f"a speed is a finite number, zero or more, not {rpm:g} rpm")
    return 2 * math.pi * rpm / 60


def balance_grade_mm_s(unbalance_g_mm: float, mass_g: float, rpm: float) -> float:
    """G = e·ω with e = U/m: the speed of the centre of mass about the axis, in mm/s.

    ``unbalance_g_mm``: U, zero or more; ``mass_g``: m of all that turns, above zero; else ValueError.
    Source: ISO 21940-11, balance quality grades.
    """
    if not (unbalance_g_mm >= 0 and mass_g > 0):
        raise ValueError("an unbalance is zero or more, and a mass is above zero")
    return unbalance_g_mm / mass_g * angular_speed(rpm)


def permissible_unbalance_g_mm(grade_mm_s: float, mass_g: float, rpm: float) -> float:
    """The unbalance that has just this grade: U = G·m/ω, in g mm. Source: ISO 21940-11.

    Raises ValueError for a grade that is negative, a mass or a speed that is not above zero.
    """
    if not (grade_mm_s >= 0 and mass_g > 0 and rpm > 0):
        raise ValueError("a grade is zero or more, and a mass and a speed are above zero")
    return grade_mm_s * mass_g / angular_speed(rpm)


def centrifugal_force_n(mass_g: float, radius_mm: float, rpm: float) -> float:
    """F = m·r·ω²: the pull of a mass on a circle, in N; of an unbalance U it is m·r = U. Zero or more, else ValueError.
    """
    if not (mass_g >= 0 and radius_mm >= 0):
        raise ValueError("a mass and a radius are zero or more")
    return mass_g * radius_mm * 1e-6 * angular_speed(rpm) ** 2


def tip_speed_m_s(diameter_in: float, rpm: float) -> float:
    """How fast the tips of a prop move round, in m/s. Raises ValueError for a diameter that is not above zero."""
    if not diameter_in > 0:
        raise ValueError("a diameter is above zero")
    return diameter_in * _MM_PER_INCH / 2000 * angular_speed(rpm)
