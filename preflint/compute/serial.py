"""Least squares through rows of a log, where each row remembers the one before."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import TYPE_CHECKING

from preflint.arrays import np
from preflint.compute.least_squares import Array
from preflint.frozen import dataclass

if TYPE_CHECKING:
    from numpy.typing import ArrayLike

_MOST = 0.999  # a memory of a thousand rows: more is a drift, not a scatter
_HALVINGS = 24


@dataclass(frozen=True, slots=True)
class Serial:
    """``memory``: correlation of neighbouring rows; ``widening``: factor on the standard uncertainties of the fit
    that takes its rows as independent; ``dof``: degrees of freedom of its scatter, with the memory counted.
    """

    memory: float
    widening: float
    dof: float


def serial(residuals: ArrayLike, slopes: ArrayLike) -> Serial:
    """What the memory of the rows makes of a least-squares fit.

    ``residuals``: (n,), in the order taken; ``slopes``: (n, p), their derivatives by the p parameters, n > p + 2.

    The scatter is taken as a first-order autoregression, with the correlation φ^|i-j|. A fit follows slow scatter in
    part, so its residuals remember less than the rows did: φ is the one for which residuals of that fit would have
    the correlation seen. How far a parameter is moved depends on each row's influence on it; the factor is that of
    the combination of parameters that is moved most. Never below 1: a negative correlation is taken as none. A memory
    nearly as long as the rows cannot be seen in them: some hundred rows are needed to tell one of 20 rows.
    Source: G. E. P. Box, G. M. Jenkins, Time Series Analysis (the process); J. Durbin, G. S. Watson, Biometrika 37
    (1950) 409 (residuals M·e of a projection M; moments of quadratic forms). Cited from memory.
    """
    left, design = np.asarray(residuals, dtype=float), np.asarray(slopes, dtype=float)
    n, p = design.shape
    if left.shape != (n,) or n <= p + 2:
        raise ValueError("residuals (n,) and slopes (n, p) are needed, with n above p + 2")
    squares = float(left @ left)
    if squares <= 0:
        return Serial(0.0, 1.0, float(n - p))
    basis = np.linalg.qr(design)[0]
    seen = float(left[1:] @ left[:-1]) / squares
    correlation = _correlation(basis)
    low, high = 0.0, _MOST
    if correlation(low) >= seen:
        return Serial(0.0, 1.0, float(n - p))
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        low, high = (middle, high) if correlation(middle) < seen else (low, middle)
    of_basis = basis.T @ _remembered(high, basis)
    scatter = n - float(np.trace(of_basis))  # of the sum of squares, in units of the rows' variance
    moved = float(np.linalg.eigvalsh(of_basis)[-1])
    worth = n * (1 - high**2) / (1 + high**2)  # independent rows whose scatter is known as well
    return Serial(high, math.sqrt(max(1.0, moved * (n - p) / max(scatter, 1e-9))), max(worth - p, 0.0))


def _remembered(memory: float, columns: Array) -> Array:
    """The matrix φ^|i-j| (n, n) times columns (n, m)."""
    n = len(columns)
    spectrum = np.fft.rfft(np.concatenate([memory ** np.arange(n), [0.0], memory ** np.arange(n - 1, 0, -1)]))
    return np.asarray(np.fft.irfft(spectrum[:, None] * np.fft.rfft(columns, 2 * n, axis=0), 2 * n, axis=0)[:n])


def _correlation(basis: Array) -> Callable[[float], float]:
    """Of neighbouring residuals, as expected of a memory: tr(M·R·M·L) / tr(M·R·M), where M = 1 - Q·Qᵀ and L averages
    the rows before and after.

    Either trace is a sum over the distances k of two rows, φ^k times what Q has there, which is found once.
    """
    n = len(basis)
    shifted = np.zeros_like(basis)
    shifted[1:] += basis[:-1] / 2
    shifted[:-1] += basis[1:] / 2
    waves, of_shifted = np.fft.rfft(basis, 2 * n, axis=0), np.fft.rfft(shifted, 2 * n, axis=0)
    mixed = waves @ (basis.T @ shifted).T - 2 * of_shifted
    spectra = np.stack([np.sum(waves.conj() * one, axis=1) for one in (mixed, waves)])
    by_distance = np.fft.irfft(spectra, 2 * n)  # (2, 2·n), the distances -k at the end
    by_distance[:, 1:n] += by_distance[:, :n:-1]
    above, below = by_distance[:, :n]
    distances = np.arange(n)

    def expected(memory: float) -> float:
        powers = memory**distances
        return ((n - 1) * memory + float(powers @ above)) / max(n - float(powers @ below), 1e-9)

    return expected
