"""From a value and its uncertainty to a decision that the uncertainty can carry.

Sources: GUM (JCGM 100:2008) Annex G for coverage factors and effective degrees of freedom, JCGM 106:2012 for
guard bands on both sides of a tolerance, ISO 13528 for the normalised error.
Degrees of freedom may be fractions; ``math.inf`` stands for a standard uncertainty taken as exact.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from functools import lru_cache
from typing import TYPE_CHECKING, Literal

from preflint.arrays import np

if TYPE_CHECKING:
    from numpy.typing import ArrayLike


Decision = Literal["found", "clear", "uncertain"]

_SERIES_FROM_DOF = 10_000.0
_NORMAL_95 = 1.9599639845400536  # which nearly every run asks for: working it out loads a library


@lru_cache(maxsize=1024)
def t_factor(dof: float, confidence: float = 0.95) -> float:
    """Two-sided coverage factor of Student's t: the k for U = k·u.

    ``dof`` above zero (fractions and infinity allowed), ``confidence`` between 0 and 1; else ValueError.
    Source: GUM G.3 and Table G.2.
    """
    if not dof > 0:
        raise ValueError(f"degrees of freedom must be above zero, not {dof:g}")
    if not 0 < confidence < 1:
        raise ValueError(f"a confidence lies between 0 and 1, not at {confidence:g}")
    if dof >= _SERIES_FROM_DOF:
        return _t_by_series(dof, _NORMAL_95 if confidence == 0.95 else _normal(confidence))
    # P(|T| > t) is the incomplete beta function at dof / (dof + t²).
    return _radius(dof, _where_beta_reaches(1 - confidence, dof / 2, 0.5))


def _normal(confidence: float) -> float:
    """The same of a normal distribution."""
    from statistics import NormalDist  # hardly any run asks

    return NormalDist().inv_cdf((1 + confidence) / 2)


def effective_dof(components: Iterable[tuple[float, float]]) -> float:
    """Welch–Satterthwaite: effective degrees of freedom of independent (u, dof) that add in squares.

    Infinite if nothing contributes or all degrees of freedom are infinite.
    Source: GUM G.4.1, equation (G.2b).
    """
    pairs = [(u, dof) for u, dof in components if u != 0]
    largest = max((abs(u) for u, _ in pairs), default=0.0)
    if largest == 0:
        return math.inf
    # Relative to the largest, so that fourth powers neither vanish nor overflow.
    squares = math.fsum((u / largest) ** 2 for u, _ in pairs)
    shares = math.fsum((u / largest) ** 4 / dof for u, dof in pairs)
    return math.inf if shares == 0 else squares**2 / shares


@lru_cache(maxsize=1024)
def chi_square_limit(dof: float, confidence: float = 0.95) -> float:
    """What chi-squared stays below with this confidence, where what was declared is true.

    ``dof`` above zero (fractions allowed, infinity not), ``confidence`` between 0 and 1; else ValueError.
    """
    if not (dof > 0 and math.isfinite(dof)):
        raise ValueError(f"degrees of freedom must be above zero and finite, not {dof:g}")
    if not 0 < confidence < 1:
        raise ValueError(f"a confidence lies between 0 and 1, not at {confidence:g}")
    half = dof / 2
    constant = math.lgamma(half + 1)
    # Newton's steps in the logarithms of probability and value, which bend one way: from below, where the leading term
    # alone would reach it, none leads past.
    at, step = (math.log(confidence) + constant) / half, math.inf
    while step > 1e-11:  # each squares what is left to go
        series = _gamma_series(half, math.exp(at))
        step = (math.log(confidence) - (half * at - math.exp(at) - constant + math.log(series))) * series / half
        at += step
    return 2 * math.exp(at)


def _gamma_series(a: float, x: float) -> float:
    """The sum by which the lower incomplete gamma function exceeds its leading term (Abramowitz and Stegun 6.5.29)."""
    series = term = 1.0
    while term > 1e-16 * series:
        a += 1
        term *= x / a
        series += term
    return series


def decide(error: float, standard_uncertainty: float, dof: float, tolerance: float) -> Decision:
    """Whether an error is beyond a tolerance, within it, or too uncertain to tell, at 95 %.

    With e the size of the error and U = t·u: *found* if e - U > tolerance, *clear* if e + U ≤ tolerance,
    else *uncertain*.
    Error and tolerance in one unit. Source: JCGM 106:2012, guard bands on both sides.

    Raises ValueError for an error that is no finite number, or a negative uncertainty or tolerance.
    """
    if not math.isfinite(error):
        raise ValueError("nothing can be decided about an error that is not a finite number")
    if not standard_uncertainty >= 0:
        raise ValueError("a standard uncertainty is zero or more")
    if not (math.isfinite(tolerance) and tolerance >= 0):
        raise ValueError("a tolerance is a finite number, zero or more")
    expanded = t_factor(dof) * standard_uncertainty
    if abs(error) - expanded > tolerance:
        return "found"
    return "clear" if abs(error) + expanded <= tolerance else "uncertain"


def normalised_error(one: float, expanded_one: float, other: float, expanded_other: float) -> float:
    """Eₙ of two independent values with expanded uncertainties: they agree if it is at most 1.

    Absolute value. Two instruments of one model share their errors and are not independent.
    Source: ISO 13528. Infinite for different values without uncertainty.
    """
    difference = abs(one - other)
    if difference == 0:
        return 0.0
    expanded = math.hypot(expanded_one, expanded_other)
    return difference / expanded if expanded > 0 else math.inf


def u_rectangular(half_width: float) -> float:
    """Standard uncertainty of "within ± half_width, anywhere alike". Source: GUM 4.3.7."""
    return half_width / math.sqrt(3)


def u_triangular(half_width: float) -> float:
    """Standard uncertainty of "within ± half_width, most likely in the middle". Source: GUM 4.3.9."""
    return half_width / math.sqrt(6)


def u_arcsine(half_width: float) -> float:
    """Standard uncertainty of a U-shaped spread: what swings like a sine between ± half_width."""
    return half_width / math.sqrt(2)


def expanded_radius_2d(covariance: ArrayLike, dof: float = math.inf) -> float:
    """Radius of a circle that holds the true two-dimensional vector with 95 %.

    ``covariance``: (2, 2); the circle is drawn around its longest axis, 2.45·√λ_max for a covariance taken
    as exact, and wider by the F-distribution for one estimated with ``dof`` degrees of freedom.
    """
    return _expanded_radius(covariance, dof, 2)


def expanded_radius_3d(covariance: ArrayLike, dof: float = math.inf) -> float:
    """Radius of a ball that holds the true three-dimensional vector with 95 %: 2.80·√λ_max or more."""
    return _expanded_radius(covariance, dof, 3)


def _expanded_radius(covariance: ArrayLike, dof: float, dimensions: int) -> float:
    matrix = np.asarray(covariance, dtype=float)
    if matrix.shape != (dimensions, dimensions) or not np.isfinite(matrix).all():
        raise ValueError(f"a covariance of {dimensions} by {dimensions} finite numbers is needed")
    if not dof > 0:
        raise ValueError(f"degrees of freedom must be above zero, not {dof:g}")
    longest = max(0.0, float(np.linalg.eigvalsh(matrix)[-1]))
    return _unit_radius(dof, dimensions) * math.sqrt(longest)


@lru_cache(maxsize=1024)
def _unit_radius(dof: float, dimensions: int) -> float:
    """The radius for a covariance of one in each direction."""
    # The radius squared is dimensions·F(dimensions, dof), and x is dof / (dof + radius²). From a million degrees of
    # freedom the radius differs by two in a million from that of infinitely many.
    if dof >= 1e6:
        return math.sqrt(chi_square_limit(dimensions))
    return _radius(dof, _where_beta_reaches(0.05, dof / 2, dimensions / 2))


def _radius(dof: float, x: float) -> float:
    """The r of x = dof / (dof + r²)."""
    return math.sqrt(dof * (1 - x) / x) if x > 0 else math.inf


def _t_by_series(dof: float, z: float) -> float:
    """Student's t around the normal z (Abramowitz and Stegun 26.7.5)."""
    first = (z**3 + z) / 4
    second = (5 * z**5 + 16 * z**3 + 3 * z) / 96
    return z + first / dof + second / dof**2


