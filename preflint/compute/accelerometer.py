"""Zero and scale of each axis of an accelerometer, from readings at rest on several sides."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from preflint.arrays import np
from preflint.compute.least_squares import Array, Indeterminate
from preflint.frozen import dataclass

if TYPE_CHECKING:
    from numpy.typing import ArrayLike

_WORST_CONDITION = 1e3  # of the slopes: beyond it the sides do not tell zero from scale
_PARAMETERS = 6


@dataclass(frozen=True, slots=True, eq=False)
class Axes:
    """``zero`` (3,) in m/s²: what each axis shows where nothing acts; ``scale`` (3,): what it shows for each m/s².

    ``covariance`` (6, 6) of zero and then scale; ``off_m_s2`` (n,): how far each reading, corrected, is from gravity.
    """

    zero: Array
    scale: Array
    covariance: Array
    off_m_s2: Array


def fit_axes(readings: ArrayLike, gravity_m_s2: float, u_reading_m_s2: float) -> Axes:
    """The zeros and scales by which all readings at rest come to gravity, by least squares.

    At rest an accelerometer shows gravity and nothing else, whichever way it is turned: the length of
    (reading - zero) / scale is that of gravity. So no side needs to be plumb.

    ``readings``: (n, 3), six or more, rests on different sides, in m/s²; ``u_reading_m_s2``: standard uncertainty of
    each, taken as known; where the readings scatter more, that counts. Raises Indeterminate where the sides do not
    determine all six, ValueError for anything but finite numbers of that shape, a gravity or u not above zero.
    """
    points = np.asarray(readings, dtype=float)
    if points.ndim != 2 or points.shape[1] != 3 or not np.all(np.isfinite(points)):
        raise ValueError("readings are rows of three finite numbers")
    if not (gravity_m_s2 > 0 and u_reading_m_s2 > 0):
        raise ValueError("gravity and the uncertainty of a reading are above zero")
    if len(points) < _PARAMETERS:
        raise Indeterminate(f"{len(points)} readings are too few for zero and scale of three axes")
    low, high = points.min(axis=0), points.max(axis=0)
    if np.any(high - low <= 0):
        raise Indeterminate("an axis shows the same on every side")
    zero, scale = (high + low) / 2, (high - low) / 2 / gravity_m_s2
    for _ in range(100):
        off, slopes = _off(points, zero, scale, gravity_m_s2)
        if np.linalg.cond(slopes) > _WORST_CONDITION * max(1.0, gravity_m_s2):
            raise Indeterminate("the sides do not tell zero from scale")
        step = np.linalg.lstsq(slopes, -off, rcond=None)[0]
        zero, scale = zero + step[:3], scale + step[3:]
        if np.any(scale <= 0) or not np.all(np.isfinite(zero)):
            raise Indeterminate("the readings are not those of one accelerometer at rest")
        # Against the scale, in whatever unit the readings are: what is left to go is far below their last digit.
        if np.max(np.abs(step) / np.concatenate([gravity_m_s2 * scale, scale])) < 1e-10:
            break
    else:
        raise Indeterminate("the readings settle on no zero and scale")
    off, slopes = _off(points, zero, scale, gravity_m_s2)
    dof, u = len(points) - _PARAMETERS, u_reading_m_s2 / float(np.mean(scale))
    if dof > 0:
        u = max(u, math.sqrt(float(off @ off) / dof))
    return Axes(zero, scale, np.asarray(u**2 * np.linalg.inv(slopes.T @ slopes), dtype=float), off)


def _off(points: Array, zero: Array, scale: Array, gravity: float) -> tuple[Array, Array]:
    """Length of each corrected reading less gravity, (n,), and how it changes with zero and scale, (n, 6)."""
    true = (points - zero) / scale
    lengths = np.maximum(np.linalg.norm(true, axis=1), 1e-12)
    ways = true / lengths[:, None]
    return lengths - gravity, np.column_stack([-ways / scale, -ways * true / scale])


def tilt_of_zero_deg(zero_forward_m_s2: float, zero_right_m_s2: float, gravity_m_s2: float) -> float:
    """How far from level an aircraft is held that trusts these zeros, in degrees."""
    return math.degrees(math.atan2(math.hypot(zero_forward_m_s2, zero_right_m_s2), gravity_m_s2))
