"""How far what is left of the interference turns the compass, at hover and full throttle, level and tilted."""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from preflint.api import (
    CAUTION,
    NO_GO,
    Aircraft,
    Clear,
    Context,
    Figure,
    Finding,
    Job,
    Known,
    Open,
    Outcome,
    Related,
    Tolerance,
    Unproven,
    figure,
    need,
    rule,
    unproven,
)
from preflint.compute.geomagnetism import (
    Field,
    decimal_year,
    deviation_deg,
    geomagnetic_field,
    horizontal_disturbance_ut,
)
from preflint.compute.least_squares import Array

from .interference_run import DRIFT, HOW, Run, fitted_run, latest_run, logged, not_asked, offset
from .power_sensing_draw import ANY_LOADED_RUN, full_current_a, hover_current_a

HEADING_LIMIT = Tolerance(
    "heading_error_limit_deg",
    "deg",
    10.0,
    "lower",
    "14 CFR 27.1327(a)(2), former 23.1327(a)(2)",
    "deviation of the compass under load beyond which nobody flies who relies on it",
)
HEADING_AIM = Tolerance(
    "heading_error_aim_deg",
    "deg",
    5.0,
    "lower",
    "common practice, no source",
    "deviation of the compass under load that is aimed at",
)
TILT_DEG = 25.0  # common practice, no source: leaning into wind or hurrying along


@dataclass(frozen=True, slots=True)
class Deviation:
    """Largest error of heading (degrees) in one case, with its bounds at 95 %; 180 means a meaningless heading."""

    load: str
    attitude: str
    current_a: float
    value: float
    low: float
    high: float
    u: float | None


def earth_field(on: Context) -> Field:
    """The model field at the site on the day judged at. Ends the rule as unproven where the site is not recorded."""
    site = on.aircraft.site
    latitude, longitude = need(site.latitude_deg).value, need(site.longitude_deg).value
    elevation = need(site.elevation_m).value
    try:
        return geomagnetic_field(latitude, longitude, elevation, decimal_year(on.judged_on))
    except ValueError as why:
        raise unproven(
            site.place, f"no field is known at the site: {why}", "judge at a date that the model covers"
        ) from why


@figure("earth-field")
def field_figures(on: Context) -> Iterator[Figure]:
    """The Earth's field at the site on the day judged at, by the World Magnetic Model."""
    field, place = earth_field(on), on.aircraft.site.place
    yield Figure("field_total_ut", None, field.total_ut, field.u_total_ut, "µT", None, place)
    yield Figure("field_horizontal_ut", None, field.horizontal_ut, field.u_horizontal_ut, "µT", None, place)
    yield Figure(
        "field_inclination_deg", None, field.inclination_deg, field.u_inclination_deg, "deg", None, place
    )
    yield Figure(
        "field_declination_deg", None, field.declination_deg, field.u_declination_deg, "deg", None, place
    )


@figure("interference")
def run_figures(on: Context) -> Iterator[Figure]:
    """Field for each ampere shown during the run, as logged (with the offset in it where it is compensated)."""
    record = latest_run(on)
    _, slope, covariance, _ = logged(record)
    for axis, case in enumerate("xyz"):
        u = float(np.sqrt(covariance[axis, axis]))
        yield Figure("interference_ut_per_a", case, float(slope[axis]), u, "µT/A", None, record.place)


@figure("heading-error")
def heading_figures(on: Context) -> Iterator[Figure]:
    """The largest error of heading that the interference left over makes."""
    run = fitted_run(on)
    for one in _deviations(on, run, np.array(offset(on.aircraft).value))[0]:
        case = f"{run.kind}-{one.load}-{one.attitude}"
        yield Figure("heading_error_deg", case, one.value, one.u, "deg", None, run.record.place)


def _deviations(on: Context, run: Run, installed: Array) -> tuple[list[Deviation], Open | None]:
    """All cases that can be computed, and why the others cannot."""
    field, left = earth_field(on), run.left_over(installed)
    found: list[Deviation] = []
    missing: Open | None = None
    for load in ("hover", "full"):
        try:
            current = hover_current_a(on)[0] if load == "hover" else full_current_a(on.aircraft)
        except Open as end:
            missing = missing or end
            continue
        for attitude, tilt in (("level", 0.0), ("tilted", TILT_DEG)):
            found.append(_deviation(load, attitude, tilt, current, left, run, field))
    if not found and missing:
        raise missing
    return found, missing


