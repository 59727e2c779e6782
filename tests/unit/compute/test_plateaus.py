"""Plateaus of logs whose making is known."""

import math
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from preflint.compute.plateaus import baselines, correlation_length, drift, find_plateaus, median_of_rows


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
    before, after = baselines(found, still_at=0)
    assert (before, after) == (found[0], found[-1])
    assert drift(before, after)[0] == pytest.approx([0, 0, 0])


def test_the_moment_of_change_and_a_spike_do_not_move_the_median():
    rng = np.random.default_rng(1)
    values = rng.normal(50, 0.2, 200)
    values[:12] = np.linspace(0, 50, 12)
    values[77] = 1e6
    middle, u, _ = median_of_rows(values)
    assert middle == pytest.approx(50, abs=0.06)
    assert u < 0.1


@pytest.mark.parametrize("memory", [0.0, 0.6, 0.9])
def test_the_uncertainty_is_the_spread_of_many_medians(memory):
    rng = np.random.default_rng(round(100 * memory) + 1)
    runs = [median_of_rows(slow_noise(rng, 400, memory, 1.0)) for _ in range(400)]
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
    middle, u, worth = median_of_rows(np.linspace(0, 1, 500))
    assert middle == pytest.approx(0.5)
    assert worth < 10
    assert u > 0.1


def test_a_display_that_stands_still_is_as_sure_as_its_last_digit():
    assert median_of_rows([4.2] * 50, 0.1) == (4.2, pytest.approx(0.1 / math.sqrt(12)), 50)
    assert median_of_rows([4.2], 0.1) == (4.2, pytest.approx(0.1 / math.sqrt(12)), 1)
    middle, u, _ = median_of_rows([4.2] * 40 + [4.3] * 10, 0.1)
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


def test_no_baseline_where_the_motors_ran():
    level = np.repeat([0, 30, 60], 5)
    found = find_plateaus(level, level[:, None], tolerance=1)
    assert baselines(found, still_at=0) == (found[0], None)
    assert baselines(found[:1], still_at=0) == (found[0], None)
    assert baselines(found[1:], still_at=0) == (None, None)
    assert baselines((), still_at=0) == (None, None)


def test_drift_carries_the_uncertainty_of_both_ends():
    rng = np.random.default_rng(3)
    level = np.repeat([0, 50, 0], 100)
    field = np.repeat([10.0, 14.0, 11.0], 100)[:, None] + rng.normal(0, 0.3, (300, 1))
    found = find_plateaus(level, field, tolerance=1)
    moved, u = drift(*baselines(found, still_at=0))
    assert moved == pytest.approx([1.0], abs=0.15)
    assert u == pytest.approx([math.hypot(found[0].u[0], found[2].u[0])])
    assert 0.03 < u[0] < 0.12


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (lambda: find_plateaus([], np.empty((0, 1)), tolerance=1), "at least one row"),
        (lambda: find_plateaus([1, 2], [[1], [2], [3]], tolerance=1), "shape \\(n, k\\)"),
        (lambda: find_plateaus([1, math.nan], [[1], [2]], tolerance=1), "finite"),
        (lambda: find_plateaus([1, 2], [[1], [math.inf]], tolerance=1), "finite"),
        (lambda: find_plateaus([1, 2], [[1], [2]], tolerance=1, time=[1]), "equally many"),
        (lambda: find_plateaus([1, 1, 1], [[1], [2], [3]], tolerance=1, time=[0, 2, 1]), "after row 2"),
        (lambda: median_of_rows([]), "at least one row"),
    ],
)
def test_nonsense_is_refused(call, says):
    with pytest.raises(ValueError, match=says):
        call()
