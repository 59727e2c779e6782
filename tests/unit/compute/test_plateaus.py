"""Plateaus of logs whose making is known."""

import math
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from preflint.compute.plateaus import correlation_length, find_plateaus, medians_of_rows


def median_of_column(values, resolution=0.0):
    """(median, u, rows worth counting) of one column of rows."""
    return [float(one[0]) for one in medians_of_rows(np.array(values, dtype=float)[:, None], resolution)]


def slow_noise(rng, n, memory, sigma):
    """First-order autoregressive noise: each row keeps ``memory`` of the one before."""
    fresh = rng.normal(0, sigma * math.sqrt(1 - memory**2), n)
    values = np.empty(n)
    values[0] = rng.normal(0, sigma)
    for i in range(1, n):
        values[i] = memory * values[i - 1] + fresh[i]
    return values


def test_steps_of_a_log():
    level = np.repeat([0, 30, 50, 70, 0], [40, 30, 20, 30, 50])
    time = np.arange(170) * 0.1
    current = level * 0.4
    field = np.column_stack([20 + 0.1 * current, -5 + 0 * current])
    found = find_plateaus(level, np.column_stack([current, field]), tolerance=1, time=time, settle_s=0.95)
    assert [one.level for one in found] == [0, 30, 50, 70, 0]
    assert [(one.rows.start, one.rows.stop) for one in found] == [
        (10, 40), (50, 70), (80, 90), (100, 120), (130, 170),
    ]  # fmt: skip
    assert found[1].median == pytest.approx([12, 21.2, -5])
    assert found[0].time == pytest.approx(2.4)


def test_the_moment_of_change_and_a_spike_do_not_move_the_median():
    rng = np.random.default_rng(1)
    values = rng.normal(50, 0.2, 200)
    values[:12] = np.linspace(0, 50, 12)
    values[77] = 1e6
    middle, u, _ = median_of_column(values)
    assert middle == pytest.approx(50, abs=0.06)
    assert u < 0.1


@pytest.mark.parametrize("memory", [0.0, 0.6, 0.9])
def test_the_uncertainty_is_the_spread_of_many_medians(memory):
    rng = np.random.default_rng(round(100 * memory) + 1)
    runs = [median_of_column(slow_noise(rng, 400, memory, 1.0)) for _ in range(400)]
    spread = np.std([middle for middle, _, _ in runs])
    claimed = np.mean([u for _, u, _ in runs])
    # Slow noise makes a median nearly as good as a mean, so the claim may be up to a quarter too wide.
    assert 0.85 * spread < claimed < 1.35 * spread
    if memory == 0.9:
        assert claimed > 3 * 1.2533 / math.sqrt(400)  # three times what independent rows would claim


@pytest.mark.parametrize("memory", [0.0, 0.5, 0.8])
def test_correlation_length_of_first_order_noise(memory):
    # Exact for this noise: (1 + a)/(1 - a).
    rng = np.random.default_rng(9)
    lengths = [correlation_length(slow_noise(rng, 4000, memory, 1)) for _ in range(40)]
    assert np.mean(lengths) == pytest.approx((1 + memory) / (1 - memory), rel=0.15)


def test_a_plateau_that_creeps_is_not_sure_of_itself():
    middle, u, worth = median_of_column(np.linspace(0, 1, 500))
    assert middle == pytest.approx(0.5)
    assert worth < 10
    assert u > 0.1


def test_a_display_that_stands_still_is_as_sure_as_its_last_digit():
    assert median_of_column([4.2] * 50, 0.1) == [4.2, pytest.approx(0.1 / math.sqrt(12)), 50]
    assert median_of_column([4.2], 0.1) == [4.2, pytest.approx(0.1 / math.sqrt(12)), 1]
    middle, u, _ = median_of_column([4.2] * 40 + [4.3] * 10, 0.1)
    assert middle == 4.2
    assert u > 0.1 / math.sqrt(12)


@settings(derandomize=True, deadline=None)
@given(st.lists(st.tuples(st.sampled_from([0, 20, 40, 60]), st.integers(1, 200)), min_size=1, max_size=8))
def test_every_row_is_in_one_stretch_and_stretches_are_as_long_as_they_can_be(steps):
    level = np.concatenate([np.full(n, value) for value, n in steps])
    found = find_plateaus(level, level[:, None], tolerance=0.5)
    assert found[0].rows.start == 0
    assert found[-1].rows.stop == len(level)
    for one, following in pairwise(found):
        assert one.rows.stop == following.rows.start
        assert one.level != following.level
    assert all(np.ptp(level[one.rows]) == 0 for one in found)


def test_short_stretches_are_left_out():
    level = np.array([0, 0, 0, 10, 20, 30, 30, 30])
    found = find_plateaus(level, level[:, None], tolerance=1, fewest_rows=3)
    assert [one.level for one in found] == [0, 30]


