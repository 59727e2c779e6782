"""The line when both coordinates of every row are uncertain."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from preflint.arrays import np
from preflint.compute.least_squares import EPSILON, Array, Indeterminate, checked_rows
from preflint.compute.regression import Line

if TYPE_CHECKING:
    from numpy.typing import ArrayLike


def york(x: ArrayLike, y: ArrayLike, u_x: ArrayLike, u_y: ArrayLike, correlation: ArrayLike = 0.0) -> Line:
    """The line y = intercept + slope·x when both coordinates of each row are uncertain.

    ``u_x`` and ``u_y`` are standard uncertainties (zero or more, not both zero in a row), ``correlation``
    that of the two errors of a row, between -1 and 1; each one number or one per row.
    Source: D. York, N. Evensen, M. López Martínez, J. De Basabe Delgado, Am. J. Phys. 72 (2004) 367-375.

    Raises Indeterminate if all x are equal or the iteration does not settle; ValueError for bad rows.
    """
    xs, ys, _ = checked_rows(x, y, None)
    ux, uy, r = (np.broadcast_to(np.asarray(one, dtype=float), xs.shape) for one in (u_x, u_y, correlation))
    if not ((ux >= 0).all() and (uy >= 0).all() and (ux + uy > 0).all() and np.isfinite(ux + uy).all()):
        raise ValueError("uncertainties on both axes are finite, zero or more, and not both zero in a row")
    if not np.all(np.abs(r) < 1):
        raise ValueError("a correlation lies between -1 and 1")
    slope = _plain_slope(xs, ys)
    vx, vy, both = ux**2, uy**2, r * ux * uy
    steepness = float(np.ptp(ys) / np.ptp(xs))  # what a change of slope is small against, should it be near zero
    for _ in range(500):
        apart = vy + (slope * ux) ** 2
        variance = apart - 2 * slope * both
        if (variance <= 4 * EPSILON * apart).any():  # what is left is what rounding leaves
            raise Indeterminate("errors on both axes cancel along this line; its slope cannot be told")
        weights = 1 / variance
        total = weights.sum()
        middle_x, middle_y = weights @ xs / total, weights @ ys / total
        away_x, away_y = xs - middle_x, ys - middle_y
        beta = weights * (away_x * vy + slope * away_y * vx - (slope * away_x + away_y) * both)
        leverage = weights * beta
        below = float(leverage @ away_x)
        if below == 0:
            raise Indeterminate("the rows do not tell a slope")
        before, slope = slope, float(leverage @ away_y) / below
        if abs(slope - before) <= 32 * EPSILON * (abs(slope) + steepness):
            break
    else:
        if abs(slope - before) > 1e-9 * (abs(slope) + steepness):
            raise Indeterminate("the fit with errors on both axes does not settle")
    mean_adjusted = float(weights @ beta / total)
    adjusted_x = float(middle_x) + mean_adjusted
    variance_slope = 1 / float(np.sum(weights * (beta - mean_adjusted) ** 2))
    residuals = away_y - slope * away_x
    return Line(
        intercept=float(middle_y - slope * middle_x),
        slope=slope,
        variance_intercept=1 / float(np.sum(weights)) + adjusted_x**2 * variance_slope,
        variance_slope=variance_slope,
        covariance=-adjusted_x * variance_slope,
        dof=xs.size - 2,
        chi_square=float(np.sum(weights * residuals**2)),
        r_squared=None,
        f=None,
    )


def _plain_slope(xs: Array, ys: Array) -> float:
    """Of the line by least squares, all rows alike: where the iteration begins."""
    away_x, away_y = xs - xs.mean(), ys - ys.mean()
    with np.errstate(over="ignore", invalid="ignore"):
        across, along, up = float(away_x @ away_x), float(away_x @ away_y), float(away_y @ away_y)
    if not math.isfinite(across + up):
        raise ValueError("the numbers are too large to be fitted")
    if across == 0 or np.max(np.abs(away_x)) <= 8 * EPSILON * np.max(np.abs(xs)):
        raise Indeterminate("all x are equal: slope and intercept cannot be told apart")
    return along / across
