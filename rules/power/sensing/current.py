"""Does the display's current mean anything?"""

from __future__ import annotations

import math
from collections.abc import Iterator

from preflint.api import (
    ANY_LOADED_RUN,
    NO_GO,
    Aircraft,
    Clear,
    Context,
    Figure,
    Finding,
    Job,
    Known,
    NotApplicable,
    NotFitted,
    Open,
    Outcome,
    Related,
    Unproven,
    figure,
    fitted,
    need,
    records,
    rule,
)
from preflint.arrays import np
from preflint.compute.decision import effective_dof

from ...shared.loaded_run import again, compare_again
from ..draw import (
    LOAD_COVERAGE,
    latest,
    not_fitted,
    settings,
)
from ..fit import Comparison, Judged, compared, direction, grounds, worst
from ..limits import AMPERES_COMPARED, COUNTED_SHARE, CURRENT_SCALE
from ..meter import meter_floor, zero_of
from ..range import beyond_sensor
from .alone import must_be_two_loads
from .coverage import hover_if_known, must_reach_flight
from .implausible import beyond_motors, columns_exchanged, end_of_range
from .settling import settling, units_first


def _record(on: Context) -> tuple[records.CurrentComparison, Open | None]:
    taken = on.aircraft.records.current_comparison
    before = on.latest(taken)
    record, left_open = latest(on, "current_comparison", taken, compare_again(before), again(before))
    _plausible(on, record)
    return record, left_open


def _plausible(on: Context, record: records.CurrentComparison) -> None:
    """Ends the rule as unproven where the readings cannot be this aircraft's."""
    table = need(record.table).value
    shown = table.column("indicated_a")
    row = int(np.argmax(shown))
    if beyond := beyond_sensor(on, record, float(shown[row]), table.row_place(row)):
        raise Open(beyond)
    beyond_motors(on, record)
    end_of_range(on, record, on.limit(CURRENT_SCALE) / 100)
    if "throttle_percent" in table.columns:
        columns_exchanged(record, on.limit(CURRENT_SCALE) / 100)


@figure("current-scale")
def current_figures(on: Context) -> Iterator[Figure]:
    """Gain and zero by three fits, as the settings in force showed it, and the settings that follow."""
    record, _ = on.once(_record, on)
    comparison = compared(on, record, "a")
    for fit in comparison.fits:
        yield Figure("current_gain", fit.fit, fit.gain.value, fit.gain.u, "1", None, record.place, fit.gain.dof)
        yield Figure("current_zero_a", fit.fit, fit.zero.value, fit.zero.u, "A", None, record.place, fit.zero.dof)
    sensor = record.in_force.sensor_mv_per_a
    if isinstance(sensor, Known):
        zero, gain = comparison.judging.zero, comparison.judging.gain
        scale = sensor.value / gain.value
        u = scale * gain.u / gain.value
        yield Figure("corrected_sensor_mv_per_a", None, scale, u, "mV/A", None, record.place, gain.dof)
        if isinstance(record.in_force.zero_mv, Known):
            corrected = record.in_force.zero_mv.value - zero.value * scale
            u, dof = _of_zero_mv(comparison, scale)
            yield Figure("corrected_zero_mv", None, corrected, u, "mV", None, record.place, dof)


def _of_zero_mv(comparison: Comparison, scale: float) -> tuple[float, float]:
    """Standard uncertainty and degrees of freedom of zero_mv - zero·scale.

    scale = sensor_mv_per_a / gain; with the covariance of zero and gain.
    """
    fit = comparison.judging
    slope = scale * np.array([1.0, -fit.zero.value / fit.gain.value])
    of_rows, of_common = (
        math.sqrt(max(0.0, float(slope @ part @ slope))) for part in (fit.covariance_rows, fit.covariance_common)
    )
    return math.hypot(of_rows, of_common), effective_dof([(of_rows, fit.dof_rows), (of_common, math.inf)])


