"""A comparison of display and meter: its rows, its three fits, the error of indication that they leave."""

from __future__ import annotations

import math
from collections.abc import Sequence

from preflint.api import (
    PACK_IN_PROPS_OFF,
    Context,
    Known,
    Open,
    Unproven,
    need,
    records,
)
from preflint.arrays import np
from preflint.compute.calibration import (
    Calibration,
    gain_and_zero,
    gain_only,
    gain_with_zero_prior,
)
from preflint.compute.decision import Decision, decide, t_factor
from preflint.compute.least_squares import Array
from preflint.compute.plateaus import correlation_length
from preflint.compute.rows import distinct
from preflint.frozen import dataclass

from ..shared.loaded_run import again
from .limits import AMMETER_ZERO, CURRENT_ZERO, VOLTAGE_ZERO
from .meter import Record, Unit, instrument, meter_floor, meter_in_words, must_be_a_zero, zero_of

_CELLS_OF_THE_PRIOR = 4  # of the pack that voltage_zero_prior_v speaks of; common practice, no source
_NOTHING = 1e-30  # V or A: no instrument shows it, and what is divided by it has no end
_ROUNDING = 1e-9  # of the gain that the greatest readings would have
MOST_BY_HAND = 30  # rows that anybody reads by hand; more are a log; common practice, no source


@dataclass(frozen=True, slots=True)
class Judged:
    """Relative error of indication where the true value is ``at``; ``expanded`` is its U at 95 %.

    The standard uncertainty has three parts: ``of_rows`` (which more rows lessen), taken ``factor`` times,
    ``of_meter`` and ``of_zero``.
    """

    at: float
    error: float
    expanded: float
    of_rows: float
    of_meter: float
    of_zero: float
    factor: float
    decision: Decision


@dataclass(frozen=True, slots=True, eq=False)
class Comparison:
    """One record's rows as the settings asked about would show them, each once, and the fits that are determinate.

    ``step_indicated`` and ``step_reference`` are the last digits of display and meter.
    """

    indicated: Array
    reference: Array
    fits: tuple[Calibration, ...]
    judging: Calibration
    step_indicated: float
    step_reference: float

    def judge(self, at: float, tolerance: float) -> Judged:
        """The error where the true value is ``at`` (above zero), by the fit with a prior.

        With x shown and V true, V = zero + gain·x, so an error dV of the fit at x is one of dV / (gain·V).
        U² = (t·u_rows)² + (1.96·u_common)²: the part that rows scatter by with the factor of its own degrees
        of freedom, the common part with that of a known one. One factor for both, by effective degrees of
        freedom, would fall to 2 just when two rows agree by luck, and the luck would be taken for certainty.
        ``tolerance`` is relative.
        """
        fit, known = self.judging, t_factor(math.inf)
        shown = (at - fit.zero.value) / fit.gain.value
        where = np.array([1.0, shown])
        of_rows, of_meter, of_zero = (
            math.sqrt(max(0.0, float(where @ part @ where))) / (fit.gain.value * at)
            for part in (fit.covariance_rows, fit.covariance_common - fit.covariance_prior, fit.covariance_prior)
        )
        error, factor = shown / at - 1, _rows_factor(fit.dof_rows)
        expanded = math.hypot(factor * of_rows, known * of_meter, known * of_zero)
        decision = decide(error, expanded / known, math.inf, tolerance)
        return Judged(at, error, expanded, of_rows, of_meter, of_zero, factor, decision)

    def in_words(self, unit: Unit) -> str:
        """The fits, for the evidence."""
        return "; ".join(
            f"{fit.fit} {fit.gain.value:.4f}"
            + ("" if fit.fit == "gain-only" else f" and {signed(fit.zero.value, 3)} {unit.upper()}")
            for fit in self.fits
        )


def _rows_factor(dof: float) -> float:
    """t at 95 %; at 97.5 % where one row is to spare and not nearly two.

    Two rows that agree by luck look as sure as two that are right. At 95 % an error-free display whose rows
    scatter by as much as the limit would be found wrong in 1.05 % of all pairs, at 97.5 % in 0.52 %: the guard
    band follows from the risk that is allowed, 1 % (JCGM 106:2012).
    """
    return t_factor(dof, 0.975 if dof < 1.5 else 0.95)


def compared(
    on: Context, record: Record, unit: Unit, scale: float = 1.0, shift: float = 0.0, *, zero_noted: bool = False
) -> Comparison:
    """As :func:`compare`, once for an aircraft, by what the limits say of meters and of the display's zero.

    ``zero_noted``: as if the meter's zero were recorded, as 0. Ends the rule as unproven where the zero recorded is
    none, too.
    """
    if unit == "a":
        must_be_a_zero(on, record)
    within = None if zero_noted else on.limit(AMMETER_ZERO) if unit == "a" else 0.0
    return on.once(compare, record, unit, _zero_prior(on, unit), meter_floor(on, unit), within, scale, shift)


def _zero_prior(on: Context, unit: Unit) -> float:
    """u of the display's zero before any reading: small packs come with small dividers, and so with small zeros."""
    if unit == "a":
        return on.limit(CURRENT_ZERO)
    cells = [pack.cells.value for pack in on.aircraft.packs if isinstance(pack.cells, Known)]
    return on.limit(VOLTAGE_ZERO) * min(1.0, min(cells, default=_CELLS_OF_THE_PRIOR) / _CELLS_OF_THE_PRIOR)


