"""Medians of rows, and rows that are alike once.

As numpy has them, by ways on which it does not load its masked arrays: these take a tenth of all that a first aircraft
does, and nobody here has any.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from preflint.arrays import np
from preflint.compute.least_squares import Array

if TYPE_CHECKING:
    from numpy.typing import ArrayLike


def median(values: ArrayLike) -> Array:
    """Of (n,) a number, of (n, k) those of the columns, (k,). ``values``: one row or more of finite numbers."""
    rows = np.asarray(values, dtype=float)
    middle = [(len(rows) - 1) // 2, len(rows) // 2]
    lower, upper = np.partition(rows, middle, axis=0)[middle]
    return np.asarray((lower + upper) / 2)


def distinct(values: ArrayLike) -> Array:
    """Each row of (n, k), or number of (n,), once, in order."""
    return np.unique(np.asarray(values, dtype=float), return_index=True, axis=0)[0]