@rule(
    "power_sensing/current-scale",
    each="aircraft",
    severity=NO_GO,
    job=Job.LOAD,
    needed_for_flight=True,
    shown_by=records.CurrentComparison,
    precaution=ANY_LOADED_RUN,
    source="guard bands on both sides after JCGM 106:2012; the limit is common practice, no source",
    tolerances=(CURRENT_SCALE, *AMPERES_COMPARED, LOAD_COVERAGE),
)
def current_scale(aircraft: Aircraft, on: Context) -> Outcome:
    """Does the display show the current that a meter shows?

    The charge used is counted from this number, and the compass's interference offset stands on it. Where it
    reads low, more is drawn than counted, and the pack is empty early: the dangerous way. Where it reads high,
    the landing comes early.

    Reasoning: as for voltage-scale, with a zero known beforehand to be 0 A with the standard uncertainty
    ``current_zero_prior_a``, and a meter no better than ``ammeter_accuracy_floor_percent``. What the meter showed with
    no current through it (zero_a) is taken off its readings; where that is not recorded its zero may be out by
    ``ammeter_zero_a``, an error common to all readings as its accuracy is. More than ``ammeter_zero_most_a`` is no
    meter's zero, and nothing is told from such readings. Judged at hover current and at the highest
    reading against ``current_scale_percent``; in between it errs by no more. Amperes shown are (input mV - zero_mv) /
    sensor_mv_per_a, so the scale goes the other way from the gain: sensor_mv_per_a' = in force / gain, zero_mv' =
    zero_mv - zero × sensor_mv_per_a / gain. A reading at throttle 0 or of 0.5 A at most must be there, and one at
    ``load_coverage_percent`` of hover current or more, or at half throttle by a route that says how the load was made.
    One reading under load can show an error; clear takes two that are not alike. Hover current is that of the latest
    hover, converted where it notes its settings and only settings or firmware changed since; else what the thrust stand
    needed for the take-off mass, at the middle of the pack's voltages. Where settings were changed since, the readings
    are converted: that can show an error, never that all is well.

    Open, whatever the numbers: amperes beyond the sensor's range, at its end, or beyond what all motors draw,
    throttle that does not rise with the current, and what voltage-scale leaves open.

    Fails:

        power_sensing: {sensor_mv_per_a: 26.4, zero_mv: 512}
        records:
          current_comparison:
            - date: 2026-05-16
              route: restrained
              in_force: {sensor_mv_per_a: 26.4, zero_mv: 512}
              reference: {instrument: clamp meter, accuracy_percent: 1.5, resolution_a: 0.1, zero_a: 0.0}
              columns: [throttle_percent, indicated_a, reference_a]
              rows: [[0, 0.0, 0.0], [35, 7.9, 9.0], [55, 18.8, 21.4]]

    Passes: the same with

        records:
          current_comparison:
            - date: 2026-05-16
              route: restrained
              in_force: {sensor_mv_per_a: 26.4, zero_mv: 512}
              reference: {instrument: clamp meter, accuracy_percent: 1.5, resolution_a: 0.1, zero_a: 0.0}
              columns: [throttle_percent, indicated_a, reference_a]
              rows: [[0, 0.1, 0.0], [35, 8.8, 9.0], [55, 20.9, 21.4]]

    Not checked: whether the clamp sits around one lead only, what a hall sensor drifts with temperature, and whether
    the columns of display and meter are exchanged.
    """
    if isinstance(aircraft.power_sensing, NotFitted):
        told = aircraft.records
        with_amperes = [hover for hover in told.hover if isinstance(hover.mean_current_a, Known)]
        return not_fitted(aircraft, on, [*told.current_comparison, *told.recharge, *with_amperes])
    settings(aircraft)
    failed = on.failed("current_comparison", aircraft.records.current_comparison, lambda r: _shown_as_set(r, on))
    return failed or _shown(*on.once(_record, on), on)


def _shown_as_set(record: records.CurrentComparison, on: Context) -> Outcome:
    """What one comparison shows by itself, where the settings that were in force are still those installed."""
    _plausible(on, record)
    now, then = settings(on.aircraft), record.in_force
    same = all(
        need(one).value == need(other).value
        for one, other in ((now.sensor_mv_per_a, then.sensor_mv_per_a), (now.zero_mv, then.zero_mv))
    )
    return _shown(record, None, on) if same else NotApplicable("set anew since")


