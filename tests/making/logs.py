"""Logs of an interference run, from a model that uses nothing of ours: what the current makes, and noise."""

from collections.abc import Sequence

import numpy as np
from numpy.typing import ArrayLike, NDArray

from making.manifests import MOTORS, SITE, opening
from preflint.findings.inspected import Inspected
from preflint.findings.outcome import Outcome
from preflint.testing import inspect_text, outcome

EARTH, MADE = np.array([9.1, 24.4, 38.2]), np.array([0.11, -0.23, 0.05])  # µT; µT/A forward, right, down
THROTTLE = np.repeat([0, 25, 40, 55, 70, 0], 50)
AMPERES = np.repeat([0.2, 7.0, 14.0, 22.6, 31.0, 0.2], 50)
TIME = np.arange(300) * 0.2
COLUMNS = ("time_s", "throttle_percent", "current_a", "field_x_ut", "field_y_ut", "field_z_ut")
ERROR, COVERAGE = "interference/heading-error", "interference/run-coverage"
AGAIN = "look whether the columns are named right and the log is of this aircraft; log the run again"


def field(amperes: ArrayLike, seed: int = 1, noise: float = 0.1, memory: float = 0.0) -> NDArray[np.float64]:
    """A log of the field in µT (n, 3): what the current makes, and noise of which each row remembers some."""
    rng = np.random.default_rng(seed)
    current = np.asarray(amperes)
    rows = rng.normal(0, noise, (len(current), 3))
    for i in range(1, len(rows)):
        rows[i] = memory * rows[i - 1] + np.sqrt(1 - memory**2) * rows[i]
    return np.asarray(EARTH + np.outer(current, MADE) + rows)


def csv(columns: tuple[str, ...], *values: ArrayLike, decimals: Sequence[int] = ()) -> str:
    """A file with these columns, three decimals each where nothing else is said."""
    rows = np.column_stack([np.asarray(value) for value in values])
    each = decimals or [3] * len(columns)
    lines = (",".join(f"{cell:.{n}f}" for cell, n in zip(row, each, strict=True)) for row in rows)
    return "\n".join([",".join(columns), *lines]) + "\n"


def last_digits(values: NDArray[np.float64]) -> tuple[float, ...]:
    """What one step of each column (n, columns) counts, as its numbers show it: no finer than thousandths."""
    steps = (1.0, 0.1, 0.01)
    shown = ([step for step in steps if np.allclose(column, np.round(column / step) * step)] for column in values.T)
    return tuple((step or [0.001])[0] for step in shown)


def manifest(
    offset: str = "[-0.11, 0.23, -0.05]", sensing: str = "sensor_mv_per_a: 26.4", route: str = "restrained"
) -> str:
    """An aircraft whose run is in the file log.csv."""
    return (
        f"{opening()}{SITE}{MOTORS}power_sensing: {{{sensing}}}\n"
        f"compass: {{interference_offset_ut_per_a: {offset}}}\nrecords:\n  interference_run:\n"
        f"    - date: 2026-05-16\n      route: {route}\n      field_is: raw\n"
        "      in_force: {sensor_mv_per_a: 26.4}\n      file: log.csv\n"
        "  hover:\n    - {date: 2026-05-17, mean_current_a: 24}\n"
    )


def inspected(log: str, **aircraft: str) -> Inspected:
    """That aircraft with this log."""
    return inspect_text(manifest(**aircraft), files={"log.csv": log})


def answer(log: str, rule: str = ERROR, **aircraft: str) -> Outcome:
    """What one rule says of that aircraft with this log."""
    return outcome(inspected(log, **aircraft), rule)
