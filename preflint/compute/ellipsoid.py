"""Spheres and ellipsoids through readings of a field while its sensor is turned about.

A perfect magnetometer in a constant field reads points on a sphere about zero; hard iron moves the centre,
soft iron makes an ellipsoid of it. How well the directions were covered shows in the covariance: readings of
one side only leave the centre uncertain. Lengths are in the unit of the points.
Sources: J. M. G. Merayo et al., Meas. Sci. Technol. 11 (2000) 120 (scalar calibration); W. Gander,
G. H. Golub, R. Strebel, BIT 34 (1994) 558 (geometric fit).
"""

from __future__ import annotations

import math
from collections.abc import Callable
from functools import cache
from typing import TYPE_CHECKING

from preflint.arrays import np
from preflint.compute.least_squares import Array, Indeterminate
from preflint.frozen import dataclass

if TYPE_CHECKING:
    from numpy.typing import ArrayLike

# Of the normal matrix of the scaled problem: beyond it the points do not determine the shape.
_LARGEST_CONDITION = 1e13
# Spread of points across over along: a flatter cloud is a turn on one side, and noise would tell how it is curved.
_FLATTEST = 0.25


@dataclass(frozen=True, slots=True, eq=False)
class Sphere:
    """Centre (d,), radius, and the covariance (d + 1, d + 1) of both in that order; d is 2 or 3.

    ``residual_sd`` is the scatter of the points about the surface.
    """

    centre: Array
    radius: float
    covariance: Array
    dof: int
    residual_sd: float


@dataclass(frozen=True, slots=True, eq=False)
class Ellipsoid:
    """All x with length of shape·(x - centre) = 1.

    ``centre``: (3,); ``shape``: (3, 3), symmetric, positive; ``covariance``: (9, 9) of the centre and then of
    shape xx, yy, zz, xy, xz, yz. ``residual_sd`` is the scatter of the points about the surface, ``residuals`` (n,)
    their distances from it, ``slopes`` (n, 9) how these change with the parameters, each in some unit of its own.
    """

    centre: Array
    shape: Array
    covariance: Array
    dof: int
    residual_sd: float
    residuals: Array
    slopes: Array

    @property
    def radius(self) -> float:
        """Of the sphere of the same volume: the strength of the field."""
        return float(np.linalg.det(self.shape) ** (-1 / 3))

    @property
    def u_radius(self) -> float:
        return self.radius / 3 * self._u_of(np.asarray(np.linalg.inv(self.shape), dtype=float))

    @property
    def semi_axes(self) -> Array:
        """Half-lengths of the three axes, longest first, (3,)."""
        return 1 / np.asarray(np.linalg.eigvalsh(self.shape))

    @property
    def axis_ratio(self) -> float:
        """Longest over shortest axis: 1 without soft iron."""
        axes = self.semi_axes
        return float(axes[0] / axes[-1])

    @property
    def u_axis_ratio(self) -> float:
        values, vectors = np.linalg.eigh(self.shape)
        longest, shortest = vectors[:, 0], vectors[:, -1]
        gradient = np.outer(shortest, shortest) / values[-1] - np.outer(longest, longest) / values[0]
        return self.axis_ratio * self._u_of(gradient)

    def corrected(self, points: ArrayLike) -> Array:
        """The readings (n, 3) with centre and shape taken out: on a sphere of :attr:`radius` about zero."""
        return self.radius * (np.asarray(points, dtype=float) - self.centre) @ self.shape

    def _u_of(self, gradient: Array) -> float:
        """Standard uncertainty of what changes by the sum of gradient·(change of shape)."""
        twice = np.where(np.eye(3, dtype=bool), gradient, 2 * gradient)
        slopes = np.array([twice[i, j] for i, j in _SHAPE])
        return math.sqrt(max(0.0, float(slopes @ self.covariance[3:, 3:] @ slopes)))


_SHAPE = ((0, 0), (1, 1), (2, 2), (0, 1), (0, 2), (1, 2))


@cache
def _turns() -> Array:
    """What one more in each of these six does to the matrix, (6, 3, 3)."""
    return np.array([[[float({i, j} == {row, column}) for column in range(3)] for row in range(3)] for i, j in _SHAPE])


