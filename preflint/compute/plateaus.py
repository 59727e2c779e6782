"""A log taken in steps: its plateaus, what each reads, and how surely.

Neighbouring rows of a log are not independent: a hundred rows of slow noise may say no more than five. The
standard uncertainty of a plateau's median therefore rests on the number of rows that are worth counting.
"""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING

from preflint.arrays import np
from preflint.compute.least_squares import Array
from preflint.compute.rows import median
from preflint.frozen import dataclass

if TYPE_CHECKING:
    from numpy.typing import ArrayLike

# Standard deviation of a normal distribution over its median absolute deviation.
_SD_PER_MAD = 1.4826
# Standard uncertainty of a median over that of a mean, for normal noise.
_MEDIAN_OVER_MEAN = math.sqrt(math.pi / 2)


def _median_over_mean(rows: ArrayLike) -> Array:
    """That ratio for so many rows; the median of one or two is their mean."""
    return np.where(np.asarray(rows) > 2, _MEDIAN_OVER_MEAN, 1.0)


@dataclass(frozen=True, slots=True, eq=False)
class Plateau:
    """Rows ``rows`` of the log, in which the level stays about ``level``.

    ``time`` is that of the middle row, None without times. ``median``, ``u`` and ``effective_rows`` have
    shape (k,): one for each column of values.
    """

    rows: slice
    level: float
    time: float | None
    median: Array
    u: Array
    effective_rows: Array