def _shown(record: records.CurrentComparison, left_open: Open | None, on: Context) -> Outcome:
    """What a comparison shows, with the settings installed; ``left_open`` is what work since then leaves open."""
    aircraft, set_now = on.aircraft, settings(on.aircraft)
    sensor, zero = need(set_now.sensor_mv_per_a), need(set_now.zero_mv)
    sensor_then, zero_then = need(record.in_force.sensor_mv_per_a), need(record.in_force.zero_mv)
    scale = sensor_then.value / sensor.value
    shift = (zero_then.value - zero.value) / sensor.value
    fits = compared(on, record, "a", scale, shift)
    limit = on.limit(CURRENT_SCALE) / 100
    top = float(np.max(fits.reference))
    hover = hover_if_known(on)
    judged = [fits.judge(at, limit) for at in ([top] if isinstance(hover, Open) else [hover[0], top])]
    one = worst(judged)
    changed = (sensor.value, zero.value) != (sensor_then.value, zero_then.value)
    set_then = f"sensor_mv_per_a {sensor_then.value:g} and zero_mv {zero_then.value:g} in force"
    if changed:
        set_then += f", converted to {sensor.value:g} and {zero.value:g} as installed"
    evidence = grounds(record, "a", set_then, fits, judged)
    if one.decision == "found":
        return _wrong_scale(aircraft, record, fits, one, changed, evidence)
    if left_open:
        raise left_open
    if changed:
        return _set_since(record, set_now, evidence)
    if one.decision == "uncertain":
        return Unproven(
            cause="uncertain",
            place=record.place,
            message=f"{direction(one)} amperes by {100 * abs(one.error):.1f} ± {100 * one.expanded:.1f} % at "
            f"{one.at:.1f} A: too near {100 * limit:g} % to tell",
            do=_settling(on, record, one, fits, (scale, shift)),
            evidence=evidence,
            mind=again(record),
            record="current_comparison",
        )
    must_reach_flight(record, fits, hover, on.limit(LOAD_COVERAGE) / 100)
    must_be_two_loads(record, fits)
    return Clear(evidence)


def _settling(
    on: Context, record: records.CurrentComparison, one: Judged, fits: Comparison, as_set: tuple[float, float]
) -> str:
    """The meter's zero, where that is all the doubt or most of it; else the reading that would settle it."""
    limit = on.limit(CURRENT_SCALE) / 100
    if zero_of(record.reference, "a") is None:
        noted = compared(on, record, "a", *as_set, zero_noted=True).judge(one.at, limit)
        if noted.decision != "uncertain" or noted.expanded < one.expanded / 2:
            return "compare again, and note first what the meter shows with no current through it (zero_a)"
    return settling(one, limit, fits, "a", meter_floor(on, "a"))


def _wrong_scale(
    aircraft: Aircraft, record: records.CurrentComparison, fits: Comparison, one: Judged, changed: bool, evidence: str
) -> Finding:
    """With the settings that the readings ask for."""
    set_now = settings(aircraft)
    sensor, zero = need(set_now.sensor_mv_per_a), need(set_now.zero_mv)
    right = sensor.value / fits.judging.gain.value
    right_zero = round(zero.value - fits.judging.zero.value * right, 2) + 0.0  # no input tells 0.01 mV apart
    return Finding(
        place=sensor.place,
        message=_message(one, changed),
        evidence=f"{_charge_used(aircraft, one.error)}; {evidence}",
        do=f"{units_first(one, 'a')}set sensor_mv_per_a to {right:.4g} and zero_mv to {right_zero:.4g}, "
        "then compare again under load",
        related=(Related(record.place, f"the readings of {record.date.value}"),),
        mind=again(record),
        record="current_comparison",
    )


def _set_since(record: records.CurrentComparison, set_now: fitted.PowerSensing, evidence: str) -> Unproven:
    """Converted readings never show that all is well."""
    sensor, zero = need(set_now.sensor_mv_per_a), need(set_now.zero_mv)
    sensor_then, zero_then = need(record.in_force.sensor_mv_per_a), need(record.in_force.zero_mv)
    wrong = sensor if sensor.value != sensor_then.value else zero
    return Unproven(
        cause="stale",
        place=wrong.place,
        message=f"sensor_mv_per_a {sensor.value:g} and zero_mv {zero.value:g} now, {sensor_then.value:g} and "
        f"{zero_then.value:g} in the readings",
        do=f"compare again with the settings installed: {compare_again(record)}",
        evidence=evidence,
        related=(Related(record.place, f"the readings of {record.date.value}"),),
        mind=again(record),
        record="current_comparison",
    )


def _message(one: Judged, changed: bool) -> str:
    size = f"{100 * abs(one.error):.1f} ± {100 * one.expanded:.1f} % at {one.at:.1f} A"
    drawn = "less" if one.error > 0 else "more"
    return f"{direction(one)} amperes by {size}{', as set now' if changed else ''}: {drawn} is drawn than counted"


def _charge_used(aircraft: Aircraft, error: float) -> str:
    """What is used of the largest pack when the display has counted most of it."""
    dangerous = "dangerous, " if error < 0 else ""
    if error <= -1:
        return f"{dangerous}no charge is counted"
    capacities = [pack.capacity_mah.value for pack in aircraft.packs if isinstance(pack.capacity_mah, Known)]
    counted = COUNTED_SHARE * max(capacities) if capacities else 1000.0
    of_pack = f" of {max(capacities):.0f}" if capacities else ""
    return f"{dangerous}when {counted:.0f}{of_pack} mAh are counted, {counted / (1 + error):.0f} are used"
