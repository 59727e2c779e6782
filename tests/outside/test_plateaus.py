"""What a stretch of a log is worth: NIST's univariate data, noise of known memory, and medians of many draws."""

import math

import numpy as np
import pytest

from preflint.compute.plateaus import correlation_length, medians_of_rows

# NIST StRD univariate, Michelson (speed of light in air in 1000 km/s, 100 rows), from memory, and confirmed by the
# certified values below: mean 299.852400000000, standard deviation 0.0790105478190518, lag-1 0.535199668621283.
MICHELSON = [
    299.85, 299.74, 299.90, 300.07, 299.93, 299.85, 299.95, 299.98, 299.98, 299.88, 300.00, 299.98, 299.93, 299.65,
    299.76, 299.81, 300.00, 300.00, 299.96, 299.96, 299.96, 299.94, 299.96, 299.94, 299.88, 299.80, 299.85, 299.88,
    299.90, 299.84, 299.83, 299.79, 299.81, 299.88, 299.88, 299.83, 299.80, 299.79, 299.76, 299.80, 299.88, 299.88,
    299.88, 299.86, 299.72, 299.72, 299.62, 299.86, 299.97, 299.95, 299.88, 299.91, 299.85, 299.87, 299.84, 299.84,
    299.85, 299.84, 299.84, 299.84, 299.89, 299.81, 299.81, 299.82, 299.80, 299.77, 299.76, 299.74, 299.75, 299.76,
    299.91, 299.92, 299.89, 299.86, 299.88, 299.72, 299.84, 299.85, 299.85, 299.78, 299.89, 299.84, 299.78, 299.81,
    299.76, 299.81, 299.79, 299.81, 299.82, 299.85, 299.87, 299.87, 299.81, 299.74, 299.81, 299.94, 299.95, 299.80,
    299.81, 299.87,
]  # fmt: skip


def median_of_column(values, resolution=0.0):
    """(median, u, rows worth counting) of one column of rows."""
    return [float(one[0]) for one in medians_of_rows(np.array(values, dtype=float)[:, None], resolution)]


def autocorrelation(rows, lag):
    """As NIST defines it, by plain sums."""
    mean = math.fsum(rows) / len(rows)
    away = [row - mean for row in rows]
    return math.fsum(away[i] * away[i + lag] for i in range(len(rows) - lag)) / math.fsum(one * one for one in away)


def geyer(rows):
    """The initial positive sequence, by plain sums: 2·Σ of pairs of neighbouring lags, less 1."""
    total = 0.0
    for lag in range(0, len(rows) - 1, 2):
        pair = autocorrelation(rows, lag) + autocorrelation(rows, lag + 1)
        if pair <= 0:
            break
        total += pair
    return max(1.0, 2 * total - 1)