def find_plateaus(
    level: ArrayLike,
    values: ArrayLike,
    *,
    tolerance: float,
    time: ArrayLike | None = None,
    settle_s: float = 0.0,
    fewest_rows: int = 1,
    resolution: ArrayLike = 0.0,
) -> tuple[Plateau, ...]:
    """The stretches in which ``level`` stays within ``tolerance`` of where each began, in order.

    ``level``: (n,), usually the throttle; ``values``: (n, k); ``time``: (n,) in seconds, never backwards.
    The first ``settle_s`` of each stretch is left out, but never its last row; a level that is only passed, on
    the way to the next one within ``settle_s``, is left out, and so is a stretch that has fewer than
    ``fewest_rows``. ``resolution`` is the last digit of the values, one or (k,), and adds q/√12 to each
    uncertainty. No ``u`` is less than the scatter of all stretches together allows for so many rows: a few
    rows that agree by luck, or a single one, are no surer than the rest of the log.

    Raises ValueError for rows that are not finite or do not match, or times that run backwards.
    """
    steps, table = np.asarray(level, dtype=float), np.asarray(values, dtype=float)
    if steps.ndim != 1 or table.ndim != 2 or len(table) != len(steps) or not len(steps):
        raise ValueError("levels of shape (n,) need values of shape (n, k), and at least one row")
    seconds = None if time is None else np.asarray(time, dtype=float)
    if seconds is not None and seconds.shape != steps.shape:
        raise ValueError("times and levels must be equally many")
    if not all(np.all(np.isfinite(part)) for part in (steps, table, seconds) if part is not None):
        raise ValueError("levels, values and times must be finite numbers")
    if seconds is not None and np.any(np.diff(seconds) < 0):
        raise ValueError(f"time runs backwards after row {int(np.argmax(np.diff(seconds) < 0)) + 1}")
    digits = np.broadcast_to(np.asarray(resolution, dtype=float), table.shape[1:])
    found = []
    for start, end in stretches(steps, tolerance):
        if seconds is not None and settle_s > 0:
            if end < steps.size and seconds[end] - seconds[start] < settle_s:
                continue
            start = min(start + int(np.searchsorted(seconds[start:end], seconds[start] + settle_s)), end - 1)
        if end - start < max(1, fewest_rows):
            continue
        medians, us, worth = medians_of_rows(table[start:end], digits)
        middle = None if seconds is None else float(seconds[(start + end - 1) // 2])
        at = float(median(steps[start:end]))
        found.append(Plateau(slice(start, end), at, middle, medians, us, worth))
    return _no_surer_than_all(found, digits)


def _no_surer_than_all(found: list[Plateau], digits: Array) -> tuple[Plateau, ...]:
    """The plateaus, each ``u`` raised to what their pooled variance and memory allow for its number of rows."""
    sizes = np.array([one.rows.stop - one.rows.start for one in found], dtype=float)
    if not sizes.sum() > sizes.size:
        return tuple(found)  # single rows: nothing tells a scatter
    us, worth = np.array([one.u for one in found]), np.array([one.effective_rows for one in found])
    of_median = _median_over_mean(sizes)[:, None]
    variances = np.maximum(0, us**2 - digits**2 / 12) * worth / of_median**2
    pooled = (sizes - 1) @ variances / (sizes - 1).sum()
    memory = sizes @ (sizes[:, None] / worth) / sizes.sum()
    least = of_median**2 * pooled / np.maximum(1, sizes[:, None] / memory) + digits**2 / 12
    return tuple(replace(one, u=np.maximum(one.u, np.sqrt(low))) for one, low in zip(found, least, strict=True))


def medians_of_rows(values: ArrayLike, resolution: ArrayLike = 0.0) -> tuple[Array, Array, Array]:
    """Medians of rows that follow each other, their standard uncertainties, and how many rows are worth counting.

    ``values``: (n, k), ``resolution`` one number or (k,); (k,) each. One outlier in a few does no harm. A single row
    has the uncertainty of its last digit.
    """
    rows = np.asarray(values, dtype=float)
    if rows.ndim != 2 or not rows.size or not np.all(np.isfinite(rows)):
        raise ValueError("a median needs at least one row, and finite numbers")
    n, middle = len(rows), median(rows)
    from_digit = np.broadcast_to(np.asarray(resolution, dtype=float) / math.sqrt(12), middle.shape)
    if n == 1:
        return middle, from_digit, np.ones_like(middle)
    away = rows - middle
    sd = _SD_PER_MAD * median(np.abs(away))
    # Too few rows, or too coarse a display, to tell outliers from noise.
    sd = np.where((sd == 0) | (n < 10), np.std(rows, axis=0, ddof=1), sd)
    worth = n / correlation_lengths(np.clip(away, -3 * sd, 3 * sd))
    return middle, np.hypot(_median_over_mean(n) * sd / np.sqrt(worth), from_digit), worth


def correlation_length(rows: ArrayLike) -> float:
    """As :func:`correlation_lengths`, of one column (n,)."""
    return float(correlation_lengths(np.asarray(rows, dtype=float)[:, None])[0])


def correlation_lengths(rows: ArrayLike) -> Array:
    """How many rows in a row say as much as one independent one: 1 + 2·Σ of the autocorrelation.

    ``rows``: (n, k); (k,). The sum runs while the correlation of pairs of neighbouring lags stays above
    zero. At least 1 and at most n.
    Source: C. J. Geyer, Statistical Science 7 (1992) 473 (initial positive sequence).
    """
    values = np.asarray(rows, dtype=float)
    n = len(values)
    about_mean = values - values.mean(axis=0)
    power = np.abs(np.fft.rfft(about_mean, 2 * n, axis=0)) ** 2
    covariance = np.fft.irfft(power, axis=0)[:n]
    varies = (covariance[0] > 0) & (n >= 4)
    correlation = covariance / np.where(varies, covariance[0], 1.0)
    pairs = correlation[0 : n - 1 : 2] + correlation[1:n:2]
    used = np.logical_and.accumulate(pairs > 0, axis=0)
    lengths = np.clip(2 * np.sum(pairs * used, axis=0) - 1, 1.0, n)
    return np.where(varies, lengths, 1.0)


def stretches(level: ArrayLike, tolerance: float) -> list[tuple[int, int]]:
    """Start and end of the runs of rows of ``level``, (n,), that stay within ``tolerance`` of the first of each."""
    level = np.asarray(level, dtype=float)
    found, start = [], 0
    while start < level.size:
        end, window = start + 1, 64
        while end < level.size:
            part = np.abs(level[end : end + window] - level[start]) > tolerance
            if part.any():
                end += int(np.argmax(part))
                break
            end, window = min(end + window, level.size), 2 * window
        found.append((start, end))
        start = end
    return found