def soft_iron_heading_error_deg(axis_ratio: float) -> float:
    """The largest error of heading (degrees) from an ellipse of this ratio of axes: asin((r - 1)/(r + 1)).

    Raises ValueError for a ratio below 1.
    """
    if not axis_ratio >= 1:
        raise ValueError("the longest axis is not shorter than the shortest")
    return math.degrees(math.asin((axis_ratio - 1) / (axis_ratio + 1))) if axis_ratio < math.inf else 90.0


def fit_sphere(points: ArrayLike) -> Sphere:
    """The sphere, or in two dimensions the circle, with the least sum of squared distances from the points.

    ``points``: (n, 3) or (n, 2), at least two more than dimensions. Raises Indeterminate if they are too few
    or lie in one plane (on one line), ValueError if they are not finite numbers of that shape.
    """
    scaled, middle, size = _scaled(points, (2, 3))
    n, d = scaled.shape
    if n < d + 2:
        raise Indeterminate(f"{n} points are too few for a sphere and its scatter")
    # The algebraic fit, linear in the centre, is near enough to start from.
    design = np.column_stack([2 * scaled, np.ones(n)])
    _determined(design, "the points lie in one plane")
    start = np.linalg.lstsq(design, np.sum(scaled**2, axis=1), rcond=None)[0]
    start[d] = math.sqrt(max(start[d] + start[:d] @ start[:d], 1e-12))

    def distances(parameters: Array) -> tuple[Array, Array]:
        away = scaled - parameters[:d]
        lengths = np.maximum(np.linalg.norm(away, axis=1), 1e-300)
        return lengths - parameters[d], np.column_stack([-away / lengths[:, None], -np.ones(n)])

    best, inverse, squares = _descend(distances, start)
    dof = n - d - 1
    return Sphere(
        centre=middle + size * best[:d],
        radius=size * float(best[d]),
        covariance=size**2 * squares / dof * inverse,
        dof=dof,
        residual_sd=size * math.sqrt(squares / dof),
    )


def fit_ellipsoid(points: ArrayLike) -> Ellipsoid:
    """The ellipsoid of nine parameters nearest the points, by their distance from it to first order.

    In lengths and not in shares of a radius: noise is a smaller share of a larger ellipsoid, which would so be
    preferred, and where one side only was covered by as much as the radius itself.

    ``points``: (n, 3), at least ten. Raises Indeterminate if they are too few, lie nearly in one plane or do not
    determine an ellipsoid, ValueError if they are not finite numbers of that shape.
    """
    scaled, middle, size = _scaled(points, (3,))
    n = len(scaled)
    if n < 10:
        raise Indeterminate(f"{n} points are too few for an ellipsoid and its scatter")

    def distances(parameters: Array) -> tuple[Array, Array]:
        away, shape = scaled - parameters[:3], shape_matrix(parameters[3:])
        mapped = away @ shape
        lengths = np.maximum(np.linalg.norm(mapped, axis=1), 1e-300)
        ways = mapped / lengths[:, None]
        steep = ways @ shape  # how fast the length grows: what makes a distance of it
        steepness = np.maximum(np.linalg.norm(steep, axis=1), 1e-300)
        moved = np.concatenate([np.broadcast_to(-shape[:, None, :], (3, n, 3)), away @ _turns()])  # (9, n, 3)
        along = np.sum(moved * ways, axis=2)
        turned = (moved - along[:, :, None] * ways) / lengths[:, None] @ shape
        turned[3:] += ways @ _turns()
        steeper = np.sum(turned * steep, axis=2) / steepness
        return (lengths - 1) / steepness, ((along - (lengths - 1) / steepness * steeper) / steepness).T

    best, inverse, squares = _descend(distances, _ellipsoid_start(scaled))
    residuals, slopes = distances(best)
    shape = shape_matrix(best[3:])
    if np.linalg.eigvalsh(shape)[0] <= 0:
        raise Indeterminate("the points do not determine an ellipsoid")
    dof = n - 9
    units = np.array([size] * 3 + [1 / size] * 6)
    return Ellipsoid(
        centre=middle + size * best[:3],
        shape=shape / size,
        covariance=squares / dof * inverse * np.outer(units, units),
        dof=dof,
        residual_sd=size * math.sqrt(squares / dof),
        residuals=size * residuals,
        slopes=slopes,
    )


