"""The ball around the slope of a run holds the true slope in 95 of 100 drawn logs, whatever the log is like.

The logs come from a model that uses nothing of ours: a current in steps or a wavering hover, a field that follows it,
noise that remembers (first order), what differs from step to step, a slow drift.
"""

from dataclasses import replace

import numpy as np
import pytest
from making.earth import remembering
from making.logs import last_digits
from making.manifests import opening
from preflint_rules.interference.log import steps_of
from preflint_rules.interference.run import Run, told

from preflint.api import Known
from preflint.load.tables.table import Table
from preflint.testing import inspect_text

EARTH, MADE = np.array([9.1, 24.4, 38.2]), np.array([0.11, -0.23, 0.05])
COLUMNS = ("time_s", "throttle_percent", "current_a", "field_x_ut", "field_y_ut", "field_z_ut")
RECORD = (
    inspect_text(
        f"{opening()}records:\n  interference_run:\n"
        "    - date: 2026-05-16\n      columns: [current_a, field_x_ut, field_y_ut, field_z_ut]\n"
        "      rows: [[0, 9, 24, 38]]\n"
    ).aircraft.records.interference_run[0]
)  # fmt: skip
SIDEWAYS, ALIKE = np.array([0.0, 1, 0]), np.ones(3)
UP_AND_STILL = (0.0, 8.0, 16.0, 24.0, 30.0, 0.0)


def steps(rng, levels, rows, memory, ways, *, times=True, drift_ut=0.0, between_ut=0.0):
    """``ways``: how much noise each axis has; ``between_ut``: what each step is off by besides."""
    amperes = np.repeat(levels, rows)
    n = amperes.size
    noise = remembering(rng, n, memory, 0.1) + np.repeat(rng.normal(0, 1, (len(levels), 3)) * between_ut, rows, axis=0)
    way = rng.normal(size=3)
    drift = np.outer(np.linspace(0, 1, n), drift_ut * way / np.linalg.norm(way))
    field = EARTH + np.outer(amperes, MADE) + noise * ways + drift
    shown = amperes + np.round(rng.normal(0, 0.03, n), 2)
    return np.column_stack([np.arange(n) * 0.2, amperes * 2, shown, np.round(field, 2)])[:, 0 if times else 1 :]


def hover(rng, ground):
    """Five minutes, ten rows a second; a nose that wags for seconds, on the ground before and after."""
    n = 3000
    amperes = 24 + 3 * remembering(rng, n, 0.99, 1.0)[:, 0]
    if ground:
        amperes[: n // 10] = amperes[-n // 10 :] = 0.2
    field = EARTH + np.outer(amperes, MADE) + remembering(rng, n, 0.98, 0.3)
    throttle = np.where(amperes > 5, 2 * amperes + rng.normal(0, 3, n), 0)
    shown = np.round(amperes + rng.normal(0, 0.1, n), 2)
    return np.column_stack([np.arange(n) * 0.1, throttle, shown, np.round(field, 2)])


LOGS = {
    "long memory": lambda rng: steps(rng, UP_AND_STILL, [50] * 6, 0.95, ALIKE),
    "long memory, sideways": lambda rng: steps(rng, UP_AND_STILL, [50] * 6, 0.95, SIDEWAYS),
    "drift and times": lambda rng: steps(rng, UP_AND_STILL, [50] * 6, 0.9, ALIKE, drift_ut=1.0),
    "drift and no times": lambda rng: steps(rng, UP_AND_STILL, [50] * 6, 0.9, ALIKE, drift_ut=1.0, times=False),
    "uneven steps": lambda rng: steps(rng, UP_AND_STILL, [300, 20, 30, 20, 200, 40], 0.9, SIDEWAYS, between_ut=0.1),
    "four steps": lambda rng: steps(rng, (0.0, 12.0, 24.0, 0.0), [50] * 4, 0.9, SIDEWAYS, between_ut=0.1),
    "ends under load": lambda rng: steps(rng, UP_AND_STILL[:5], [50] * 5, 0.9, ALIKE, drift_ut=0.2),
    "two rows a step": lambda rng: steps(rng, UP_AND_STILL, [2] * 6, 0.0, SIDEWAYS),
    "one row a step": lambda rng: steps(rng, UP_AND_STILL, [1] * 6, 0.0, SIDEWAYS, times=False),
    "hover": lambda rng: hover(rng, ground=True),
    "hover in the air": lambda rng: hover(rng, ground=False),
}


def fitted(values):
    """The run, by the rules' own fit of such a log."""
    place, digits = RECORD.place, last_digits(values)
    table = Table(COLUMNS[-values.shape[1] :], values, len(values), 1, place, [place] * len(values), digits)
    record = replace(RECORD, table=Known(table, RECORD.place))
    steps = steps_of(record)
    fit, _ = told(record, steps)
    return Run(record, steps, fit.slope, fit.slope_covariance, fit.dof, np.zeros(3), 1.0, "raw")


@pytest.mark.parametrize("name", LOGS)
def test_the_ball_holds_the_slope(name):
    rng, draws, inside = np.random.default_rng(len(name)), 60, 0
    for _ in range(draws):
        run = fitted(LOGS[name](rng))
        inside += np.linalg.norm(run.slope - MADE) <= run.radius
    # No fewer than 95 % give in 999 of 1000 counts of sixty (binomial distribution).
    assert inside >= 51


def test_a_ball_that_holds_everything_would_be_no_use():
    """The radius of ordinary logs is a few standard deviations of the slope, counted over logs."""
    rng, slopes, radii = np.random.default_rng(1), [], []
    for _ in range(60):
        run = fitted(LOGS["long memory"](rng))
        slopes.append(run.slope)
        radii.append(run.radius)
    assert np.median(radii) < 7 * np.sqrt(np.mean(np.var(slopes, axis=0)))