def _deviation(
    load: str, attitude: str, tilt: float, current: float, left: Array, run: Run, field: Field
) -> Deviation:
    across = horizontal_disturbance_ut(left * current, tilt)
    radius = run.radius * current
    horizontal, u_horizontal = field.horizontal_ut, field.u_horizontal_ut
    value = deviation_deg(across, horizontal)
    low = deviation_deg(max(0.0, across - radius), horizontal + 1.96 * u_horizontal)
    weakest = horizontal - 1.96 * u_horizontal
    high = deviation_deg(across + radius, weakest) if weakest > 0 else 180.0
    u = None
    if value < 90:
        u_across = current * float(np.sqrt(max(0.0, np.linalg.eigvalsh(run.covariance)[-1])))
        slope = horizontal * np.cos(np.radians(value))
        u = float(np.degrees(np.hypot(u_across, across / horizontal * u_horizontal) / slope))
    return Deviation(load, attitude, current, value, low, high, u)


def _judged(
    aircraft: Aircraft, on: Context
) -> tuple[Run, Known[tuple[float, ...]], list[Deviation], Open | None, str]:
    installed = offset(aircraft)
    run = fitted_run(on)
    deviations, missing = _deviations(on, run, np.array(installed.value))
    return run, installed, deviations, missing, _evidence(on, run, installed.value, deviations)


@rule(
    "interference/heading-error",
    each="aircraft",
    severity=NO_GO,
    job=Job.INTERFERENCE,
    needed_for_flight=True,
    precaution=ANY_LOADED_RUN,
    source="14 CFR 27.1327(a)(2): written for a needle that a pilot reads, here for what the autopilot steers by",
    tolerances=(HEADING_LIMIT, DRIFT),
)
def heading_error(aircraft: Aircraft, on: Context) -> Outcome:
    """Does the compass still point right under load?

    The current to the motors makes a magnetic field of its own. A heading that is wrong under load turns
    position hold into a growing circle, and the aircraft flies away.

    Reasoning: the field of a run follows B = B₀ + b·I (+ d·t where times are logged), fitted through the
    medians of its steps. With the installed offset o, which the flight controller adds for each ampere, e is
    left over: e = b + o for a raw log, e = b - o_then + o for a compensated one, where o_then was in
    force. At a current I the disturbance is d = e·I; level, its horizontal part h counts; tilted by 25°,
    h = |d|·sin(min(90°, α + 25°)), where α is its angle from the vertical. The largest error of heading is
    asin(h / H), with H from the World Magnetic Model at the site; h ≥ H makes it meaningless. Judged at hover
    current and with all motors at full throttle, with bounds at 95 %: found if the lower bound of any case is
    above ``heading_error_limit_deg``, clear if no upper bound is, otherwise too uncertain to tell.

    Where sensor_mv_per_a was changed since the run, b is converted to the amperes shown now. That can show an
    error; it never shows that all is well.

    Fails (with H near 18 µT and 24 A at hover):

        compass: {interference_offset_ut_per_a: [0.11, -0.23, 0.05]}
        records:
          interference_run:
            - date: 2026-04-18
              route: restrained
              field_is: raw
              in_force: {sensor_mv_per_a: 26.4}
              columns: [throttle_percent, current_a, field_x_ut, field_y_ut, field_z_ut]
              rows: [[0, 0, 9.0, 24.0, 38.0], [40, 10, 10.1, 21.7, 38.5], [60, 20, 11.2, 19.4, 39.0], [0, 0, 9.0, 24.0, 38.0]]

    Passes:

        compass: {interference_offset_ut_per_a: [-0.11, 0.23, -0.05]}
        records:
          interference_run:
            - date: 2026-04-18
              route: restrained
              field_is: raw
              in_force: {sensor_mv_per_a: 26.4}
              columns: [throttle_percent, current_a, field_x_ut, field_y_ut, field_z_ut]
              rows: [[0, 0, 9.0, 24.0, 38.0], [40, 10, 10.1, 21.7, 38.5], [60, 20, 11.2, 19.4, 39.0], [0, 0, 9.0, 24.0, 38.0]]

    Not checked: hard and soft iron (compass), which add to this error; interference that does not follow the
    pack current, and what the run did not reach (run-coverage).
    """
    if answer := not_asked(aircraft):
        return answer
    run, installed, deviations, missing, evidence = _judged(aircraft, on)
    limit = on.limit(HEADING_LIMIT)
    one = max(deviations, key=lambda case: (case.low, case.high))
    related = (Related(run.record.place, f"the run of {run.record.date.value}"),)
    if one.low > limit:
        remedy = f"set interference_offset_ut_per_a to {vector(run.needed_offset)}, then repeat the run"
        return Finding(installed.place, f"{_in_words(one)}, more than {limit:g}°", evidence, remedy, related)
    if run.rescaled != 1:
        return _rescaled(aircraft, run, installed, evidence)
    if missing:
        raise missing
    most = max(deviations, key=lambda case: case.high)
    if most.high > limit:
        message = f"{_in_words(most)}, perhaps {most.high:.0f}°: too uncertain to tell from {limit:g}°"
        how = f"repeat the run with more steps and a higher current; {HOW}"
        return Unproven("uncertain", run.record.place, message, how, evidence)
    return Clear(evidence)


