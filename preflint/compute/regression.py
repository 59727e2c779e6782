"""Straight lines through readings, with the covariance of what they say.

Rows are one-dimensional arrays of one length. ``u_y`` is the standard uncertainty of y, one number or one per
row. With it, rows count by 1/u_y² and the covariance is what these uncertainties imply; without it, all rows
count alike and the covariance comes from the scatter of the rows about the line.
Source: GUM H.3 for the use of the covariance.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from preflint.arrays import np
from preflint.compute.least_squares import EPSILON, Array, Indeterminate, Solution, checked_rows, solve
from preflint.compute.plateaus import correlation_length
from preflint.frozen import dataclass

if TYPE_CHECKING:
    from numpy.typing import ArrayLike

# Fewer do not tell whether they resemble their neighbours.
_MANY_ROWS = 20


@dataclass(frozen=True, slots=True)
class Line:
    """y = intercept + slope·x with its covariance, in the units of the rows.

    ``chi_square`` is the weighted sum of squared residuals; without weights the plain sum, in units of y².
    ``residual_sd`` is its root per degree of freedom: the scatter of the rows in units of y or, with
    weights, in units of the uncertainties declared. None where no degree of freedom is left.
    ``r_squared`` and ``f`` are None where they mean nothing (no spread in y, no residual, a prior).
    """

    intercept: float
    slope: float
    variance_intercept: float
    variance_slope: float
    covariance: float
    dof: int
    chi_square: float
    r_squared: float | None
    f: float | None

    @property
    def u_intercept(self) -> float:
        return math.sqrt(self.variance_intercept)

    @property
    def u_slope(self) -> float:
        return math.sqrt(self.variance_slope)

    @property
    def residual_sd(self) -> float | None:
        return math.sqrt(self.chi_square / self.dof) if self.dof > 0 else None

    def predict(self, x: float) -> tuple[float, float]:
        """The line at x, and its standard uncertainty with the covariance of slope and intercept counted."""
        variance = self.variance_intercept + 2 * x * self.covariance + x * x * self.variance_slope
        return self.intercept + self.slope * x, math.sqrt(max(0.0, variance))


def line_through_origin(x: ArrayLike, y: ArrayLike, u_y: ArrayLike | None = None) -> Line:
    """Least squares for y = slope·x. R² refers to the uncentred sum of squares, as NIST StRD has it.

    Raises Indeterminate if every x is zero, or if one row is to tell its own scatter; ValueError for rows
    that are not finite numbers of one length, or a ``u_y`` not above zero.
    """
    xs, ys, root_weights = checked_rows(x, y, u_y)
    fit = solve([xs], ys, root_weights, "every x is zero: no slope through the origin can be told")
    dof = xs.size - 1
    scatter = _scatter(fit.chi_square, dof, u_y)
    total = float(np.sum((root_weights * ys) ** 2))
    return Line(
        intercept=0.0,
        slope=float(fit.parameters[0]),
        variance_intercept=0.0,
        variance_slope=float(fit.inverse[0, 0]) * scatter,
        covariance=0.0,
        dof=dof,
        chi_square=fit.chi_square,
        r_squared=_r_squared(fit.chi_square, total),
        f=_f(fit.chi_square, total, dof),
    )


def line(x: ArrayLike, y: ArrayLike, u_y: ArrayLike | None = None) -> Line:
    """Least squares for y = intercept + slope·x.

    Raises Indeterminate if all x are equal, or if two rows are to tell their own scatter; ValueError for
    rows that are not finite numbers of one length, or a ``u_y`` not above zero.
    """
    xs, ys, root_weights = checked_rows(x, y, u_y)
    middle_x, middle_y = _centre(xs, root_weights), _centre(ys, root_weights)
    away_x = xs - middle_x
    if np.max(np.abs(away_x)) <= 8 * EPSILON * np.max(np.abs(xs)):
        raise Indeterminate("all x are equal: slope and intercept cannot be told apart")
    fit = solve([np.ones_like(xs), away_x], ys - middle_y, root_weights, "too few rows for a line")
    dof = xs.size - 2
    scatter = _scatter(fit.chi_square, dof, u_y)
    total = float(np.sum((root_weights * (ys - middle_y)) ** 2))
    return _uncentred(
        fit,
        middle_x,
        middle_y,
        scatter=scatter,
        dof=dof,
        r_squared=_r_squared(fit.chi_square, total),
        f=_f(fit.chi_square, total, dof),
    )


def line_with_intercept_prior(
    x: ArrayLike, y: ArrayLike, u_y: ArrayLike, u_intercept: float, intercept: float = 0.0
) -> Line:
    """Least squares for y = intercept + slope·x, knowing beforehand that the intercept is about so much.

    The prior counts as one more row, so one reading is enough and each further one is a degree of
    freedom. ``u_intercept`` is its standard uncertainty, finite and above zero.

    Raises Indeterminate if every x is zero; ValueError as :func:`line` does.
    """
    if not (math.isfinite(u_intercept) and u_intercept > 0 and math.isfinite(intercept)):
        raise ValueError("the prior of an intercept is a finite number with an uncertainty above zero")
    xs, ys, root_weights = checked_rows(x, y, u_y)
    middle_x, middle_y = _centre(xs, root_weights), _centre(ys, root_weights)
    # The heavy row goes first, which keeps the elimination accurate.
    at_x_zero = np.array([-middle_x])
    fit = solve(
        [np.ones(xs.size + 1), np.concatenate([at_x_zero, xs - middle_x])],
        np.concatenate([[intercept - middle_y], ys - middle_y]),
        np.concatenate([[1 / u_intercept], root_weights]),
        "every x is zero: no slope can be told",
    )
    return _uncentred(fit, middle_x, middle_y, scatter=1.0, dof=xs.size - 1, r_squared=None, f=None)


@dataclass(frozen=True, slots=True, eq=False)
class VectorLine:
    """B = at_zero + slope·I + drift·t, each of shape (3,); ``drift`` is None if no time was given.

    ``slope_covariance`` and ``drift_covariance`` are (3, 3), in the squares of their units, and belong to
    ``dof``. ``residual_sd`` is the scatter of each axis about the fit, (3,), or None if no row is to spare.
    """

    at_zero: Array
    slope: Array
    drift: Array | None
    slope_covariance: Array
    drift_covariance: Array | None
    dof: float
    residual_sd: Array | None


def vector_line(
    current: ArrayLike,
    field: ArrayLike,
    *,
    time: ArrayLike | None = None,
    u_field: ArrayLike | None = None,
    u_current: ArrayLike | None = None,
) -> VectorLine:
    """Least squares for a vector that follows a current and, if times are given, drifts.

    ``current``: (n,); ``time``: (n,); ``field``: (n, 3), rows in the order taken. ``u_field``: (n, 3) and
    ``u_current``: (n,) are standard uncertainties of each component and of each current; the latter moves
    all three components together, by slope·u (effective variance).

    Without ``u_field`` all rows count alike, the covariance comes from the residuals, cross terms and all, and
    has n less the number of terms as degrees of freedom. With it, rows count by what is declared, and the
    covariance is what that implies. Where the rows scatter more, the excess, pooled over axes and rows, is added to
    every row as one more component, shared out over as many directions as scatter (GUM 4.2; what differs from
    step to step is no fewer for more readings in each). From twenty rows on, residuals that resemble their
    neighbours' count for as few as they are worth. Each direction that scatters, from one to three, has the rows to
    spare as degrees of freedom: so a ball by :func:`expanded_radius_3d` is little wider than the F-distribution asks
    for where all directions scatter alike, and holds the slope where only one does. Counted over 2500 draws each, with
    2, 3, 4 and 8 rows to spare: 97, 97, 96 and 96 % held where all scatter alike, by a median radius of 4.4, 3.6, 3.4
    and 3.1 σ (the F-distribution asks for 3.8, 3.4, 3.2 and 3.0); 98 % and more where only one does; 94 % with 2 to 4
    to spare where one has ten times the variance of the others, since so few rows leave open how many scatter. One row
    to spare tells no directions and counts as one. With no row to spare what is declared stands as it is, at infinite
    dof.

    Raises Indeterminate if the currents are equal, if current and time cannot be told apart, or if no row is
    left to tell the scatter; ValueError for rows that are not finite or do not match.
    """
    amperes = np.asarray(current, dtype=float)
    vectors = np.asarray(field, dtype=float)
    if amperes.ndim != 1 or vectors.shape != (amperes.size, 3) or amperes.size == 0:
        raise ValueError("currents of shape (n,) need field vectors of shape (n, 3), and at least one")
    columns = [np.ones_like(amperes), amperes - amperes.mean()]
    if time is not None:
        seconds = np.asarray(time, dtype=float)
        if seconds.shape != amperes.shape:
            raise ValueError("times and currents must be equally many")
        columns.append(seconds - seconds.mean())
    sigma = np.ones_like(vectors) if u_field is None else np.asarray(u_field, dtype=float)
    u_amperes = np.zeros_like(amperes) if u_current is None else np.asarray(u_current, dtype=float)
    if sigma.shape != vectors.shape or u_amperes.shape != amperes.shape:
        raise ValueError("uncertainties of the field need the shape of the field, (n, 3), those of currents theirs")
    if not all(np.isfinite(part).all() for part in (*columns, vectors, sigma, u_amperes)) or np.any(sigma <= 0):
        raise ValueError("currents, times, fields and uncertainties must be finite, uncertainties above zero")
    if np.max(np.abs(columns[1])) <= 8 * EPSILON * np.max(np.abs(amperes)):
        raise Indeterminate("all currents are equal: their effect cannot be told")
    why = "too few rows, or the current only ever grows with time: its effect cannot be told from drift"
    parameters, influence = _common_fit(columns, vectors, np.mean(sigma**2, axis=1), why)
    declared = _declared(sigma, u_amperes, parameters[1])
    if np.any(u_amperes > 0):
        parameters, influence = _common_fit(columns, vectors, np.trace(declared, axis1=1, axis2=2) / 3, why)
        declared = _declared(sigma, u_amperes, parameters[1])
    spare = amperes.size - len(columns)
    design = np.column_stack(columns)
    residuals = vectors - design @ parameters
    if u_field is None and spare < 1:
        raise Indeterminate("no row is left to tell the scatter of the field")
    dof: float = math.inf
    if u_field is None:
        of_rows, dof = np.broadcast_to(residuals.T @ residuals / spare, declared.shape), spare
    elif spare < 1:
        of_rows = declared
    else:
        explained = np.einsum("i,ikl->kl", 1 - np.einsum("ij,ji->i", design, influence), declared)
        excess, dof = _excess(residuals, explained, spare)
        of_rows = declared + excess * np.eye(3)
    covariances = np.einsum("pi,pi,ikl->pkl", influence, influence, of_rows)
    origin = parameters[0] - parameters[1] * amperes.mean()
    if time is not None:
        origin = origin - parameters[2] * seconds.mean()
    return VectorLine(
        at_zero=origin,
        slope=parameters[1],
        drift=None if time is None else parameters[2],
        slope_covariance=covariances[1],
        drift_covariance=None if time is None else covariances[2],
        dof=dof,
        residual_sd=np.sqrt(np.sum(residuals**2, axis=0) / spare) if spare > 0 else None,
    )


def _common_fit(columns: list[Array], vectors: Array, variance: Array, why: str) -> tuple[Array, Array]:
    """Parameters (p, 3), and what each row moves each parameter by, (p, n); one weight a row for all axes."""
    root_weights = 1 / np.sqrt(variance)
    fit = solve(columns, vectors, root_weights, why)
    return fit.parameters, fit.inverse @ (np.column_stack(columns) / variance[:, None]).T


def _declared(sigma: Array, u_current: Array, slope: Array) -> Array:
    """Covariance (n, 3, 3) of each row: its axes apart, and what its current is uncertain by along the slope."""
    axes = sigma[:, :, None] ** 2 * np.eye(3)
    return np.asarray(axes + u_current[:, None, None] ** 2 * np.outer(slope, slope))


def _excess(residuals: Array, explained: Array, spare: int) -> tuple[float, float]:
    """Variance beyond what is declared in each direction that scatters, and its degrees of freedom.

    ``explained`` (3, 3): the sum of squared residuals that is to be expected.
    """
    seen = residuals.T @ residuals
    worth = 1.0
    if len(residuals) >= _MANY_ROWS:
        worth = correlation_length(residuals @ np.linalg.eigh(seen - explained)[1][:, -1])
    spare_worth = max(1.0, spare / worth)
    each = float(np.trace(explained)) / 3
    # What is declared scatters in all directions, and readings that hide it do so by luck.
    directions = _directions(np.maximum(np.linalg.eigvalsh(seen), each) / spare, spare_worth)
    excess = max(0.0, float(np.trace(seen)) / directions - each) / spare
    return excess * worth, directions * spare_worth


def _directions(scatter: Array, dof: float) -> float:
    """In how many directions, 1 to 3, something scatters: (tr Σ)²/tr Σ², as Welch and Satterthwaite count them.

    ``scatter`` (3,), variances along its axes, estimates Σ with ``dof`` degrees of freedom. Both traces are freed of
    their bias by the second moments of a Wishart matrix (T. W. Anderson, An Introduction to Multivariate Statistical
    Analysis, chapter 7; from memory): E[tr S²] = (1 + 1/n)·tr Σ² + (tr Σ)²/n and E[(tr S)²] = (tr Σ)² + 2·tr Σ²/n.
    """
    if dof < 2:
        return 1.0
    of_square, squared = float(scatter @ scatter), float(scatter.sum()) ** 2
    sum_of_squares = (of_square - squared / dof) / (1 + 1 / dof - 2 / dof**2)
    if sum_of_squares <= 0:
        return 3.0
    return min(3.0, max(1.0, (squared - 2 * sum_of_squares / dof) / sum_of_squares))


def _uncentred(
    fit: Solution,
    middle_x: float,
    middle_y: float,
    *,
    scatter: float,
    dof: int,
    r_squared: float | None,
    f: float | None,
) -> Line:
    """The line about the origin of x, from a fit about the middle of the rows."""
    at_middle, slope = (float(one) for one in fit.parameters)
    back = np.array([[1.0, -middle_x], [0.0, 1.0]])
    covariance = back @ fit.inverse @ back.T * scatter
    return Line(
        intercept=middle_y + at_middle - slope * middle_x,
        slope=slope,
        variance_intercept=float(covariance[0, 0]),
        variance_slope=float(covariance[1, 1]),
        covariance=float(covariance[0, 1]),
        dof=dof,
        chi_square=fit.chi_square,
        r_squared=r_squared,
        f=f,
    )


def _centre(values: Array, root_weights: Array) -> float:
    return float(np.average(values, weights=root_weights**2))


def _scatter(chi_square: float, dof: int, u_y: ArrayLike | None) -> float:
    """What the covariance for unit weights is multiplied with."""
    if u_y is not None:
        return 1.0
    if dof < 1:
        raise Indeterminate("no row is left to tell the scatter of the readings")
    return chi_square / dof


def _r_squared(chi_square: float, total: float) -> float | None:
    return 1 - chi_square / total if total > 0 else None


def _f(chi_square: float, total: float, dof: int) -> float | None:
    return (total - chi_square) / (chi_square / dof) if chi_square > 0 and dof > 0 else None
