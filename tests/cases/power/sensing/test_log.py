"""A comparison of volts as a log, whose rows follow one another too fast to be independent."""

import numpy as np
import pytest
from making.manifests import manifest

from preflint.testing import computed, inspect_text

TEXT = manifest(
    "packs: [{label: A1, chemistry: lipo, cells: 4}]\npower_sensing: {divider_ratio: 6.2}\n",
    records={
        "voltage_comparison": "date: 2026-05-16\nin_force: {divider_ratio: 6.2}\nloaded: false\n"
        "reference: {instrument: meter, accuracy_percent: 0.0001, resolution_v: 0.0001}\nfile: log.csv\n"
    },
)


def noise(seed, rows, correlation):
    """Of standard deviation 0.05 V, each row after the one before with that correlation (autoregressive, order 1)."""
    rng = np.random.default_rng(seed)
    drawn = [rng.normal()]
    for _ in range(rows - 1):
        drawn.append(correlation * drawn[-1] + np.sqrt(1 - correlation**2) * rng.normal())
    return 0.05 * np.array(drawn)


def gain(scatter):
    """Value and standard uncertainty, of a pack that goes up and down between 14 and 16.5 V."""
    true = 15.25 + 1.25 * np.cos(np.arange(scatter.size) / 7)
    rows = "".join(f"{shown:.4f},{read:.4f}\n" for shown, read in zip(true, true + scatter, strict=True))
    told = computed(
        inspect_text(TEXT, files={"log.csv": f"indicated_v,reference_v\n{rows}"}), "voltage_gain",
        "gain-with-zero-prior",
    )
    return told.value, told.standard_uncertainty


def test_the_mean_of_correlated_rows_is_less_sure():
    # The variance of a mean of rows with correlation r from one to the next is (1 + r) / (1 - r) times that of
    # independent ones: 39 for 0.95. Here seen through the fit, and estimated from 2000 rows.
    ratios = [gain(noise(seed, 2000, 0.95))[1] / gain(noise(seed, 2000, 0.0))[1] for seed in range(5)]
    assert np.median(ratios) == pytest.approx(np.sqrt(39), rel=0.25)


@pytest.mark.parametrize("correlation", [0.0, 0.9, 0.98])
def test_the_true_gain_lies_within_the_uncertainty_stated(correlation):
    away = [abs(value - 1) / u for value, u in (gain(noise(seed, 300, correlation)) for seed in range(30))]
    assert np.mean(np.array(away) < 2.2) >= 0.9


def test_rows_that_somebody_wrote_down_count_in_full():
    # No more than 30 are read by hand; these drift slowly, so that as a log they are worth a few.
    drifting = noise(5, 31, 0.98)
    assert gain(drifting)[1] > 1.5 * gain(drifting[:30])[1]
