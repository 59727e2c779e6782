"""How far a compass points wrong, on any heading, level or tilted.

Body axes are forward, right, down (ISO 1151); headings count clockwise from above, in degrees. A compass that
reads ``x = M·b + e`` in a field b, with M for its soft iron and scale and e for what is fixed to the aircraft,
shows a heading that is off by the angle between the horizontal parts of x and b.
"""

from __future__ import annotations

from functools import lru_cache
from typing import TYPE_CHECKING

from preflint.arrays import np
from preflint.compute.least_squares import Array
from preflint.frozen import dataclass

if TYPE_CHECKING:
    from numpy.typing import ArrayLike

_TILT_DIRECTIONS = 36


@dataclass(frozen=True, slots=True, eq=False)
class Deviations:
    """``error_deg`` (..., n, m): indicated minus true, the short way round, on n headings tilted in m directions.

    ``shown_ut`` (..., n, m): the horizontal field that the compass shows there; near zero it shows nothing.
    """

    error_deg: Array
    shown_ut: Array

    @property
    def worst_deg(self) -> float:
        return float(np.max(np.abs(self.error_deg)))

    @property
    def least_shown_ut(self) -> float:
        return float(np.min(self.shown_ut))


def deviations(
    heading_deg: ArrayLike,
    horizontal_ut: ArrayLike,
    down_ut: float,
    *,
    disturbance_ut: ArrayLike = (0.0, 0.0, 0.0),
    matrix: ArrayLike | None = None,
    tilt_deg: float = 0.0,
) -> Deviations:
    """The error of a compass on headings (n,) in a field of so much to the north, one number or (n,), and down.

    ``disturbance_ut``: (..., 3) in body axes; ``matrix``: (..., 3, 3), nothing for a compass without soft iron; with
    more axes, several compasses at once. Level, m is 1; tilted, the aircraft leans in 36 directions, one after the
    other, and the attitude is known.

    Raises ValueError for wrong shapes, numbers that are not finite or a field that is not above zero.
    """
    headings, e = np.asarray(heading_deg, dtype=float), np.asarray(disturbance_ut, dtype=float)
    north = np.asarray(horizontal_ut, dtype=float)
    m = np.eye(3) if matrix is None else np.asarray(matrix, dtype=float)
    if headings.ndim != 1 or not headings.size or e.shape[-1:] != (3,) or m.shape[-2:] != (3, 3):
        raise ValueError("headings (n,), disturbances (..., 3) and matrices (..., 3, 3) are needed")
    if north.shape not in ((), headings.shape):
        raise ValueError("the horizontal field is one number, or one for each heading")
    if not all(np.isfinite(part).all() for part in (headings, e, m, north, down_ut)):
        raise ValueError("headings, fields and matrix must be finite numbers")
    if not np.all(north > 0):
        raise ValueError("the horizontal field must be above zero")
    psi = np.radians(headings)[:, None]
    cosine, sine = np.cos(psi), np.sin(psi)
    north = north.reshape(-1, 1)
    field = np.concatenate([north * cosine, -north * sine, np.full(psi.shape, down_ut)], axis=1)
    of_matrix, of_disturbance = _levelled(float(tilt_deg))
    ways = of_disturbance.shape[1] // 2
    by_field = (m.reshape(*m.shape[:-2], 9) @ of_matrix).reshape(*m.shape[:-2], 2, 3, ways)
    fixed = (e @ of_disturbance).reshape(*e.shape[:-1], 2, 1, ways)
    x = field @ by_field + fixed  # (..., 2, n, m): forward and right
    forward, right = x[..., 0, :, :], x[..., 1, :, :]
    # Turned back by the heading, what is shown points wrong by its own angle.
    error = np.arctan2(-right * cosine - forward * sine, forward * cosine - right * sine)
    return Deviations(np.degrees(error), np.sqrt(forward**2 + right**2))


@lru_cache(64)
def _levelled(tilt_deg: float) -> tuple[Array, Array]:
    """What turns the matrix M of a compass, (9,), and what is fixed to it, (3,), into the horizontal part of what it
    shows, levelled again, in each of m directions of leaning: LᵀML, (9, 2·3·m), and Lᵀe, (3, 2·m).
    """
    lean = _lean(tilt_deg)
    level = lean[:, :, :2]
    both = np.einsum("mak,mbi->abkim", level, lean).reshape(9, -1)
    return np.ascontiguousarray(both), np.ascontiguousarray(level.transpose(1, 2, 0).reshape(3, -1))


def _lean(tilt_deg: float) -> Array:
    """Level axes to those of an aircraft that leans so far, in each of 36 directions; level: (m, 3, 3)."""
    ways = np.zeros(1) if tilt_deg == 0 else np.linspace(0, 2 * np.pi, _TILT_DIRECTIONS, endpoint=False)
    angle = np.radians(tilt_deg)
    x, y, zero = -np.sin(ways), np.cos(ways), np.zeros(ways.size)
    cross = np.array([[zero, zero, y], [zero, zero, -x], [-y, x, zero]]).transpose(2, 0, 1)
    return np.asarray(np.eye(3) + np.sin(angle) * cross + (1 - np.cos(angle)) * cross @ cross, dtype=float)
