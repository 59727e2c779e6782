"""Which throttle a rotor hovers at.

Thrust goes with the square of a rotor's speed (momentum theory, J. G. Leishman, Principles of Helicopter
Aerodynamics, chapter 2), and its speed about with the throttle.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from preflint.arrays import np

if TYPE_CHECKING:
    from numpy.typing import ArrayLike


def alone_g(lifted_g: float, power_factor: float) -> float:
    """The thrust of a rotor apart that takes the power of one that lifts so much in the air of others.

    ``power_factor``: power in the air of others over that of a rotor apart, 1 or more. Power goes with thrust to the
    power of 1.5. Raises ValueError for a factor below 1 or a lift below zero.
    """
    if not (power_factor >= 1 and lifted_g >= 0):
        raise ValueError("a power factor is 1 or more, a lift zero or more")
    return lifted_g * float(power_factor ** (2 / 3))


def by_square_law(thrust_g: float, greatest_g: float) -> float:
    """Throttle in per cent of full, by the square root of thrust over the greatest.

    Raises ValueError where the thrust is not between zero and the greatest.
    """
    if not 0 < thrust_g <= greatest_g:
        raise ValueError(f"a thrust of {thrust_g:g} g is not between 0 and {greatest_g:g} g")
    return 100 * math.sqrt(thrust_g / greatest_g)


def by_power_law(thrust_g: float, greatest_g: float, exponent: float) -> float:
    """As by_square_law, where thrust goes with the throttle to that power (above zero)."""
    if not (0 < thrust_g <= greatest_g and exponent > 0):
        raise ValueError("a thrust between zero and the greatest and an exponent above zero are needed")
    return 100 * float((thrust_g / greatest_g) ** (1 / exponent))


def by_readings(thrust_g: float, throttles_percent: ArrayLike, thrusts_g: ArrayLike) -> float:
    """Throttle in per cent between the readings of a thrust stand on both sides, by the square root of thrust.

    Raises ValueError where the readings do not reach to both sides.
    """
    throttle, thrust = np.asarray(throttles_percent, float), np.asarray(thrusts_g, float)
    order = np.argsort(thrust, kind="stable")
    throttle, thrust = throttle[order], thrust[order]
    if thrust.size < 2 or not max(0.0, thrust[0]) <= thrust_g <= thrust[-1]:
        raise ValueError("the readings do not reach to both sides of the thrust")
    return float(np.interp(math.sqrt(thrust_g), np.sqrt(np.maximum(thrust, 0.0)), throttle))
