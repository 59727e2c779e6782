"""An interference run: the field that follows the current through its steps, what the offset leaves over."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from preflint.api import (
    Absent,
    Aircraft,
    Context,
    Figure,
    Known,
    NotApplicable,
    NotFitted,
    Open,
    Related,
    Tolerance,
    Unproven,
    figure,
    need,
    not_recorded,
    records,
)
from preflint.arrays import np
from preflint.compute.decision import expanded_radius_3d, t_factor
from preflint.compute.least_squares import Array, Indeterminate
from preflint.compute.regression import VectorLine, vector_line
from preflint.frozen import dataclass

from ..power.draw import settings
from ..shared.loaded_run import again, loaded
from .log import Steps, plausible_steps, steps_of

_STEPS = records.KINDS["interference_run"].take
DRIFT = Tolerance(
    "baseline_drift_percent",
    "%",
    20.0,
    "lower",
    "common practice, no source",
    "field with the motors still, after against before the run, in per cent of what the current made",
)
_SMALLEST_DRIFT_UT = 0.5
# Standard uncertainty of each axis, for what warms up or settles in the time of a run where nothing shows it;
# common practice, no source.
_UNSEEN_DRIFT_UT = 0.1
_UNLIKE = 0.25  # of the offset: nearer than that is no accident


@dataclass(frozen=True, slots=True, eq=False)
class Run:
    """``slope``: µT for each ampere shown now, as logged; its covariance belongs to ``dof``.

    ``rescaled`` is sensor_mv_per_a now over that of the run. ``offset_then`` (µT for each ampere shown now)
    was already in the log where it is compensated; zero where it is raw. ``drift_in_words``: for the evidence,
    where the motors were not still again at the end.
    """

    record: records.InterferenceRun
    steps: Steps
    slope: Array
    covariance: Array
    dof: float
    offset_then: Array
    rescaled: float
    kind: str
    drift_in_words: str = ""

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

    @property
    def u(self) -> float:
        """Standard uncertainty of ``slope`` along the axis on which it is known least."""
        return float(np.sqrt(max(0.0, np.linalg.eigvalsh(self.covariance)[-1])))

    @property
    def reach(self) -> float:
        """How much more than shown the true field may have across the worst heading, at 95 %: never the radius.

        That heading belongs to the true field w: on it w is e·w of one unit vector e, which no reading chooses. What
        was read has e·v there and no less at its own worst heading; so the doubt of one number, t·u, is all there is.
        The least that the true field has needs the ball, since readings choose the heading that shows them worst.
        """
        return t_factor(self.dof) * self.u

    @property
    def settling(self) -> str:
        """How the run is to be repeated so that it tells more."""
        away, digit_a = self.steps.current - self.steps.current.mean(), float(self.steps.u_current[0] * np.sqrt(12))
        of_digit = np.linalg.norm(self.slope) * self.steps.u_current[0] / np.linalg.norm(away)
        if digit_a >= 0.1 and of_digit**2 > 0.5 * np.linalg.eigvalsh(self.covariance)[-1]:
            return f"with the current noted to {digit_a / 10:g} A"
        if self.steps.still_again is None:
            return "until the motors are still again, with more steps and a higher current"
        return "with more steps and a higher current"


def steps_again(record: records.InterferenceRun | None) -> str:
    """The run in words, with the load of the run before where there was one."""
    return loaded(_STEPS, record)


def not_asked(aircraft: Aircraft) -> NotApplicable | None:
    """Where no compass is there or relied on. Ends the rule as unproven where nobody says."""
    if isinstance(aircraft.compass, NotFitted):
        return NotApplicable("no compass is fitted")
    relies = aircraft.relies_on("compass")
    if isinstance(relies, Absent):
        raise Open(not_recorded(relies))
    return None if relies else NotApplicable("flight does not rely on the compass")


def offset(aircraft: Aircraft) -> Known[tuple[float, ...]]:
    """The offset installed. Ends the rule as unproven where nobody recorded it."""
    assert not isinstance(aircraft.compass, NotFitted)
    if isinstance(aircraft.compass, Absent):
        raise Open(not_recorded(aircraft.compass))
    installed = aircraft.compass.value.interference_offset_ut_per_a
    if isinstance(installed, Absent):
        raise Open(not_recorded(installed))
    return installed


def latest_run(on: Context) -> records.InterferenceRun:
    """The run that still speaks. Ends the rule as unproven where there is none."""
    runs = on.aircraft.records.interference_run
    before = on.latest(runs)
    return on.freshest("interference_run", runs, steps_again(before), mind=again(before))


def told(record: records.InterferenceRun, steps: Steps) -> tuple[VectorLine, str]:
    """B = B₀ + b·I + d·t where times tell the drift; else B = B₀ + b·I; and what to say of a drift unseen.

    Currents are those shown then. Ends the rule as unproven where the steps tell no line.
    Where the motors were not still again, the line without d has room for a drift nobody could see. Then, or where
    few steps are to spare, the surer of the two tells, so that a log never tells less for having times.
    """
    if not np.ptp(steps.current):
        shown = f"the run of {record.date.value} shows one current only, {steps.current[0]:.1f} A"
        raise _open(record, f"{shown}: what follows it cannot be told")
    unseen = steps.still_again is None
    lines: list[tuple[VectorLine, str]] = []
    if steps.time is not None and steps.current.size >= 4:
        try:
            lines.append((_line(steps, steps.time), "drift told by the times" if unseen else ""))
        except Indeterminate:
            pass  # the current only ever grows with time
        else:
            if not unseen and steps.current.size >= 5:
                return lines[0]
    if steps.current.size >= 3:
        try:
            fit = _line(steps, None)
        except Indeterminate as why:
            message = f"the run of {record.date.value} does not tell what the current does"
            raise _open(record, message, evidence=str(why)) from why
        if unseen:
            room = (_UNSEEN_DRIFT_UT / np.ptp(steps.current)) ** 2 * np.eye(3)
            fit = replace(fit, slope_covariance=fit.slope_covariance + room)
        lines.append((fit, f"{_UNSEEN_DRIFT_UT:g} µT allowed for a drift unseen" if unseen else ""))
    if not lines:
        raise _open(
            record,
            f"the run of {record.date.value} has too few steps of current to tell its scatter: {steps.current.size}",
        )
    return min(lines, key=lambda one: expanded_radius_3d(one[0].slope_covariance, one[0].dof))


def fitted(on: Context, record: records.InterferenceRun) -> Run:
    """Any run, for each ampere shown now. Ends the rule as unproven where it tells nothing."""
    steps = plausible_steps(on, record)
    fit, drift = on.once(told, record, steps)
    kind = need(record.field_is).value
    then = np.zeros(3)
    if kind == "compensated":
        then = np.array(need(record.in_force.interference_offset_ut_per_a).value)
    rescaled = 1.0
    if not isinstance(on.aircraft.power_sensing, NotFitted):
        now = need(settings(on.aircraft).sensor_mv_per_a).value
        rescaled = now / need(record.in_force.sensor_mv_per_a).value
    must_not_drift(record, steps, on.limit(DRIFT) / 100)
    return Run(
        record,
        steps,
        fit.slope * rescaled,
        fit.slope_covariance * rescaled**2,
        fit.dof,
        then * rescaled,
        rescaled,
        kind,
        f"not back to still motors: {drift}" if drift else "",
    )


def _line(steps: Steps, time: Array | None) -> VectorLine:
    return vector_line(steps.current, steps.field, time=time, u_field=steps.u_field, u_current=steps.u_current)


def must_not_drift(record: records.InterferenceRun, steps: Steps, share: float) -> None:
    """Ends the rule as unproven where the field with the motors still changed during the run.

    The change is fitted as a step of the last steps with the motors still, so that neither what little current
    then flowed nor the scatter of the run is taken for a drift.
    """
    again = steps.still_again
    if again is None:
        return
    fit = _line(steps, again)
    assert fit.drift is not None
    assert fit.drift_covariance is not None
    drift, doubt = float(np.linalg.norm(fit.drift)), expanded_radius_3d(fit.drift_covariance, fit.dof)
    made = float(np.linalg.norm(fit.slope) * np.ptp(steps.current))
    if drift > max(_SMALLEST_DRIFT_UT, share * made, doubt):
        landed = isinstance(record.route, Known) and record.route.value == "hover-log"
        raise _open(
            record,
            f"the still field after the run of {record.date.value} is {drift:.2f} ± {doubt:.2f} µT off that before",
            "let nothing shift or turn; warm the compass up for some minutes with the pack in; then "
            f"{steps_again(record)}",
            f"the current made {made:.1f} µT; something moved"
            + (", or it was set down facing another way" if landed else ""),
        )


def must_be_alive(run: Run) -> None:
    """Ends the rule as unproven where the log shows a sensor that stands still."""
    if not np.any(np.ptp(run.steps.field, axis=0)):
        message = f"the run of {run.record.date.value} shows one field to the last digit at every current"
        how = "look whether the logger took what the sensor showed; log the run again"
        raise _open(run.record, message, how, "no sensor is that still")


def _open(record: records.InterferenceRun, message: str, how: str | None = None, evidence: str = "") -> Open:
    return Open(
        Unproven(
            cause="uncertain",
            place=record.place,
            message=message,
            evidence=evidence,
            do=how or steps_again(record),
            mind=again(record),
            record="interference_run",
        )
    )


def rescaled_since(on: Context, run: Run, evidence: str) -> Unproven:
    """The run vouches only for the amperes that were shown then; what the offset becomes is worked out."""
    sensor, then = need(settings(on.aircraft).sensor_mv_per_a), need(run.record.in_force.sensor_mv_per_a)
    message = (
        f"sensor_mv_per_a is {sensor.value:g} now and was {then.value:g} during the run of {run.record.date.value}"
    )
    how = (
        f"repeat the run; if nothing else changed, the run's offset × {sensor.value:g} / {then.value:g} is "
        f"{vector(run.needed_offset)}: enter that first"
    )
    related = (
        Related(then.place, "in force during the run"),
        Related(offset(on.aircraft).place, "the offset installed"),
    )
    return Unproven(
        cause="stale",
        place=sensor.place,
        message=message,
        do=how,
        evidence=evidence,
        related=related,
        mind=again(run.record),
        record="interference_run",
    )


def vector(values: Array | tuple[float, ...]) -> str:
    """Three numbers as they are written in a manifest."""
    return f"[{', '.join(f'{round(float(value), 4) + 0.0:.4f}' for value in values)}]"


@figure("interference")
def run_figures(on: Context) -> Iterator[Figure]:
    """Field for each ampere shown during the run, as logged: with the offset in it if compensated."""
    record = latest_run(on)
    line, _ = on.once(told, record, on.once(steps_of, record))
    for axis, case in enumerate("xyz"):
        u = float(np.sqrt(line.slope_covariance[axis, axis]))
        yield Figure("interference_ut_per_a", case, float(line.slope[axis]), u, "µT/A", None, record.place, line.dof)
