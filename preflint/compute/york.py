"""The line when both coordinates of every row are uncertain, alike in all rows, and its zero is known beforehand."""

from __future__ import annotations

import math

from preflint.arrays import np
from preflint.compute.least_squares import EPSILON, Array, Indeterminate
from preflint.frozen import dataclass


@dataclass(frozen=True, slots=True)
class Rows:
    """What a fit asks of rows that are all uncertain alike: how many they are, the means of x and y, and the sums of
    squares and products of what they are off their means.
    """

    n: int
    x: float
    y: float
    xx: float
    xy: float
    yy: float

    @classmethod
    def of(cls, xs: Array, ys: Array) -> Rows:
        """Of x and y, (n,) each, n at least 1. Raises ValueError if the numbers are too large to be squared."""
        with np.errstate(over="ignore", invalid="ignore"):
            x, y = float(xs.mean()), float(ys.mean())
            away_x, away_y = xs - x, ys - y
            found = cls(xs.size, x, y, float(away_x @ away_x), float(away_x @ away_y), float(away_y @ away_y))
        if not math.isfinite(found.xx + found.yy + x * x * found.n + y * y * found.n):
            raise ValueError("the numbers are too large to be fitted")
        return found

    def about(self, x: float, y: float) -> tuple[float, float, float]:
        """The sums of xx, xy and yy about another middle, so far off the mean."""
        return self.xx + self.n * x * x, self.xy + self.n * x * y, self.yy + self.n * y * y


@dataclass(frozen=True, slots=True)
class FromZero:
    """y = zero + slope·x with its covariance, as the uncertainties of rows and zero imply it."""

    zero: float
    slope: float
    variance_zero: float
    covariance: float
    variance_slope: float


def york(rows: Rows, u_x: float, u_y: float, u_zero: float) -> FromZero:
    """The line y = zero + slope·x, each row uncertain by ``u_x`` and ``u_y``, the zero being 0 within ``u_zero``.

    All are standard uncertainties, of independent errors; ``u_x`` may be zero. What is known of the zero is one more
    row: at x = 0, exact, y is 0 within ``u_zero``. Since the others are alike, sums over them are all that is asked.
    Source: D. York, N. Evensen, M. López Martínez, J. De Basabe Delgado, Am. J. Phys. 72 (2004) 367-375.

    Raises Indeterminate if all x are zero, ``u_y`` or ``u_zero`` is, or the iteration does not settle; ValueError for
    uncertainties that are none.
    """
    if not all(0 <= u < math.inf for u in (u_x, u_y, u_zero)):
        raise ValueError("uncertainties are finite, and zero or more")
    vx, vy, v_zero = u_x * u_x, u_y * u_y, u_zero * u_zero
    lever = 1 / math.sqrt(rows.n + 1)  # which gives the sums of the n + 1 rows about the middle of them all
    xx, xy, yy = rows.about(lever * rows.x, lever * rows.y)
    if xx == 0 or vy == 0 or v_zero == 0 or math.isinf(vx + vy + v_zero):
        raise Indeterminate("the rows and their uncertainties do not tell a slope")
    slope, steepness = xy / xx, math.sqrt(yy / xx)  # which a change of slope is small against, should it be near zero
    for _ in range(500):
        row = vy + slope * slope * vx  # the variance of one row
        total = rows.n / row + 1 / v_zero
        of_rows, of_zero = rows.n / row / total, 1 / v_zero / total  # their shares of the middle
        middle_x, middle_y = rows.x * of_rows, rows.y * of_rows
        off_x, off_y = rows.x * of_zero, rows.y * of_zero
        xx, xy, yy = rows.about(off_x, off_y)
        below = (vy * xx + slope * vx * xy) / row + middle_x * middle_x * row / v_zero
        if not below:
            raise Indeterminate("the rows and their uncertainties do not tell a slope")
        before = slope
        slope = ((vy * xy + slope * vx * yy) / row + middle_x * middle_y * row / v_zero) / below
        if abs(slope - before) <= 32 * EPSILON * (abs(slope) + steepness):
            break
    else:
        if not abs(slope - before) <= 1e-9 * (abs(slope) + steepness):
            raise Indeterminate("the fit with errors on both axes does not settle")
    # Where the fit puts the true x of the rows, from the middle: their mean, and how they lie about it. That of the
    # zero, which is exact, lies at -middle_x.
    of_x, of_y = vy / row, before * vx / row
    mean = of_x * off_x + of_y * off_y
    all_mean = of_rows * mean - of_zero * middle_x
    squares = of_x * of_x * rows.xx + 2 * of_x * of_y * rows.xy + of_y * of_y * rows.yy
    squares += rows.n * (mean - all_mean) * (mean - all_mean)
    at = middle_x + all_mean
    told = squares / row + at * at / v_zero
    variance_slope = 1 / told if told > 0 else math.inf
    variance_zero = 1 / total + at * at * variance_slope
    zero = middle_y - slope * middle_x
    if not math.isfinite(zero + variance_zero + variance_slope):
        raise Indeterminate("the rows and their uncertainties do not tell a slope")
    return FromZero(zero, slope, variance_zero, -at * variance_slope, variance_slope)
