"""Thrust against weight, and where the weight acts.

Places are forward and right of the centre of the rotors, in mm or in any other one unit.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from preflint.arrays import np

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

    Array = NDArray[np.float64]


# Thrust goes with the voltage to this power. 2: thrust with the square of the speed, speed with the voltage. 2.23: as
# the UIUC Propeller Database has it of a 10x4.7 in prop, 1.6354 N at 3234 rpm and 7.8404 N at 6528 rpm (run kt0835).
VOLTAGE_POWER = 2.0, 2.23
# Torque of a prop over its thrust and diameter: C_P/(2π C_T), 0.0641 to 0.0651 in that run.
TORQUE_PER_THRUST = 0.0646


def thrust_at_voltage(share: float, power: float) -> float:
    """Thrust at a share of the voltage over that at all of it. Raises ValueError for a share that is not above 0."""
    if not (math.isfinite(share) and share > 0):
        raise ValueError("a share of the voltage is a finite number above zero")
    return float(share**power)


def thrust_in_shared_air(power_factor: float) -> float:
    """Thrust of rotors in each other's air over that of rotors apart, at the same power.

    ``power_factor``: what the same thrust costs more, 1 or more. Power goes with thrust to the power of 1.5, so that
    thrust falls by its power of -2/3. Source: momentum theory, J. G. Leishman, Principles of Helicopter Aerodynamics,
    chapter 2. Raises ValueError below 1.
    """
    if not power_factor >= 1:
        raise ValueError("rotors in each other's air take no less power than apart")
    return float(power_factor ** (-2 / 3))


def centre_of_mass(places: ArrayLike, masses: ArrayLike) -> Array:
    """Σ m·x / Σ m: ``places`` (n, k), ``masses`` (n,), above zero; (k,). Raises ValueError for others."""
    at, grams = np.asarray(places, dtype=np.float64), np.asarray(masses, dtype=np.float64)
    if at.ndim != 2 or grams.shape != (len(at),) or not (np.all(np.isfinite(at)) and np.all(grams > 0)):
        raise ValueError("places and masses above zero are needed, one for each")
    centre: Array = grams @ at / grams.sum()
    return centre


def u_of_centre(places: ArrayLike, masses: ArrayLike, u_place: float, u_masses: ArrayLike) -> Array:
    """Standard uncertainty of the centre of mass along each axis, (k,): places and masses err independently.

    Source: GUM (JCGM 100:2008) 5.1.2. ``u_masses``: (n,).
    """
    at, grams = np.asarray(places, dtype=np.float64), np.asarray(masses, dtype=np.float64)
    off = at - centre_of_mass(at, grams)
    by_place = (grams / grams.sum()) ** 2 * u_place**2
    by_mass = (off / grams.sum()) ** 2 * np.square(np.asarray(u_masses, dtype=np.float64))[:, None]
    u: Array = np.sqrt(by_place.sum() + by_mass.sum(axis=0))
    return u


def thrust_and_moments(places: ArrayLike, greatest: ArrayLike, yaw_arms: ArrayLike | None) -> Array:
    """What each rotor gives at its greatest thrust: thrust, the moments of it, and its torque; (3, n) or (4, n).

    Rows: thrust; thrust times forward (nose up); thrust times left (right side down); thrust times ``yaw_arms`` (the
    sign of the reaction of a rotor's drag times torque over thrust). Without ``yaw_arms`` the last one is left out.
    """
    at, most = np.asarray(places, dtype=np.float64), np.asarray(greatest, dtype=np.float64)
    rows = [np.ones(len(at)), at[:, 0], -at[:, 1]]
    if yaw_arms is not None:
        rows.append(np.asarray(yaw_arms, dtype=np.float64))
    gives: Array = np.vstack(rows) * most
    return gives


def weight_at(centre: ArrayLike, weight: float, yaw: bool) -> Array:
    """What the rotors must give to hold the weight still at its centre: rows as in ``thrust_and_moments``."""
    forward, right = np.asarray(centre, dtype=np.float64)
    return np.array([weight, weight * forward, -weight * right, *([0.0] if yaw else [])])