def compare(
    record: Record, unit: Unit, u_zero: float, floor: float, zero_within: float | None, scale: float, shift: float
) -> Comparison:
    """The fits of a record; ``scale`` and ``shift`` turn what it shows into what other settings would show.

    ``floor`` is the best accuracy that is believed of the meter, in %; ``zero_within`` the half-width of its zero
    where none is recorded. Ends the rule as unproven where rows or the meter's accuracy are missing, or the rows
    tell no scale.
    """
    table = need(record.table).value
    read = table.column(f"reference_{unit}") - (zero_of(record.reference, unit) or 0.0)
    as_written = np.stack([table.column(f"indicated_{unit}"), read], axis=1)
    as_written[np.abs(as_written) < _NOTHING] = 0.0
    # Rows alike count once: the same last digits hide the same error, which repeating does not average. Sorted, so
    # that no last digit of a sum hangs on the order in which they were written.
    written, reference = distinct(as_written).T
    indicated = scale * written + shift
    meter = instrument(record.reference, unit, table.last_digit(f"reference_{unit}"), floor, zero_within)
    digit = table.last_digit(f"indicated_{unit}")
    step = scale * digit
    if not np.any(written) and np.any(reference > 4 * meter.resolution):
        what = (
            f"the display showed 0 {unit.upper()} in all readings of {record.date.value}; the meter read up to "
        )
        what += f"{float(np.max(reference)):.4g} {unit.upper()}"
        raise _no_scale(record, what, "look at the sensor's plug and wires and at what is set, then compare again")
    if still := _standing_still(written, reference, digit, meter.resolution, unit):
        how = "look whether display and meter follow the pack at all, then compare again"
        raise _no_scale(record, f"{still} in the readings of {record.date.value}", how)
    judging = gain_with_zero_prior(indicated, reference, meter, step, u_zero=u_zero)
    if judging is None or not _rises(judging, indicated, reference) or not np.any(reference > 0):
        message = f"the display does not rise with the meter in the readings of {record.date.value}"
        raise _no_scale(record, message, "look whether the columns are exchanged, and compare again")
    others = (gain_only(indicated, reference, meter, step), gain_and_zero(indicated, reference, meter, step))
    shown = table.column(f"indicated_{unit}")
    share = _worth_of_a_row(read - judging.zero.value - judging.gain.value * (scale * shown + shift), len(reference))
    judging = judging.with_rows_worth(share)
    fits = (*(fit.with_rows_worth(share) for fit in others if fit), judging)
    return Comparison(indicated, reference, fits, judging, step, meter.resolution)


def _rises(fit: Calibration, indicated: Array, reference: Array) -> bool:
    """Whether the gain is above zero by more than rounding leaves of readings that cancel."""
    return fit.gain.value > _ROUNDING * float(np.max(np.abs(reference)) / np.max(np.abs(indicated)))


def _worth_of_a_row(residuals: Array, once: int) -> float:
    """How much each of the ``once`` rows that count says of an independent one; ``residuals`` in the order written.

    Rows that somebody read and wrote down are independent. Those of a log are as many as their autocorrelation
    leaves.
    """
    if residuals.size <= MOST_BY_HAND:
        return 1.0
    return min(1.0, residuals.size / correlation_length(residuals) / once)


def _no_scale(record: Record, message: str, how: str) -> Open:
    precaution = PACK_IN_PROPS_OFF if isinstance(record, records.VoltageComparison) else again(record)
    return Open(Unproven(cause="uncertain", place=record.place, message=message, do=how, mind=precaution))


def _standing_still(shown: Array, read: Array, step_shown: float, step_read: float, unit: Unit) -> str | None:
    """In words, that one of the two stands where the other moves by more than last digits and a per cent."""
    moves = 4 * (step_shown + step_read) + 0.01 * float(np.max(np.abs(read)))
    for name, still, step, other, moving in (
        ("display", shown, step_shown, "meter", read),
        ("meter", read, step_read, "display", shown),
    ):
        if np.ptp(still) <= step and np.ptp(moving) > moves:
            return (
                f"the {name} stands at {float(still[0]):.4g} {unit.upper()} while the {other} goes "
                f"from {float(np.min(moving)):.4g} to {float(np.max(moving)):.4g} {unit.upper()}"
            )
    return None


def direction(one: Judged) -> str:
    """Which way the display is wrong."""
    return f"the display {'over' if one.error > 0 else 'under'}-reads"


def grounds(record: Record, unit: Unit, set_then: str, fits: Comparison, judged: Sequence[Judged]) -> str:
    """Readings, settings, fits and errors, for the evidence."""
    rows, decimals = need(record.table).value.rows_read, 2 if unit == "v" else 1
    errors = " and ".join(
        f"{signed(100 * one.error, decimals)} % ± {100 * one.expanded:.{decimals}f} % "
        f"at {one.at:.{decimals}f} {unit.upper()}"
        for one in judged
    )
    scatter = ""
    if math.isfinite(fits.judging.dof_rows):
        scatter = f" and a scatter of {fits.judging.row_sd:.2g} {unit.upper()} that last digits do not explain"
    return (
        f"{rows} {'reading' if rows == 1 else 'readings'} of {record.date.value} "
        f"against {meter_in_words(record, unit)}, {set_then}; "
        f"reference = zero + gain × indicated: {fits.in_words(unit)}{scatter}; error of indication {errors}"
    )


def signed(value: float, decimals: int) -> str:
    """With its sign, and no sign but plus where it rounds to zero."""
    return f"{round(value, decimals) + 0.0:+.{decimals}f}"


def worst(judged: Sequence[Judged]) -> Judged:
    """The one that decides: found before uncertain before clear, then the greatest error, then the first."""
    rank = {"found": 2, "uncertain": 1, "clear": 0}
    return max(judged, key=lambda one: (rank[one.decision], round(abs(one.error), 6)))
