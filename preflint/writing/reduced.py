"""What a log comes down to: the means of a hover, the steps of a run; and its rows, where they are few."""

import math
from collections.abc import Mapping, Sequence
from decimal import Decimal

from preflint.compute.plateaus import find_plateaus
from preflint.load.tables.clock import CLOCK
from preflint.load.tables.table import Table
from preflint.writing.entry import Value
from preflint.writing.units import unit_of

HOVER_COLUMNS = ("time_s?", "throttle_percent?", "current_a", "voltage_v")
"""The columns of a log of which the means of a hover are taken."""

MOST_ROWS = 50
"""Rows that are copied into a manifest."""

_MEANS = {"current_a": "mean_current_a", "voltage_v": "mean_voltage_v", "throttle_percent": "throttle_percent"}
_LEVELS = ("throttle_percent", "current_a", "reference_a")  # what tells one step from the next, the first that is there
_STEP = 0.05  # of the whole range: less than a step, more than its unrest
_MOST_STEPS = 12


def hover_means(table: Table) -> tuple[Mapping[str, Value], tuple[str, ...]]:
    """The values of a hover from its log, by their names, and what to show of them before they are taken."""
    values: dict[str, Value] = {}
    shown = [f"{table.rows_read} rows of the log come down to these means (least and greatest behind):"]
    for column, name in _MEANS.items():
        if column in table.columns:
            at = table.columns.index(column)
            each, digit = table.values[:, at], table.last_digits[at]
            values[name] = _rounded(float(each.mean()), digit)
            span = f"{_rounded(float(each.min()), digit)} to {_rounded(float(each.max()), digit)}"
            shown.append(f"  {name}: {values[name]} {unit_of(name)} ({span})")
    if CLOCK in table.columns:
        clock = table.values[:, table.columns.index(CLOCK)]
        values["duration_s"] = Decimal(round(float(clock[-1] - clock[0])))
        shown.append(f"  duration_s: {values['duration_s']} s")
    return values, tuple(shown)


def told_steps(table: Table) -> tuple[str, ...]:
    """The steps in which a run was flown or held, each with its rows and medians; the columns alone without a level."""
    level = next((name for name in _LEVELS if name in table.columns), None)
    head = f"{table.rows_read} rows of {', '.join(table.columns)}"
    if level is None or len(table.values) < 2:
        return (head,)
    steps = table.values[:, table.columns.index(level)]
    others = [name for name in table.columns if name not in (level, CLOCK)]
    picked = table.values[:, [table.columns.index(name) for name in others]]
    found = find_plateaus(steps, picked, tolerance=max(_STEP * float(steps.max() - steps.min()), 1e-9))
    lines = [
        f"  {level} {step.level:.4g}: {step.rows.stop - step.rows.start} rows, "
        + ", ".join(f"{name} {value:.4g}" for name, value in zip(others, step.median, strict=True))
        for step in found[:_MOST_STEPS]
    ]
    more = [f"  and {len(found) - _MOST_STEPS} more"] if len(found) > _MOST_STEPS else []
    return (f"{head} in {len(found)} steps:", *lines, *more)


def copied(table: Table) -> Mapping[str, Value]:
    """The table as it is written in a manifest, each column to its last digit."""
    rows = [
        [_rounded(float(cell), digit) for cell, digit in zip(row, table.last_digits, strict=True)]
        for row in table.values
    ]
    return {"columns": list(table.columns), "rows": rows}


def _rounded(value: float, digit: float) -> Decimal:
    places = max(0, -math.floor(math.log10(digit) + 0.5)) if digit > 0 else 3
    return Decimal(f"{value:.{places}f}")


def column_names(columns: Sequence[str]) -> str:
    """``current_a, voltage_v`` and in brackets what may be left out, for people."""
    return ", ".join(f"[{name.removesuffix('?')}]" if name.endswith("?") else name for name in columns)
