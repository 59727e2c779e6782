"""A comparison of display and meter: its rows, its three fits, the error of indication that they leave."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np

from preflint.api import Known, Open, Unproven, need, records
from preflint.compute.calibration import (
    Calibration,
    Instrument,
    gain_and_zero,
    gain_only,
    gain_with_zero_prior,
)
from preflint.compute.decision import Decision, decide, t_factor
from preflint.compute.least_squares import Array

Unit = Literal["v", "a"]
_BEST_METER_PERCENT = 0.1  # of those that are held in the hand; common practice, no source
Record = records.VoltageComparison | records.CurrentComparison


@dataclass(frozen=True, slots=True)
class Judged:
    """Relative error of indication where the true value is ``at``; ``expanded`` is its U at 95 %.

    ``of_rows`` is the part of its standard uncertainty that more rows would lessen.
    """

    at: float
    error: float
    expanded: float
    of_rows: float
    decision: Decision


@dataclass(frozen=True, slots=True, eq=False)
class Comparison:
    """One record's rows as the settings asked about would show them, and the fits that are determinate."""

    indicated: Array
    reference: Array
    fits: tuple[Calibration, ...]
    judging: Calibration

    def judge(self, at: float, tolerance: float) -> Judged:
        """The error where the true value is ``at`` (above zero), by the fit with a prior.

        With x shown and V true, V = zero + gain·x, so an error dV of the fit at x is one of dV / (gain·V).
        U² = (t·u_rows)² + (1.96·u_common)²: the part that rows scatter by with the factor of its own degrees
        of freedom, the common part with that of a known one. One factor for both, by effective degrees of
        freedom, would fall to 2 just when two rows agree by luck, and the luck would be taken for certainty.
        ``tolerance`` is relative.
        """
        fit = self.judging
        shown = (at - fit.zero.value) / fit.gain.value
        where = np.array([1.0, shown])
        of_rows, common = (
            math.sqrt(max(0.0, float(where @ part @ where))) / (fit.gain.value * at)
            for part in (fit.covariance_rows, fit.covariance_common)
        )
        error, known = shown / at - 1, t_factor(math.inf)
        expanded = math.hypot(t_factor(fit.dof_rows) * of_rows, known * common)
        return Judged(at, error, expanded, of_rows, decide(error, expanded / known, math.inf, tolerance))

    def in_words(self, unit: Unit) -> str:
        """The fits, for the evidence."""
        return "; ".join(
            f"{fit.fit} {fit.gain.value:.4f}"
            + ("" if fit.fit == "gain-only" else f" and {signed(fit.zero.value, 3)} {unit.upper()}")
            for fit in self.fits
        )


def compare(record: Record, unit: Unit, u_zero: float, scale: float = 1.0, shift: float = 0.0) -> Comparison:
    """The fits of a record; ``scale`` and ``shift`` turn what it shows into what other settings would show.

    Ends the rule as unproven where rows or the meter's accuracy are missing, or the rows tell no scale.
    """
    table = need(record.table).value
    written, reference = table.column(f"indicated_{unit}"), table.column(f"reference_{unit}")
    indicated = scale * written + shift
    meter = instrument(record.reference, unit, reference)
    step = scale * last_digit(written)
    judging = gain_with_zero_prior(indicated, reference, meter, step, u_zero=u_zero)
    if judging is None or judging.gain.value <= 0 or not np.any(reference > 0):
        message = f"the display does not rise with the meter in the readings of {record.date.value}"
        raise Open(
            Unproven(
                "uncertain",
                record.place,
                message,
                "look whether the columns are exchanged, and compare again",
            )
        )
    others = (gain_only(indicated, reference, meter, step), gain_and_zero(indicated, reference, meter, step))
    return Comparison(indicated, reference, (*(fit for fit in others if fit), judging), judging)


def instrument(reference: records.Reference, unit: Unit, readings: Array) -> Instrument:
    """The meter as recorded; where no last digit is, the last one that any of its readings shows."""
    resolution = reference.resolution_v if unit == "v" else reference.resolution_a
    fixed = reference.accuracy_v if unit == "v" else reference.accuracy_a
    percent = reference.accuracy_percent
    if not isinstance(fixed, Known):
        need(percent)
    return Instrument(
        accuracy_percent=percent.value if isinstance(percent, Known) else 0.0,
        accuracy_absolute=fixed.value if isinstance(fixed, Known) else 0.0,
        resolution=resolution.value if isinstance(resolution, Known) else last_digit(readings),
    )


def last_digit(values: Array) -> float:
    """The last decimal place, down to thousandths, that any of the values shows."""
    for digit in (1.0, 0.1, 0.01):
        if np.all(np.abs(values / digit - np.round(values / digit)) < 1e-6):
            return digit
    return 0.001


def meter_in_words(record: Record, unit: Unit) -> str:
    """The instrument and how good it is."""
    meter = instrument(record.reference, unit, np.array([0.0]))
    name = record.reference.instrument
    parts = (
        [f"{meter.accuracy_percent:g} % of the reading"] if isinstance(record.reference.accuracy_percent, Known) else []
    )
    parts += [f"{meter.accuracy_absolute:g} {unit.upper()}"] if meter.accuracy_absolute else []
    return f"{name.value if isinstance(name, Known) else 'a meter'} good to {' and '.join(parts)}"


def direction(one: Judged) -> str:
    """Which way the display is wrong."""
    return f"the display {'over' if one.error > 0 else 'under'}-reads"


def grounds(record: Record, unit: Unit, set_then: str, fits: Comparison, judged: Sequence[Judged]) -> str:
    """Readings, settings, fits and errors, for the evidence."""
    rows, decimals = len(fits.reference), 2 if unit == "v" else 1
    errors = " and ".join(
        f"{signed(100 * one.error, decimals)} % ± {100 * one.expanded:.{decimals}f} % "
        f"at {one.at:.{decimals}f} {unit.upper()}"
        for one in judged
    )
    return (
        f"{rows} {'reading' if rows == 1 else 'readings'} of {record.date.value} "
        f"against {meter_in_words(record, unit)}, {set_then}; "
        f"reference = zero + gain × indicated: {fits.in_words(unit)}; error of indication {errors}"
    )


def signed(value: float, decimals: int) -> str:
    """With its sign, and no sign but plus where it rounds to zero."""
    return f"{round(value, decimals) + 0.0:+.{decimals}f}"


def worst(judged: Sequence[Judged]) -> Judged:
    """The one that decides: found before uncertain before clear, then the greatest error, then the first."""
    rank = {"found": 2, "uncertain": 1, "clear": 0}
    return max(judged, key=lambda one: (rank[one.decision], round(abs(one.error), 6)))


def settling(one: Judged, tolerance: float) -> str:
    """The reading that would settle what is too uncertain to tell; errors and tolerance relative."""
    margin = abs(abs(one.error) - tolerance) / 2  # what u must stay below, with a coverage factor of 2
    good_to = 100 * math.sqrt(3 * max(0.0, margin**2 - one.of_rows**2))
    if good_to >= _BEST_METER_PERCENT:
        return f"compare again with a meter good to {good_to:.2g} % of the reading"
    if one.of_rows / 3 < margin <= one.of_rows:
        times = math.ceil((one.of_rows / margin) ** 2) + 1
        return f"compare again with {times} times as many rows, and with a better meter if there is one"
    return "the error lies close to the limit: enter the corrected setting and compare again"
