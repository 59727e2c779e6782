"""Two interference runs, one after the other, with nothing done in between: do they ask for the same offset?"""

from __future__ import annotations

from preflint.api import (
    ANY_LOADED_RUN,
    CAUTION,
    PACK_UNPLUGGED,
    Aircraft,
    Clear,
    Context,
    Finding,
    Job,
    Known,
    NotApplicable,
    Outcome,
    Related,
    Unproven,
    rule,
    together,
)
from preflint.arrays import np
from preflint.compute.geomagnetism import deviation_deg

from ..power.hover_bounds import hover_bounds_a
from ..power.limits import CURRENT_SCALE
from ..shared.loaded_run import again
from .change import Change, changed, last_two_runs
from .deviation import most_across_ut
from .earth import earth_field
from .held_up import other_heading
from .limits import HEADING_AIM
from .run import DRIFT, Run, not_asked, steps_again, vector


@rule(
    "interference/successive-runs",
    each="aircraft",
    severity=CAUTION,
    job=Job.LOAD,
    precaution=together(PACK_UNPLUGGED, ANY_LOADED_RUN),
    source="normalised error after ISO 13528, for a vector with JCGM 102:2011; the limit is common practice, no source",
    tolerances=(HEADING_AIM, DRIFT, CURRENT_SCALE),
)
def successive_runs(aircraft: Aircraft, on: Context) -> Outcome:
    """Do the two latest runs agree, where nothing was done to the aircraft in between?

    What the current makes at the compass hangs on where the power leads lie. Where it changed although
    nothing was done, a lead, a plug or the compass is loose, or work is missing from the logbook; and what
    changed once changes again, in the air.

    Reasoning: each run asks for an offset, o_then - b with the slope b logged and the offset o_then in a
    compensated log, converted to the amperes shown now by sensor_mv_per_a. The change is the difference of
    the two; its uncertainty is the two runs' covariances together, and for each run's amperes a third of
    ``current_scale_percent`` (a/√3), by which a sensor is taken to differ from day to day, as the radius of a
    ball that holds the change with 95 %. At hover current it turns the heading, level or tilted by 25°, by up
    to asin(h / H), as in heading-error. Found if the lower bound of that is above ``heading_error_aim_deg``,
    clear if the upper bound is not, otherwise too uncertain to tell. The routes of the two runs may differ.
    Work that ends an interference run, or may, on a day between the two leaves nothing to compare. Two runs on
    headings 30° or more apart, of which one may be all of a turn in the ties (heading-error), are compared less the
    turns that both together tell.

    Fails:

        site: {latitude_deg: 54.4, longitude_deg: -2.9, elevation_m: 150}
        power_sensing: {sensor_mv_per_a: 26.4}
        compass: {interference_offset_ut_per_a: [-0.11, 0.23, -0.05]}
        records:
          interference_run:
            - date: 2026-04-18
              route: restrained
              field_is: raw
              in_force: {sensor_mv_per_a: 26.4}
              columns: [current_a, field_x_ut, field_y_ut, field_z_ut]
              rows: [[0, 9.00, 24.00, 38.00], [8, 9.00, 22.16, 38.40],
                     [16, 9.00, 20.32, 38.80], [24, 9.00, 18.48, 39.20], [0, 9.00, 24.00, 38.00]]
            - date: 2026-05-16
              route: restrained
              field_is: raw
              in_force: {sensor_mv_per_a: 26.4}
              columns: [current_a, field_x_ut, field_y_ut, field_z_ut]
              rows: [[0, 9.00, 24.00, 38.00], [8, 9.88, 22.16, 38.40],
                     [16, 10.76, 20.32, 38.80], [24, 11.64, 18.48, 39.20], [0, 9.00, 24.00, 38.00]]
          hover: [{date: 2026-05-17, mean_current_a: 32}]

    Passes: the same with

        records:
          interference_run:
            - date: 2026-04-18
              route: restrained
              field_is: raw
              in_force: {sensor_mv_per_a: 26.4}
              columns: [current_a, field_x_ut, field_y_ut, field_z_ut]
              rows: [[0, 9.00, 24.00, 38.00], [8, 9.86, 22.18, 38.40],
                     [16, 10.72, 20.36, 38.80], [24, 11.58, 18.54, 39.20], [0, 9.00, 24.00, 38.00]]
            - date: 2026-05-16
              route: restrained
              field_is: raw
              in_force: {sensor_mv_per_a: 26.4}
              columns: [current_a, field_x_ut, field_y_ut, field_z_ut]
              rows: [[0, 9.00, 24.00, 38.00], [8, 9.88, 22.16, 38.40],
                     [16, 10.76, 20.32, 38.80], [24, 11.64, 18.48, 39.20], [0, 9.00, 24.00, 38.00]]

    Not checked: an aircraft that turned in the Earth's field while a hover log was taken; it changes the
    field without any current.
    """
    pair = last_two_runs(on)
    if isinstance(pair, str):
        return NotApplicable(pair)
    if answer := not_asked(aircraft):
        return answer
    found = changed(on, pair[0])
    least, most, whence = hover_bounds_a(on)
    field, aim = earth_field(on), on.limit(HEADING_AIM)
    slack = 1.96 * field.u_horizontal_ut
    low, value, high = (
        _turn_deg(found, current, radii, field.horizontal_ut + wider)
        for current, radii, wider in ((least, -1, slack), (most, 0, 0.0), (most, 1, -slack))
    )
    hover = f"{most:.0f} A" if least == most else f"{least:.0f} to {most:.0f} A"
    one, other = found.earlier, found.later
    evidence = (
        f"at hover, {hover} ({whence}), the change turns the heading by up to {value:.1f}° ({low:.1f} to {high:.1f}°); "
        f"{aim:g}° is aimed at; change {vector(found.made)} ± {found.radius:.4f} µT/A, normalised error "
        f"{found.normalised:.1f}; horizontal field {field.horizontal_ut:.1f} µT; {_asks(one)}; {_asks(other)}"
    )
    if high <= aim:
        return Clear(evidence)
    if turned := _turned(on, found):
        return Clear(f"{evidence}; {turned}")
    if low <= aim:
        return _too_uncertain(found, high, aim, evidence)
    for run in (one, other):
        if why := _other_reason(run, aircraft):
            return _perhaps_not(found, run, why, evidence)
    return _changed(found, evidence)


