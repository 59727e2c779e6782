"""How warm a copper wire gets.

Sources: FAA AC 43.13-1B CHG 1, p. 11-27 (one No. 14 wire in free air carries 47 A at a rise of 150 K); heat goes with
the square of the current (Joule) and is lost as Newton's law of cooling has it; IEC 60364-5-54, annex A, for what
copper heats up to before any heat is lost.
"""

import math

from preflint.compute.wire import wire_area_mm2, wire_diameter_mm

_REFERENCE_AWG, _REFERENCE_A, _REFERENCE_K = 14, 47.0, 150.0
_COPPER_A_S_PER_MM2 = 226.0  # √(heat per volume · 254.5 K / resistivity at 20 °C), IEC 60364-5-54, table A.54.1
_COPPER_B_C = 234.5  # at so many degrees below zero the resistance would be none; the same table


def steady_rise_k(gauge_awg: int, current_a: float) -> tuple[float, float]:
    """Least and most that one long wire in still air gets warmer than it, in K, once it no longer gets warmer.

    From the reference with the square of the current. To another gauge with the diameter to the power of -2, where
    a thin wire sheds heat better by its thinness, to -3, where each surface sheds alike.
    Raises ValueError for a gauge outside -3 to 40 or a current that is not zero or more.
    """
    rise = _REFERENCE_K * (_current(current_a) / _REFERENCE_A) ** 2
    thinner = wire_diameter_mm(_REFERENCE_AWG) / wire_diameter_mm(gauge_awg)
    both = rise * thinner**2, rise * thinner**3
    return min(both), max(both)


def short_time_factor(from_c: float, to_c: float) -> float:
    """k of t = (k·A/I)² for copper between two temperatures, in A·√s/mm².

    0 where it is as warm already. Raises ValueError for a temperature outside -100 to 400 °C.
    """
    for celsius in (from_c, to_c):
        if not -100 <= celsius <= 400:
            raise ValueError(f"a wire temperature of {celsius:g} °C is not between -100 and 400")
    if to_c <= from_c:
        return 0.0
    return _COPPER_A_S_PER_MM2 * math.sqrt(math.log1p((to_c - from_c) / (_COPPER_B_C + from_c)))


def seconds_until(gauge_awg: int, current_a: float, from_c: float, to_c: float) -> float:
    """How long a wire takes from one temperature to another if it loses no heat: t = (k·A/I)²; infinite at no current.

    Raises ValueError as ``short_time_factor`` and ``steady_rise_k`` do.
    """
    heat = short_time_factor(from_c, to_c) * wire_area_mm2(gauge_awg)
    return (heat / current_a) ** 2 if _current(current_a) else math.inf


def seconds_with_loss(no_loss_s: float, rise_k: float, settles_k: float) -> float:
    """How long a rise takes that would take so long if no heat were lost, where it settles at ``settles_k``.

    Newton's law of cooling: t = t₀·(s/r)·ln(s/(s - r)). Infinite where it settles lower. Raises ValueError for a time
    or a rise below zero.
    """
    if not (no_loss_s >= 0 and rise_k >= 0):
        raise ValueError("a time and a rise are zero or more")
    if rise_k == 0 or no_loss_s == 0:
        return 0.0
    if settles_k <= rise_k:
        return math.inf
    return no_loss_s * settles_k / rise_k * -math.log1p(-rise_k / settles_k)


def _current(current_a: float) -> float:
    if not (math.isfinite(current_a) and current_a >= 0):
        raise ValueError("a current is a finite number, zero or more")
    return current_a
