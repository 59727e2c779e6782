"""What bounded rotors can give together: sums of columns, each taken between none and all of it.

All such sums of a (d, n) matrix fill a zonotope. Its facets are known in closed form, each being spanned by d - 1 of
the columns, so that the best share over all ways of dividing a load comes exactly from a few thousand dot products:
no linear programme has to be solved, and no tolerance of a solver decides.

Source: G. M. Ziegler, Lectures on Polytopes, 7.3 (facets of zonotopes); G.-X. Du, Q. Quan, B. Yang, K.-Y. Cai,
J. Guidance, Control, and Dynamics 38(5), 2015 (the distance as an index of what control is left).
"""

from __future__ import annotations

import math
from functools import lru_cache
from itertools import combinations
from typing import TYPE_CHECKING

from preflint.arrays import np

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

    Array = NDArray[np.float64]


_NOTHING = 1e-9  # of what is there: less is a rounding error


def least_greatest_share(columns: ArrayLike, load: ArrayLike) -> Array:
    """How much of its all the hardest worked column gives, where the load is shared as well as can be.

    ``columns``: (d, n), what each gives at its all; ``load``: (..., d), what is asked, one or several; (...,). Shares
    are zero or more; above 1 some column has too little, infinity where no shares give the load. Raises ValueError for
    other shapes or values.
    """
    gives, asked, reached = _within_span(*_checked(columns, load, several=True))
    normals = _facet_normals(gives)
    along = normals @ gives
    wanted = asked @ normals.T
    most, least = np.maximum(along, 0).sum(axis=1), np.minimum(along, 0).sum(axis=1)
    rounding = _NOTHING * np.linalg.norm(asked, axis=-1, keepdims=True)
    greatest = np.zeros(reached.shape)
    for reach, needs in ((most, wanted), (-least, -wanted)):
        none = reach <= _NOTHING * np.abs(along).sum(axis=1)
        reached = reached & ~np.any(needs[..., none] > rounding, axis=-1)
        greatest = np.maximum(greatest, np.max(needs[..., ~none] / reach[~none], axis=-1, initial=0.0))
    return np.where(reached, greatest, math.inf)


def even_margin(columns: ArrayLike, load: ArrayLike) -> float:
    """The part of each column's half range that can be left free on both sides while the load is held; no unit.

    1 where the load is that of all columns at half, 0 at the limit of what can be held, below 0 beyond it; minus
    infinity where the columns do not reach all directions of the load. Shapes and errors as above.
    """
    gives, asked, reached = _within_span(*_checked(columns, load))
    if not reached:
        return -math.inf
    normals = _facet_normals(gives)
    half = np.abs(normals @ gives).sum(axis=1) / 2
    off = np.abs(normals @ (asked - gives.sum(axis=1) / 2))
    left = 1 - float(np.max(off / half))
    return left if abs(left) > _NOTHING else 0.0


def distance_to_limit(columns: ArrayLike, load: ArrayLike) -> float:
    """Distance of the load from the boundary of what the columns give, in the units of the rows; below 0 outside.

    Rows of several units (N and N m) are mixed, so that it compares only with what has the same units and rows. Zero,
    or below, where the columns do not span all rows: the boundary is everywhere. Shapes and errors as above.
    """
    gives, asked = _checked(columns, load)
    size = _sizes(gives)
    scaled, wanted = gives / size[:, None], asked / size
    if np.linalg.matrix_rank(scaled) < len(gives):
        left = asked - gives @ np.linalg.lstsq(gives, asked, rcond=None)[0]
        return -float(np.linalg.norm(left))
    normals = _facet_normals(scaled)
    lengths = np.linalg.norm(normals / size, axis=1)
    half = np.abs(normals @ scaled).sum(axis=1) / 2
    off = np.abs(normals @ (wanted - scaled.sum(axis=1) / 2))
    away = float(np.min((half - off) / lengths))
    return away if abs(away) > _NOTHING * float(np.max(half / lengths)) else 0.0