def _where_beta_reaches(probability: float, a: float, b: float) -> float:
    """The x at which the regularised incomplete beta function I_x(a, b) is ``probability``; 0 below exp(-700)."""
    # Newton's steps in the logarithm of x, since x gets very small for few degrees of freedom; halfway instead where
    # one leads out of what is left. Begins where the leading term xᵃ/(a·B) reaches it.
    constant = math.lgamma(a + b) - math.lgamma(a) - math.lgamma(b)
    low, high = -700.0, 0.0
    to = (math.log(probability) + math.log(a) - constant) / a
    for _ in range(200):
        at = to if low < to < high else (low + high) / 2
        reached = _regularised_beta(math.exp(at), a, b)
        if reached < probability:
            low = at
        else:
            high = at
        slope = math.exp(min(700.0, constant + a * at + (b - 1) * math.log(-math.expm1(at))))
        to = math.nan  # halfway, unless there is a slope to follow
        if min(reached, slope) > 1e-300:
            to = at + reached / slope * (math.log(probability) - math.log(reached))
        if abs(to - at) <= 1e-11 * abs(at):  # each step squares what is left to go
            return math.exp(to)
    return 0.0 if at < -699 else math.exp(at)  # halved to the last digit


def _regularised_beta(x: float, a: float, b: float) -> float:
    """I_x(a, b) by its continued fraction (Abramowitz and Stegun 26.5.8), evaluated by Lentz's method."""
    if x <= 0 or x >= 1:
        return float(x >= 1)
    if x > (a + 1) / (a + b + 2):
        return 1 - _regularised_beta(1 - x, b, a)
    tiny = 1e-300
    fraction, c, d = 1.0, 1.0, 0.0
    step, change = 0, 0.0
    while abs(change - 1) > 1e-15:  # some √(a + b) steps, each nearer; in 117 million draws never more than 1,730
        step += 1
        m = step // 2
        if step % 2:
            term = -(a + m) * (a + b + m) * x / ((a + 2 * m) * (a + 2 * m + 1))
        else:
            term = m * (b - m) * x / ((a + 2 * m - 1) * (a + 2 * m))
        c = 1 + term / c or tiny
        d = 1 / (1 + term * d or tiny)
        change = c * d
        fraction *= change
    front = a * math.log(x) + b * math.log1p(-x) + math.lgamma(a + b) - math.lgamma(a) - math.lgamma(b)
    return math.exp(front) / (a * fraction)