@rule(
    "interference/heading-error-aim",
    each="aircraft",
    severity=CAUTION,
    job=Job.INTERFERENCE,
    precaution=ANY_LOADED_RUN,
    source="common practice, no source",
    tolerances=(HEADING_AIM, HEADING_LIMIT, DRIFT),
)
def heading_error_aim(aircraft: Aircraft, on: Context) -> Outcome:
    """Is the compass under load as good as it should be?

    Below the limit of heading-error an aircraft flies, but it drifts and hunts in position hold, and hard and
    soft iron use up what is left.

    Reasoning: as heading-error; clear if the upper bound of every case is at most ``heading_error_aim_deg``.

    Fails (with H near 18 µT, 24 A at hover and 84 A at full throttle):

        compass: {interference_offset_ut_per_a: [-0.08, 0.23, -0.05]}

    Passes:

        compass: {interference_offset_ut_per_a: [-0.11, 0.23, -0.05]}

    (for a run whose field falls by 0.23 µT/A to the right and rises by 0.11 µT/A forward and 0.05 down)

    Not checked: as heading-error.
    """
    if answer := not_asked(aircraft):
        return answer
    run, installed, deviations, missing, evidence = _judged(aircraft, on)
    if max(case.low for case in deviations) > on.limit(HEADING_LIMIT):
        return Clear(f"heading-error judges this: {evidence}")
    aim = on.limit(HEADING_AIM)
    most = max(deviations, key=lambda case: case.high)
    if most.high > aim:
        remedy = f"set interference_offset_ut_per_a to {vector(run.needed_offset)}, or move the compass away from the power leads, then repeat the run"
        related = (Related(run.record.place, f"the run of {run.record.date.value}"),)
        message = f"{_in_words(most)}, perhaps {most.high:.1f}°; {aim:g}° is aimed at"
        return Finding(installed.place, message, evidence, remedy, related)
    if missing:
        raise missing
    return Clear(evidence)


def _rescaled(aircraft: Aircraft, run: Run, installed: Known[tuple[float, ...]], evidence: str) -> Unproven:
    """The run vouches only for the amperes that were shown then; what the offset becomes is worked out."""
    assert isinstance(aircraft.power_sensing, Known)
    sensor = need(aircraft.power_sensing.value.sensor_mv_per_a)
    then = need(run.record.in_force.sensor_mv_per_a)
    message = f"sensor_mv_per_a is {sensor.value:g} now and was {then.value:g} during the run of {run.record.date.value}"
    how = (
        f"repeat the run; if nothing else changed, the run's offset × {sensor.value:g} / {then.value:g} is "
        f"{vector(run.needed_offset)}: enter that first"
    )
    related = (
        Related(then.place, "in force during the run"),
        Related(installed.place, "the offset installed"),
    )
    return Unproven("stale", sensor.place, message, how, evidence, related)


def vector(values: Array | tuple[float, ...]) -> str:
    """Three numbers as they are written in a manifest."""
    return f"[{', '.join(f'{value:.4f}' for value in values)}]"


def _in_words(one: Deviation) -> str:
    where = f"at {'hover' if one.load == 'hover' else 'full throttle'} ({one.current_a:.0f} A)"
    tilted = "level" if one.attitude == "level" else f"tilted {TILT_DEG:.0f}°"
    if one.value >= 180:
        return f"{where}, {tilted}, the interference left over is stronger than the Earth's horizontal field: the heading is meaningless"
    return f"{where}, {tilted}, the interference left over turns the compass by up to {one.value:.1f}°"


def _evidence(on: Context, run: Run, installed: tuple[float, ...], deviations: list[Deviation]) -> str:
    field = earth_field(on)
    then = f" with {vector(run.offset_then)} already added" if run.kind == "compensated" else ""
    cases = "; ".join(
        f"{one.load} {one.current_a:.0f} A {one.attitude} {one.value:.1f}° ({one.low:.1f} to {one.high:.1f}°)"
        for one in deviations
    )
    return (
        f"{run.kind} run of {run.record.date.value}, {run.steps.current.size} steps to {run.steps.current.max():.1f} A: "
        f"{vector(run.slope)} µT/A forward, right, down{then}; offset installed {vector(installed)}; left over "
        f"{vector(run.left_over(np.array(installed)))} ± {run.radius:.4f} µT/A; horizontal field {field.horizontal_ut:.1f} µT; "
        f"largest heading error: {cases}"
    )
