"""What the memory of rows makes of a fit, counted over drawn logs whose memory is known."""

import numpy as np
import pytest
from scipy import linalg, signal, stats

from preflint.compute.ellipsoid import fit_ellipsoid
from preflint.compute.serial import serial

CENTRE, FIELD, SCATTER = np.array([3.0, -8.0, 5.0]), 49.8, 0.3


def spiral(rows, turns):
    """Directions of a slow turn from one pole to the other, (rows, 3)."""
    down = np.linspace(-1, 1, rows)
    round_about, across = turns * 2 * np.pi * np.arange(rows) / rows, np.sqrt(1 - down**2)
    return np.column_stack([across * np.cos(round_about), across * np.sin(round_about), down])


def remembering(rng, rows, memory):
    """First-order autoregression, (rows, 3), of standard deviation one."""
    fresh = rng.normal(0, 1, (rows, 3))
    fresh[1:] *= np.sqrt(1 - memory**2)
    return signal.lfilter([1.0], [1.0, -memory], fresh, axis=0)


@pytest.mark.parametrize(("rows", "memory", "turns"), [
    (300, 0.0, 3), (300, 0.9, 12), (1000, 0.95, 3), (1000, 0.95, 12),
])  # fmt: skip
def test_a_stated_95_percent_of_the_centre_is_95(rows, memory, turns, capsys):
    rng, inside, found = np.random.default_rng([rows, int(100 * memory), turns]), 0, []
    draws = 40
    for _ in range(draws):
        fit = fit_ellipsoid(FIELD * spiral(rows, turns) + CENTRE + SCATTER * remembering(rng, rows, memory))
        told = serial(fit.residuals, fit.slopes)
        bounds = stats.t.ppf(0.975, told.dof) * told.widening * np.sqrt(np.diag(fit.covariance)[:3])
        inside += int(np.sum(np.abs(fit.centre - CENTRE) <= bounds))
        found.append(told.memory)
    with capsys.disabled():
        print(f"\n{rows} rows, memory {memory}, {turns} turns: {100 * inside / (3 * draws):.0f} % inside a stated 95 %")
    # No fewer than a true 95 % gives in 999 of 1000 such tables; three coordinates of a fit hang together somewhat.
    assert inside >= stats.binom.ppf(0.001, 3 * draws, 0.95)
    assert np.median(found) == pytest.approx(memory, abs=0.05)


def test_rows_that_remember_nothing_or_alternate_widen_nothing():
    slopes = np.column_stack([np.ones(200), np.linspace(-1, 1, 200)])
    alternating = np.where(np.arange(200) % 2, 1.0, -1.0)
    told = serial(alternating, slopes)
    assert (told.memory, told.widening, told.dof) == (0.0, 1.0, 198.0)
    nothing = serial(np.zeros(200), slopes)
    assert (nothing.memory, nothing.widening, nothing.dof) == (0.0, 1.0, 198.0)


def test_a_drift_leaves_hardly_any_degrees_of_freedom():
    slopes = np.ones((100, 1))
    told = serial(np.linspace(-1, 1, 100), slopes)
    assert told.memory > 0.9
    assert told.dof < 5
    assert told.widening > 5


def test_the_mean_of_a_first_order_autoregression():
    """Its variance over that of independent rows: (1 + φ)/(1 - φ) for many rows (Box and Jenkins, from memory)."""
    rows = remembering(np.random.default_rng(2), 20_000, 0.8)[:, 0]
    told = serial(rows - rows.mean(), np.ones((rows.size, 1)))
    assert told.widening == pytest.approx(np.sqrt(1.8 / 0.2), rel=0.05)
    assert told.dof == pytest.approx(rows.size * (1 - 0.64) / (1 + 0.64), rel=0.1)


def test_wrong_shapes():
    with pytest.raises(ValueError, match="n above p"):
        serial(np.ones(4), np.ones((4, 2)))
    with pytest.raises(ValueError, match="slopes"):
        serial(np.ones(5), np.ones((6, 2)))


@pytest.mark.parametrize("seed", range(6))
def test_as_the_matrices_written_out_have_it(seed):
    """tr(M·R·M·L) / tr(M·R·M) at the memory told is what the residuals show; R, M and L are those of the docstring."""
    rng, n, p = np.random.default_rng(seed), 6 + 8 * seed, 2 + seed % 2
    design = rng.normal(0, 1, (n, p))
    basis = linalg.orth(design)
    without = np.eye(n) - basis @ basis.T
    left = without @ remembering(rng, n, 0.8)[:, 0]
    told = serial(left, design)
    neighbours = linalg.toeplitz([0.0, 0.5, *[0.0] * (n - 2)])
    remembered = linalg.toeplitz(told.memory ** np.arange(n))
    scatter = np.trace(without @ remembered @ without)
    assert told.memory > 0.1
    expected = np.trace(without @ remembered @ without @ neighbours) / scatter
    assert expected == pytest.approx(left[1:] @ left[:-1] / (left @ left), abs=1e-6)
    most = linalg.eigvalsh(basis.T @ remembered @ basis)[-1]
    assert told.widening == pytest.approx(max(1, np.sqrt(most * (n - p) / scatter)), rel=1e-9)
    assert told.dof == pytest.approx(max(0, n * (1 - told.memory**2) / (1 + told.memory**2) - p), rel=1e-9)