def _ellipsoid_start(scaled: Array) -> Array:
    """Centre and shape from the algebraic quadric xᵀAx + 2bᵀx = 1; the middle of points on it lies inside."""
    x, y, z = scaled.T
    design = np.column_stack([x * x, y * y, z * z, 2 * x * y, 2 * x * z, 2 * y * z, 2 * x, 2 * y, 2 * z])
    why_not = "the points do not determine an ellipsoid; they cover too little of it"
    _determined(design, why_not)
    spread = np.linalg.svd(scaled, compute_uv=False)
    if spread[-1] < _FLATTEST * spread[0]:
        raise Indeterminate(why_not)
    solution = np.linalg.lstsq(design, np.ones(len(scaled)), rcond=None)[0]
    quadric, linear = shape_matrix(solution[:6]), solution[6:]
    values, vectors = np.linalg.eigh(quadric)
    if values[0] <= 1e-6 * values[-1]:
        sphere = fit_sphere(scaled)  # a quadric that is no ellipsoid: begin round
        return np.concatenate([sphere.centre, np.array([1, 1, 1, 0, 0, 0]) / sphere.radius])
    centre = -np.linalg.solve(quadric, linear)
    shape = vectors @ np.diag(np.sqrt(values / (1 + centre @ quadric @ centre))) @ vectors.T
    return np.concatenate([centre, shape_parameters(shape)])


def shape_parameters(shape: Array) -> Array:
    """Of a symmetric (3, 3) matrix: xx, yy, zz, xy, xz, yz."""
    return np.array([shape[i, j] for i, j in _SHAPE])


def shape_matrix(six: Array) -> Array:
    """The symmetric matrix (..., 3, 3) of xx, yy, zz, xy, xz, yz (..., 6)."""
    return np.asarray(six[..., [0, 3, 4, 3, 1, 5, 4, 5, 2]].reshape(*six.shape[:-1], 3, 3))


def _scaled(points: ArrayLike, dimensions: tuple[int, ...]) -> tuple[Array, Array, float]:
    """Points about their middle with a mean square distance of one, the middle, and the unit used."""
    values = np.asarray(points, dtype=float)
    if values.ndim != 2 or values.shape[1] not in dimensions or not np.all(np.isfinite(values)):
        raise ValueError(f"points are rows of {' or '.join(str(d) for d in dimensions)} finite numbers")
    if len(values) == 0:
        raise Indeterminate("no points")
    middle = values.mean(axis=0)
    size = math.sqrt(float(np.mean(np.sum((values - middle) ** 2, axis=1))))
    if size == 0:
        raise Indeterminate("all points are the same")
    return (values - middle) / size, middle, size


def _determined(design: Array, why_not: str) -> None:
    values = np.linalg.svd(design, compute_uv=False)
    if values[-1] ** 2 * _LARGEST_CONDITION <= values[0] ** 2:
        raise Indeterminate(why_not)


def _descend(distances: Callable[[Array], tuple[Array, Array]], start: Array) -> tuple[Array, Array, float]:
    """Levenberg and Marquardt: parameters, inverse normal matrix and sum of squares at the least sum."""
    at, damping = start, 1e-3
    residuals, slopes = distances(at)
    for _ in range(500):
        normal = slopes.T @ slopes
        try:
            step = np.linalg.solve(normal + damping * np.diag(np.diag(normal) + 1e-12), -slopes.T @ residuals)
        except np.linalg.LinAlgError:
            raise Indeterminate("the points tell no shape; they cover too little of it, or scatter too far") from None
        trial, trial_slopes = distances(at + step)
        before, after, moved = residuals @ residuals, trial @ trial, np.max(np.abs(step))
        if after <= before:
            at, residuals, slopes, damping = at + step, trial, trial_slopes, damping / 10
        else:
            damping *= 10
        if moved < 1e-14 or damping > 1e12 or (moved < 1e-6 and abs(before - after) <= 1e-10 * before):
            break  # points far off any such surface creep toward it; what is left to go is far below their scatter
    else:
        raise Indeterminate("the points settle on no shape; they cover too little of one, or scatter too far")
    _determined(slopes, "the points cover too little to determine the shape")
    inverse = np.asarray(np.linalg.inv(slopes.T @ slopes), dtype=float)
    return at, inverse, float(residuals @ residuals)
