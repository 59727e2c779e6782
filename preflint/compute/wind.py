"""Wind over height above open ground, and how far a thing that is dropped flies on."""

import math

from preflint.compute.atmosphere import GRAVITY_M_S2

OPEN_GROUND = 1 / 7
"""Exponent of the wind over height above open ground, the air neither warmed nor cooled from below.

Source: the one-seventh power law of a turbulent boundary layer (Prandtl), as S. A. Hsu and others, Journal of Applied
Meteorology 33 (1994), quote it for land; from memory.
"""
NORMAL_PROFILE = 0.2
"""The exponent that wind turbines are built for. Source: IEC 61400-1, normal wind profile model; from memory."""


def wind_at_m_s(wind_m_s: float, measured_at_m: float, height_m: float, exponent: float) -> float:
    """Mean wind at a height, u = u_r·(z/z_r)^α: heights above the ground, both in m.

    Raises ValueError for a negative wind or height, or one measured at the ground itself.
    """
    if not (wind_m_s >= 0 and measured_at_m > 0 and height_m >= 0):
        raise ValueError("a wind of zero or more is measured above the ground, and wanted at zero or higher")
    return wind_m_s * float((height_m / measured_at_m) ** exponent)


def height_of_wind_m(wind_m_s: float, measured_at_m: float, most_m_s: float, exponent: float) -> float:
    """The height at which the mean wind reaches ``most_m_s``; infinite where it is calm. ValueError as above."""
    if not (wind_m_s >= 0 and measured_at_m > 0 and most_m_s >= 0 and exponent > 0):
        raise ValueError("a wind of zero or more is measured above the ground, and so is a limit")
    return math.inf if wind_m_s == 0 else measured_at_m * float((most_m_s / wind_m_s) ** (1 / exponent))


def fall_distance_m(speed_m_s: float, height_m: float) -> float:
    """How far forward a thing flies while it falls in still air without drag, v·√(2h/g). Drag makes it less.

    Source: Galilei's free fall. Raises ValueError for a negative speed or height.
    """
    if not (speed_m_s >= 0 and height_m >= 0):
        raise ValueError("a speed and a height are zero or more")
    return speed_m_s * math.sqrt(2 * height_m / GRAVITY_M_S2)