def pi_digits(n):
    """By J. Machin's formula in whole numbers."""
    unity = 10 ** (n + 10)

    def arctan_of_one_over(x):
        total, term, k = 0, unity // x, 1
        while term:
            total += (term // k) * (1 if k % 4 == 1 else -1)
            term //= x * x
            k += 2
        return total

    value = 4 * (4 * arctan_of_one_over(5) - arctan_of_one_over(239)) // 10**11
    front, back = divmod(value, 10 ** (n // 2))  # Python writes whole numbers of up to 4300 digits
    return [int(digit) for digit in f"{front}{back:0{n // 2}d}"]


def test_the_data_are_nists():
    assert math.fsum(MICHELSON) / 100 == pytest.approx(299.8524, abs=1e-9)
    assert np.std(MICHELSON, ddof=1) == pytest.approx(0.0790105478190518, rel=1e-9)
    assert autocorrelation(MICHELSON, 1) == pytest.approx(0.535199668621283, rel=1e-9)


def test_nist_michelson():
    # Rows that remember each other: a hundred are worth some twenty.
    length = correlation_length(MICHELSON)
    assert length == pytest.approx(geyer(MICHELSON), rel=1e-9)
    assert length > 1 + 2 * 0.535199668621283
    median, u, worth = median_of_column(MICHELSON)
    assert median == sorted(MICHELSON)[49] == 299.85
    assert 100 / 12 < worth < 100 / 3
    # No less than the plain standard error of NIST's standard deviation allows, no more than three times it.
    plain = 0.0790105478190518 * math.sqrt(math.pi / 2 / 100)
    assert plain < u < 3 * plain


def test_digits_of_pi_remember_nothing_of_each_other():
    digits = pi_digits(5000)
    assert digits[:10] == [3, 1, 4, 1, 5, 9, 2, 6, 5, 3]
    assert correlation_length(digits) == pytest.approx(1.0, abs=0.05)
    median, _, worth = median_of_column(digits)
    assert median == 5
    assert worth == pytest.approx(5000, rel=0.05)


@pytest.mark.parametrize(
    ("offset", "step"),
    # NIST StRD NumAcc2, NumAcc3 and NumAcc4 (from memory): 1001 rows, the middle value and then one tenth below and
    # above in turn, about 1.2, 1 000 000.2 and 10 000 000.2: certified standard deviation 0.1, lag-1 -0.999.
    [(1.2, 0.1), (1_000_000.2, 0.1), (10_000_000.2, 0.1)],
)
def test_nist_numerical_accuracy(offset, step):
    rows = [offset] + [offset - step, offset + step] * 500
    near_zero = [0.0] + [-step, step] * 500
    assert autocorrelation(near_zero, 1) == pytest.approx(-0.999, abs=1e-12)
    median, u, worth = median_of_column(rows)
    expected = median_of_column(near_zero)
    assert median == pytest.approx(offset + expected[0], rel=1e-15)
    assert (u, worth) == pytest.approx(expected[1:], rel=2e-8)  # of a number of ten million, to its last bits
    # Rows that alternate would average down faster than independent ones; nothing is gained from that.
    assert worth == 1001


def test_nist_three_rows():
    # NIST StRD NumAcc1 (from memory): 10 000 001, 10 000 003, 10 000 002: mean 10 000 002, standard deviation 1.
    median, u, worth = median_of_column([10_000_001, 10_000_003, 10_000_002])
    assert (median, worth) == (10_000_002, 3)
    assert u == pytest.approx(math.sqrt(math.pi / 2) / math.sqrt(3), rel=1e-15)


def noise(memory, n, rng):
    """Normal noise of unit variance in which each row remembers so much of the one before."""
    fresh = rng.normal(0, math.sqrt(1 - memory * memory), n)
    rows = [rng.normal()]
    for one in fresh[1:].tolist():
        rows.append(memory * rows[-1] + one)
    return np.array(rows)


@pytest.mark.parametrize("memory", [0.0, 0.3, 0.6, 0.9])
def test_rows_of_first_order_noise_are_worth_what_theory_says(memory):
    # Of the mean: (1 + φ)/(1 - φ) rows say as much as one (any textbook of time series).
    rng = np.random.default_rng(17)
    lengths = [correlation_length(noise(memory, 4000, rng)) for _ in range(30)]
    assert np.mean(lengths) == pytest.approx((1 + memory) / (1 - memory), rel=0.1)


@pytest.mark.parametrize(("memory", "n"), [(0.0, 25), (0.0, 400), (0.6, 400), (0.9, 1000)])
def test_the_uncertainty_of_a_median_holds_the_truth(memory, n):
    # At 95 % it holds the true level at least about as often as that. Slow noise makes a median nearly as good as
    # a mean, so that the claim may be a third too wide, never too narrow.
    rng = np.random.default_rng(23)
    told = [median_of_column(noise(memory, n, rng)) for _ in range(300)]
    held = np.mean([abs(median) <= 1.96 * u for median, u, _ in told])
    assert 0.92 <= held < 1
    spread = np.std([median for median, _, _ in told])
    assert 0.9 * spread < np.sqrt(np.mean([u * u for _, u, _ in told])) < 1.4 * spread


def test_a_median_is_wider_than_a_mean_by_the_root_of_half_pi():
    # M. G. Kendall, A. Stuart, The Advanced Theory of Statistics: for normal noise the variance of the median is
    # π/2 times that of the mean, for many rows.
    draws = np.random.default_rng(29).normal(size=(4000, 401))
    ratio = np.std(np.median(draws, axis=1)) / np.std(draws.mean(axis=1))
    assert ratio == pytest.approx(math.sqrt(math.pi / 2), rel=0.03)
    _, u, worth = median_of_column(draws[0])
    mad = 1.4826 * np.median(np.abs(draws[0] - np.median(draws[0])))
    assert u == pytest.approx(ratio * mad / math.sqrt(worth), rel=0.03)
