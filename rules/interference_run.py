"""An interference run: its steps, the field that follows the current, what the offset leaves over."""

from dataclasses import dataclass

import numpy as np

from preflint.api import (
    Absent,
    Aircraft,
    Context,
    Known,
    NotApplicable,
    NotFitted,
    Open,
    Tolerance,
    Unproven,
    need,
    records,
)
from preflint.compute.decision import expanded_radius_3d, u_rectangular
from preflint.compute.least_squares import Array, Indeterminate
from preflint.compute.regression import vector_line

from .power_sensing_draw import ANY_LOADED_RUN, ROUTES, only_to_write, settings
from .power_sensing_fit import last_digit

HOW = (
    "log current and field while the throttle goes up in steps to hover or more and back to still motors; "
    f"load: {ROUTES}"
)
DRIFT = Tolerance(
    "baseline_drift_percent",
    "%",
    20.0,
    "lower",
    "common practice, no source",
    "field with the motors still, after against before the run, in per cent of what the current made",
)
_SMALLEST_DRIFT_UT = 0.5
_SAME_CURRENT_A = 0.5
_UNLIKE = 0.25  # of the offset: nearer than that is no accident


@dataclass(frozen=True, slots=True, eq=False)
class Steps:
    """Medians of the steps of a run, in order: current (n,), field (n, 3) in µT, time (n,) or None.

    ``digit`` is the last one that the field shows, in µT.
    """

    current: Array
    field: Array
    time: Array | None
    digit: float


@dataclass(frozen=True, slots=True, eq=False)
class Run:
    """``slope``: µT for each ampere shown now, as logged; its covariance belongs to ``dof``.

    ``rescaled`` is sensor_mv_per_a now over that of the run. ``offset_then`` (µT for each ampere shown now)
    was already in the log where it is compensated; zero where it is raw.
    """

    record: records.InterferenceRun
    steps: Steps
    slope: Array
    covariance: Array
    dof: float
    offset_then: Array
    rescaled: float
    kind: str

    @property
    def needed_offset(self) -> Array:
        """What would have to be added for each ampere shown now."""
        return self.offset_then - self.slope

    def left_over(self, offset: Array) -> Array:
        """What is left for each ampere shown now, with this offset installed."""
        return self.slope - self.offset_then + offset

    def doubt(self, installed: Array) -> str | None:
        """Why the log looks as if ``field_is`` were the wrong way round; None where it does not."""
        if self.kind == "raw":
            unlike, whole = self.slope, installed
            why = "the log says raw, but next to nothing follows the current, though an offset is installed"
        else:
            unlike, whole = self.slope + self.offset_then, self.offset_then
            why = "the log says compensated, but shows just what the offset in force should have taken away"
        if float(np.linalg.norm(unlike)) + self.radius < _UNLIKE * float(np.linalg.norm(whole)):
            return why
        return None

    @property
    def radius(self) -> float:
        """Radius of the ball around ``slope`` that holds the true one with 95 %."""
        return expanded_radius_3d(self.covariance, self.dof)


def not_asked(aircraft: Aircraft) -> NotApplicable | None:
    """Where no compass is there or relied on. Ends the rule as unproven where nobody says."""
    if isinstance(aircraft.compass, NotFitted):
        return NotApplicable("no compass is fitted")
    relies = aircraft.relies_on("compass")
    if isinstance(relies, Absent):
        raise only_to_write(relies)
    return None if relies else NotApplicable("flight does not rely on the compass")


def offset(aircraft: Aircraft) -> Known[tuple[float, ...]]:
    """The offset installed. Ends the rule as unproven where nobody recorded it."""
    assert not isinstance(aircraft.compass, NotFitted)
    if isinstance(aircraft.compass, Absent):
        raise only_to_write(aircraft.compass)
    installed = aircraft.compass.value.interference_offset_ut_per_a
    if isinstance(installed, Absent):
        raise only_to_write(installed)
    return installed


def latest_run(on: Context) -> records.InterferenceRun:
    """The run that still speaks. Ends the rule as unproven where there is none."""
    return on.freshest("interference_run", on.aircraft.records.interference_run, HOW, precaution=ANY_LOADED_RUN)