def _turned(on: Context, found: Change) -> str | None:
    """Where a turn under thrust explains one of two runs on different headings, what both tell; else None."""
    pair = other_heading(on, found.later)
    if pair is None or not pair[1].agree or not pair[1].by_a_turn:
        return None
    (turn, _), (turn_then, _) = pair[1].turns_deg
    return f"turns of {turn_then:.1f}° and {turn:.1f}° explain it"


def _between(found: Change) -> str:
    return f"between {found.earlier.record.date.value} and {found.later.record.date.value}"


def _related(found: Change) -> tuple[Related, ...]:
    record = found.earlier.record
    return (Related(record.date.place, f"the run of {record.date.value}"),)


def _too_uncertain(found: Change, high: float, aim: float, evidence: str) -> Unproven:
    record = found.later.record
    return Unproven(
        cause="uncertain",
        place=record.date.place,
        message=f"interference may have changed, by {high:.1f}° of heading: too near {aim:g}° to tell",
        do=f"repeat the run with more steps and a higher current; {steps_again(record)}",
        evidence=evidence,
        related=_related(found),
        mind=again(record),
        record="interference_run",
    )


def _perhaps_not(found: Change, run: Run, why: str, evidence: str) -> Unproven:
    return Unproven(
        cause="uncertain",
        place=run.record.place,
        message=f"interference seems to have changed, and perhaps has not: {why}",
        do=f"look first whether that is the reason; log the run again: {steps_again(run.record)}",
        evidence=evidence,
        related=_related(found),
        mind=again(run.record),
        record="interference_run",
    )


def _changed(found: Change, evidence: str) -> Finding:
    record = found.later.record
    return Finding(
        place=record.date.place,
        message=f"interference changed by {found.size:.3f} µT/A {_between(found)}, with no work on record",
        evidence=evidence,
        do="pull at every power lead, plug and motor wire, the battery tray and the compass; fasten what is loose; "
        "write the work in the logbook; log the run twice: both must agree",
        related=_related(found),
        mind=together(PACK_UNPLUGGED, again(record)),
        record="interference_run",
    )


def _turn_deg(found: Change, current_a: float, radii: float, horizontal_ut: float) -> float:
    """How far the change turns the heading at most, with so many radii of its uncertainty added."""
    across = max(0.0, most_across_ut(found.made * current_a) + radii * found.radius * current_a)
    return deviation_deg(across, horizontal_ut) if horizontal_ut > 0 else 180.0


def _asks(run: Run) -> str:
    converted = f", converted by {run.rescaled:.4g} to the amperes shown now" if run.rescaled != 1 else ""
    return (
        f"the {run.kind} run of {run.record.date.value} asks for {vector(run.needed_offset)} ± {run.radius:.4f} µT/A"
        f"{converted}"
    )


def _other_reason(run: Run, aircraft: Aircraft) -> str | None:
    """What makes a run look changed without anything having changed on board."""
    day = run.record.date.value
    if isinstance(aircraft.compass, Known):
        installed = aircraft.compass.value.interference_offset_ut_per_a
        if isinstance(installed, Known) and (doubt := run.doubt(np.array(installed.value))):
            return f"{doubt} (run of {day})"
    for seen, words in (
        (run.record.steel_nearby, "steel was near"),
        (run.record.magnetic_restraint, "what held the aircraft down attracts a magnet"),
    ):
        if isinstance(seen, Known) and seen.value:
            return f"during the run of {day} {words}"
    return None
