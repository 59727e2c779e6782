"""Weighted linear least squares, kept accurate for readings far from zero: what all fits stand on."""

from __future__ import annotations

import sys
from typing import TYPE_CHECKING, TypeAlias

from preflint.arrays import np
from preflint.frozen import dataclass

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

Array: TypeAlias = "NDArray[np.float64]"

EPSILON = sys.float_info.epsilon


class Indeterminate(ValueError):
    """The rows do not determine what is asked of them."""


@dataclass(frozen=True, slots=True, eq=False)
class Solution:
    """Parameters (p,) or (p, k), the inverse (p, p) of the normal matrix, the weighted sum of squared residuals.

    The inverse is the covariance of the parameters for rows whose root weights are 1/u.
    """

    parameters: Array
    inverse: Array
    chi_square: float


def solve(columns: list[Array], y: Array, root_weights: Array, why_not: str) -> Solution:
    """Least squares for y = Σ parameter·column, rows weighted by the squares of ``root_weights``; y is (n,) or (n, k).

    By orthogonal triangles (QR) with columns scaled to unit length. Raises Indeterminate with ``why_not`` if
    the columns do not determine the parameters, ValueError if the numbers are too large to be squared.
    """
    design = np.column_stack(columns)
    with np.errstate(over="ignore", invalid="ignore"):
        weighted = design * root_weights[:, None]
        lengths = np.linalg.norm(weighted, axis=0)
        target = (root_weights * y.T).T
        if not np.all(np.isfinite([*lengths, float(np.sum(target * target))])):
            raise ValueError("the numbers are too large to be fitted")
    if weighted.shape[0] < weighted.shape[1] or np.any(lengths == 0):
        raise Indeterminate(why_not)
    q, r = np.linalg.qr(weighted / lengths)
    if np.min(np.abs(np.diag(r))) <= 8 * EPSILON * weighted.shape[0]:
        raise Indeterminate(why_not)
    parameters = (np.linalg.solve(r, q.T @ target).T / lengths).T
    inverse_r = np.linalg.inv(r) / lengths[:, None]
    residuals = target - weighted @ parameters
    return Solution(parameters, inverse_r @ inverse_r.T, float(np.sum(residuals * residuals)))


def checked_rows(x: ArrayLike, y: ArrayLike, u_y: ArrayLike | None) -> tuple[Array, Array, Array]:
    """x, y and 1/u_y as arrays of one length; ValueError for what is not finite or does not match."""
    xs, ys = np.asarray(x, dtype=float), np.asarray(y, dtype=float)
    if xs.ndim != 1 or xs.shape != ys.shape or xs.size == 0:
        raise ValueError("x and y must be equally many, and at least one")
    if not (np.isfinite(xs).all() and np.isfinite(ys).all()):
        raise ValueError("x and y must be finite numbers")
    u = np.broadcast_to(np.asarray(1.0 if u_y is None else u_y, dtype=float), xs.shape)
    if not (np.isfinite(u).all() and np.all(u > 0)):
        raise ValueError("uncertainties of y must be finite and above zero")
    return xs, ys, 1 / u
