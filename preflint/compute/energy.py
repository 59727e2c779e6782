"""Charge, time and the way home.

Source: Ohm's law; the triangle of wind with the wind in the face; for the current at another mass or density the
momentum theory of the actuator disc, P = T^1.5/√(2·density·area), as in J. G. Leishman, Principles of Helicopter
Aerodynamics, chapter 2, at one efficiency and one voltage.
"""

import math


def endurance_min(capacity_ah: float, reserve: float, current_a: float) -> float:
    """Minutes from full until the share ``reserve`` (0 to 1) is left. Raises ValueError for what is no such thing."""
    if not (capacity_ah > 0 and 0 <= reserve < 1 and current_a > 0):
        raise ValueError("capacity and current are above zero, and a reserve is a share from 0 to less than 1")
    return 60 * (1 - reserve) * capacity_ah / current_a


def way_home_s(distance_m: float, airspeed_m_s: float, wind_m_s: float = 0.0) -> float:
    """Seconds over the ground against the wind; infinite where the wind is as fast as the aircraft or faster.

    Raises ValueError for a negative distance or wind, or an airspeed that is not above zero.
    """
    if not (distance_m >= 0 and airspeed_m_s > 0 and wind_m_s >= 0):
        raise ValueError("distance and wind are zero or more, and an airspeed is above zero")
    if distance_m == 0:
        return 0.0
    return distance_m / (airspeed_m_s - wind_m_s) if airspeed_m_s > wind_m_s else math.inf


def charge_mah(current_a: float, seconds: float) -> float:
    """What a steady current takes in so many seconds."""
    return current_a * seconds / 3.6


def hover_current_ratio(mass_ratio: float, density_ratio: float = 1.0) -> float:
    """Current at hover over what it was, for mass and air density over what they were: m^1.5/√density.

    Raises ValueError for a ratio that is not above zero.
    """
    if not (mass_ratio > 0 and density_ratio > 0):
        raise ValueError("ratios of mass and density are above zero")
    return float(mass_ratio**1.5 / math.sqrt(density_ratio))


def cell_under_load_v(pack_v: float, ohm: float, more_a: float, cells: int) -> float:
    """Voltage of a cell when a pack at ``pack_v`` gives so many amperes more: (V - R·I)/n.

    Raises ValueError for less than one cell.
    """
    if cells < 1:
        raise ValueError("a pack has a cell or more")
    return (pack_v - ohm * more_a) / cells