def with_each_gone(columns: ArrayLike, load: ArrayLike) -> tuple[Array, Array]:
    """:func:`even_margin` and :func:`distance_to_limit`, (n,) each, with each of n columns gone in turn.

    The facets of what is left are among those of all, being the ones that the column does not span: they are found
    once. Shapes and errors as above; a single column is refused.
    """
    gives, asked = _checked(columns, load)
    size = _sizes(gives)
    scaled, wanted = gives / size[:, None], asked / size
    left = np.stack([np.delete(gives, gone, axis=1) for gone in range(gives.shape[1])])
    if np.any(np.linalg.matrix_rank(left / size[:, None]) < len(gives)):
        margins, distances = np.array([(even_margin(one, asked), distance_to_limit(one, asked)) for one in left]).T
        return margins, distances
    spanning, normals = _facets(scaled)
    stays = np.all(spanning[:, :, None] != np.arange(len(left)), axis=1)  # (m, n): a facet without that column
    along, lengths = normals @ scaled, np.linalg.norm(normals / size, axis=1, keepdims=True)
    half = np.abs(along).sum(axis=1, keepdims=True) / 2 - np.abs(along) / 2
    off = np.abs((normals @ wanted - along.sum(axis=1) / 2)[:, None] + along / 2)
    least = 1 - np.max(off / half, axis=0, where=stays, initial=-math.inf)
    away = np.min((half - off) / lengths, axis=0, where=stays, initial=math.inf)
    most = np.max(half / lengths, axis=0, where=stays, initial=0.0)
    return np.where(np.abs(least) > _NOTHING, least, 0.0), np.where(np.abs(away) > _NOTHING * most, away, 0.0)


def even_shares(columns: ArrayLike, load: ArrayLike) -> Array | None:
    """Shares, (n,), of least sum of squares that give the load; None where one would be below zero, or none do.

    Where there are as many columns as directions these are the only ones. Shapes and errors as above.
    """
    gives, asked = _checked(columns, load)
    if not _within_span(gives, asked)[2]:
        return None
    shares = np.asarray(np.linalg.lstsq(gives, asked, rcond=None)[0], dtype=np.float64)
    return shares if bool(np.all(shares > -_NOTHING)) else None


def _checked(columns: ArrayLike, load: ArrayLike, several: bool = False) -> tuple[Array, Array]:
    gives, asked = np.asarray(columns, dtype=np.float64), np.asarray(load, dtype=np.float64)
    fits = asked.shape[-1:] == (len(gives),) and (several or asked.ndim == 1)
    if gives.ndim != 2 or not fits or gives.shape[1] == 0:
        raise ValueError("columns of d rows and a load of d numbers are needed")
    if not (np.isfinite(gives).all() and np.isfinite(asked).all() and np.any(gives)):
        raise ValueError("columns and load are finite numbers, and not all columns are zero")
    return gives, asked


def _within_span(gives: Array, asked: Array) -> tuple[Array, Array, NDArray[np.bool_]]:
    """Both in as many rows as the columns have directions, all of one size, and which loads have no other direction."""
    size = _sizes(gives)
    gives, asked = gives / size[:, None], asked / size
    basis, strengths, _ = np.linalg.svd(gives, full_matrices=False)
    kept = basis[:, strengths > _NOTHING * strengths[0]]
    inside = asked @ kept
    beside = np.linalg.norm(asked - inside @ kept.T, axis=-1)
    return kept.T @ gives, inside, beside <= _NOTHING * np.maximum(1.0, np.linalg.norm(asked, axis=-1))


def _sizes(gives: Array) -> Array:
    """The greatest of each row, (d,), and 1 for one of zeros: over it no unit makes a facet look like rounding."""
    size: Array = np.abs(gives).max(axis=1)
    size[size == 0] = 1.0
    return size


def _facet_normals(gives: Array) -> Array:
    return _facets(gives)[1]


def _facets(gives: Array) -> tuple[NDArray[np.intp], Array]:
    """The d - 1 independent columns, (m, d - 1), that span each pair of opposite facets, and a normal of it, (m, d)."""
    rows = len(gives)
    spanning = _choices(gives.shape[1], rows - 1)
    if rows == 1:
        return spanning, np.ones((1, 1))
    spans = gives.T[spanning]  # (m, d - 1, d)
    minors = np.linalg.det(spans[:, :, _choices(rows, rows - 1)].swapaxes(1, 2))  # (m, d), the last row left out first
    normals = minors[:, ::-1] * (-1.0) ** np.arange(rows)
    lengths = np.linalg.norm(normals, axis=1)
    kept = lengths > _NOTHING * np.prod(np.linalg.norm(spans, axis=2), axis=1)
    return spanning[kept], np.asarray(normals[kept] / lengths[kept, None])


@lru_cache(64)
def _choices(of: int, many: int) -> NDArray[np.intp]:
    """(m, many): all ways to choose so many of the first ``of`` numbers, in order."""
    return np.array(list(combinations(range(of), many)))
