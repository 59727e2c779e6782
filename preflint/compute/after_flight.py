"""What temperatures and mean outputs after a flight tell.

Thrust goes with the square of the output, as it does with the speed of a rotor: momentum theory, J. G. Leishman,
Principles of Helicopter Aerodynamics, chapter 2.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from preflint.arrays import np


def above_median_k(own_c: float, alike_c: Sequence[float]) -> float:
    """How much warmer a motor is than the median of all that work alike, itself among them, in K.

    Raises ValueError where fewer than three are told.
    """
    if len(alike_c) < 3:
        raise ValueError("a median of fewer than three motors tells nothing of one of them")
    from statistics import median  # loaded once it is asked

    return own_c - median(alike_c)


def output_ratio(share: float) -> float:
    """Output of a rotor that carries ``share`` of what two carry, over that of the other: √(share / (1 - share)).

    Raises ValueError for a share that is not between 0 and 1.
    """
    if not 0 < share < 1:
        raise ValueError(f"a share of {share:g} is not between 0 and 1")
    return math.sqrt(share / (1 - share))


def mean_ratio(some: Sequence[float], others: Sequence[float], reading_within: float) -> tuple[float, float]:
    """Mean of the one over mean of the other, and its standard uncertainty.

    ``reading_within`` is the half-width of each reading, in its unit. Raises ValueError where either is empty or the
    other's mean is not above zero.
    """
    if not some or not others or not sum(others) > 0 or not sum(some) > 0:
        raise ValueError("two means above zero are needed")
    one, other = float(np.mean(some)), float(np.mean(others))
    u = reading_within / math.sqrt(3)
    return one / other, one / other * math.hypot(u / math.sqrt(len(some)) / one, u / math.sqrt(len(others)) / other)


def trim_thrusts(
    outputs: Sequence[float], forward: Sequence[float], right: Sequence[float]
) -> tuple[tuple[float, ...], tuple[float, ...]]:
    """By how much of the mean thrust each rotor's is greater because of where the weight lies: forward, and right.

    The thrusts, squares of the outputs over their mean, are fitted by a plane over the rotors' places (any unit).
    Raises ValueError where the outputs are none above zero, or not as many as places.
    """
    if not (len(outputs) == len(forward) == len(right)) or not any(output > 0 for output in outputs):
        raise ValueError("as many outputs as places are needed, and some above zero")
    thrust = np.square(np.array(outputs, float))
    thrust /= thrust.mean()
    x, y = np.array(forward, float), np.array(right, float)
    of = np.stack([np.ones_like(x), x - x.mean(), y - y.mean()], axis=1)
    _, along, across = np.linalg.lstsq(of, thrust, rcond=None)[0]
    return tuple(map(float, along * (x - x.mean()))), tuple(map(float, across * (y - y.mean())))