def test_a_step_of_just_the_tolerance_is_none():
    level = np.array([10, 11, 9, 10, 11.1])
    found = find_plateaus(level, level[:, None], tolerance=1)
    assert [one.rows for one in found] == [slice(0, 4), slice(4, 5)]


def test_rows_of_the_same_instant_are_in_order():
    found = find_plateaus([5, 5, 5], [[1], [2], [3]], tolerance=1, time=[0, 0, 1])
    assert found[0].time == 0


def test_correlation_does_not_depend_on_where_zero_is():
    rows = slow_noise(np.random.default_rng(2), 500, 0.7, 1)
    assert correlation_length(rows + 40) == pytest.approx(correlation_length(rows), rel=1e-9)


def test_rows_that_agree_by_luck_are_no_surer_than_the_rest():
    rng = np.random.default_rng(3)
    level = np.repeat([0, 30, 50, 70, 0], [100, 2, 1, 100, 100])
    field = rng.normal(0, 0.3, (level.size, 2))
    field[100:102] = 0.123
    found = find_plateaus(level, field, tolerance=1, resolution=[0.001, 0.01])
    assert median_of_column(field[100:102, 0], 0.001)[1] < 0.001
    assert found[1].u == pytest.approx([0.3 / math.sqrt(2)] * 2, rel=0.2)
    assert found[2].u == pytest.approx([0.3] * 2, rel=0.2)
    assert found[3].u == pytest.approx([1.2533 * 0.3 / 10] * 2, rel=0.4)


def test_single_rows_have_their_last_digit_and_no_more():
    found = find_plateaus([0, 10, 20], [[1.0, 5], [2.0, 6], [9.0, 7]], tolerance=1, resolution=[0.1, 1])
    assert [one.u.tolist() for one in found] == [pytest.approx([0.1 / math.sqrt(12), 1 / math.sqrt(12)])] * 3


def test_a_level_that_is_only_passed_is_none_and_the_last_row_of_a_step_stays():
    time = np.array([0, 2, 4, 6, 6.2, 6.4, 8.4, 10.4])
    level = np.array([0, 0, 0, 20, 40, 60, 60, 0])
    found = find_plateaus(level, level[:, None], tolerance=1, time=time, settle_s=1.0)
    assert [(one.level, one.rows.start, one.rows.stop) for one in found] == [(0, 1, 3), (60, 6, 7), (0, 7, 8)]
    by_hand = find_plateaus([0, 30, 60], [[1], [2], [3]], tolerance=1, time=[0, 5, 10], settle_s=1.0)
    assert [one.rows.start for one in by_hand] == [0, 1, 2]


@pytest.mark.parametrize(("call", "says"), [
    (lambda: find_plateaus([], np.empty((0, 1)), tolerance=1), "at least one row"),
    (lambda: find_plateaus([1, 2], [[1], [2], [3]], tolerance=1), "shape \\(n, k\\)"),
    (lambda: find_plateaus([1, math.nan], [[1], [2]], tolerance=1), "finite"),
    (lambda: find_plateaus([1, 2], [[1], [math.inf]], tolerance=1), "finite"),
    (lambda: find_plateaus([1, 2], [[1], [2]], tolerance=1, time=[1]), "equally many"),
    (lambda: find_plateaus([1, 1, 1], [[1], [2], [3]], tolerance=1, time=[0, 2, 1]), "after row 2"),
    (lambda: median_of_column([]), "at least one row"),
    (lambda: medians_of_rows([1.0, 2.0]), "at least one row"),
    (lambda: median_of_column([1.0, math.nan]), "finite numbers"),
])
def test_nonsense_is_refused(call, says):
    with pytest.raises(ValueError, match=says):
        call()


@pytest.mark.parametrize("digit", [0.0, 1.0])
def test_two_rows_that_agree_are_as_sure_as_the_scatter_of_all_allows(digit):
    """Two rows of one value, then twenty that go up and down by 1, shown to ``digit``; worked by hand.

    The twenty: 1.4826 for each row, worth twenty rows, so u² = π/2·1.4826²/20, and digit²/12. Of both, by their
    degrees of freedom of 1 and 19, the variance of a row is 19/20·1.4826²; two rows are worth half of that.
    """
    values = np.concatenate([[5.0, 5.0], np.tile([1.0, -1.0], 10)])[:, None]
    two, twenty = find_plateaus([0.0] * 2 + [50.0] * 20, values, tolerance=1.0, resolution=digit)
    of_digit = digit**2 / 12
    assert twenty.u == pytest.approx([math.sqrt(math.pi / 2 * 1.4826**2 / 20 + of_digit)], rel=1e-9)
    assert two.u == pytest.approx([math.sqrt(19 / 20 * 1.4826**2 / 2 + of_digit)], rel=1e-9)