def logged(record: records.InterferenceRun) -> tuple[Steps, Array, Array, float]:
    """Steps, and slope (3,), covariance (3, 3) and degrees of freedom, for each ampere shown then."""
    steps = _steps(record)
    u_field = np.full(steps.field.shape, u_rectangular(steps.digit / 2))
    spare = steps.current.size - (2 if steps.time is None else 3)
    if spare < 1:
        raise _open(
            record,
            f"the run of {record.date.value} has too few steps of current to tell its scatter: {steps.current.size}",
        )
    try:
        fit = vector_line(steps.current, steps.field, time=steps.time, u_field=u_field)
    except Indeterminate as why:
        raise _open(record, f"the run of {record.date.value} does not tell what the current does: {why}") from why
    return steps, fit.slope, fit.slope_covariance, fit.dof


def fitted_run(on: Context) -> Run:
    """The run that still speaks, for each ampere shown now. Ends the rule as unproven without one."""
    record = latest_run(on)
    steps, slope, covariance, dof = logged(record)
    kind = need(record.field_is).value
    then = np.zeros(3)
    if kind == "compensated":
        then = np.array(need(record.in_force.interference_offset_ut_per_a).value)
    rescaled = 1.0
    if not isinstance(on.aircraft.power_sensing, NotFitted):
        now = need(settings(on.aircraft).sensor_mv_per_a).value
        rescaled = now / need(record.in_force.sensor_mv_per_a).value
    _no_drift(record, steps, slope, on.limit(DRIFT) / 100)
    return Run(record, steps, slope * rescaled, covariance * rescaled**2, dof, then * rescaled, rescaled, kind)


def _no_drift(record: records.InterferenceRun, steps: Steps, slope: Array, share: float) -> None:
    """Ends the rule as unproven where the field with the motors still changed during the run."""
    low = float(steps.current.min()) + 0.1 * float(np.ptp(steps.current))
    if steps.current[0] > low or steps.current[-1] > low:
        return
    moved = steps.field[-1] - steps.field[0] - slope * (steps.current[-1] - steps.current[0])
    drift = float(np.linalg.norm(moved))
    made = float(np.linalg.norm(slope) * np.ptp(steps.current))
    if drift > max(_SMALLEST_DRIFT_UT, share * made):
        raise _open(
            record,
            f"with the motors still the field was {drift:.1f} µT different after the run of "
            f"{record.date.value} than before, where the current made {made:.1f} µT: something moved",
        )


def _open(record: records.InterferenceRun, message: str) -> Open:
    return Open(Unproven("uncertain", record.place, message, HOW, precaution=ANY_LOADED_RUN))


def _steps(record: records.InterferenceRun) -> Steps:
    """Rows of one throttle setting (or one current) that follow each other are one step.

    Neighbours in a log are not independent, and the median forgives the moment of change.
    """
    table = need(record.table).value
    current = table.column("current_a")
    axes, digits = [], []
    for axis in ("x", "y", "z"):
        column = table.column(f"field_{axis}_ut")  # milligauss was converted when the table was read
        axes.append(column)
        digits.append(last_digit(column))
    has_throttle = "throttle_percent" in table.columns
    level, near = (table.column("throttle_percent"), 0.0) if has_throttle else (current, _SAME_CURRENT_A)
    groups = _groups(level, near)
    time = table.column("time_s") if "time_s" in table.columns else None
    return Steps(
        np.array([np.median(current[rows]) for rows in groups]),
        np.array([[np.median(axis[rows]) for axis in axes] for rows in groups]),
        None if time is None else np.array([np.median(time[rows]) for rows in groups]),
        min(digits),  # one logger shows all axes alike; a lazy axis may end in zeros
    )


def _groups(level: Array, near: float) -> list[slice]:
    """Neighbours that stay within ``near`` of the first of each; a long log without steps in 30 pieces."""
    starts = [0]
    for row in range(1, level.size):
        if abs(level[row] - level[starts[-1]]) > near:
            starts.append(row)
    if len(starts) > max(30, level.size // 3):
        starts = sorted({int(start) for start in np.linspace(0, level.size, 31)[:-1]})
    return [slice(start, end) for start, end in zip(starts, [*starts[1:], level.size], strict=True)]
