"""Two interference runs, one after the other, with nothing done in between: do they ask for the same offset?"""

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np

from preflint.api import (
    CAUTION,
    PACK_UNPLUGGED,
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
    records,
    rule,
)
from preflint.compute.decision import effective_dof, normalised_error, u_rectangular
from preflint.compute.geomagnetism import deviation_deg, horizontal_disturbance_ut
from preflint.compute.least_squares import Array

from .interference_deviation import TILT_DEG, earth_field, must_be_alive
from .interference_heading import HEADING_AIM, vector
from .interference_run import DRIFT, HOW, Run, fitted, fitted_run, not_asked
from .power_sensing_current import CURRENT_SCALE
from .power_sensing_draw import ANY_LOADED_RUN, hover_current_a
from .successive import ANEW, last_two

_ANOTHER_UNIT = 4.0  # times the field of the other run: more than another place makes; common practice, no source
_LOOSE_PARTS = f"{PACK_UNPLUGGED} {ANY_LOADED_RUN}"


@dataclass(frozen=True, slots=True, eq=False)
class Change:
    """What the current makes in the later run less that in the earlier, µT for each ampere shown now.

    ``radius`` is that of the ball around ``made`` (3,) that holds the true change with 95 %; ``covariance`` (3, 3).
    """

    earlier: Run
    later: Run
    made: Array
    covariance: Array
    radius: float

    @property
    def size(self) -> float:
        return float(np.linalg.norm(self.made))

    @property
    def normalised(self) -> float:
        """Eₙ of the two runs: at most 1 and they agree."""
        return normalised_error(self.size, self.radius, 0.0, 0.0)


def _pair(on: Context) -> tuple[records.InterferenceRun, records.InterferenceRun] | str:
    return last_two(on, "interference_run", on.aircraft.records.interference_run)


def change(on: Context, before: records.InterferenceRun) -> Change:
    """The run that still speaks against the one before. Ends the rule as unproven where one of them tells nothing."""
    later, earlier = fitted_run(on), fitted(before, on)
    for run in (earlier, later):
        must_be_alive(run)
    _one_unit(earlier, later)
    scale = u_rectangular(ANEW * on.limit(CURRENT_SCALE) / 100)  # of each run's amperes, by which their effect differs
    parts = [(run.covariance, run.dof) for run in (earlier, later)]
    parts += [(scale**2 * np.outer(run.needed_offset, run.needed_offset), math.inf) for run in (earlier, later)]
    covariance = sum((part for part, _ in parts), np.zeros((3, 3)))
    joint = replace(later, covariance=covariance, dof=effective_dof((_longest(part), dof) for part, dof in parts))
    return Change(earlier, later, earlier.needed_offset - later.needed_offset, covariance, joint.radius)


def _longest(covariance: Array) -> float:
    """Standard uncertainty along the longest axis."""
    return float(np.sqrt(max(0.0, np.linalg.eigvalsh(covariance)[-1])))


def _one_unit(earlier: Run, later: Run) -> None:
    fields = [
        float(np.linalg.norm(run.steps.field[int(np.argmin(np.abs(run.steps.current)))])) for run in (earlier, later)
    ]
    if max(fields) > _ANOTHER_UNIT * min(fields):
        message = (
            f"at the least current the run of {earlier.record.date.value} shows a field of {fields[0]:.3g} µT and that "
            f"of {later.record.date.value} one of {fields[1]:.3g} µT"
        )
        how = "look in the logger's settings in what unit it logged each, and name the columns _ut or _mgauss by that"
        related = (Related(earlier.record.place, f"the run of {earlier.record.date.value}"),)
        raise Open(Unproven("uncertain", later.record.place, message, how, "", related, PACK_UNPLUGGED))


@figure("interference-change")
def change_figures(on: Context) -> Iterator[Figure]:
    """How far the later of the two latest runs is from the earlier one, nothing having been done in between.

    The normalised error is the length of the change over the radius of the ball, drawn around the longest axis
    of the covariance of the change, that holds the true change with 95 % (2.80·√λ_max where it is
    taken as exact, JCGM 102:2011 Table 1, and wider by the F-distribution where not): Eₙ of ISO 13528 for a
    vector. One ball and not three axes, of which one in seven would stray by luck.
    """
    if isinstance(on.aircraft.compass, NotFitted):
        return
    pair = _pair(on)
    if isinstance(pair, str):
        return
    found = change(on, pair[0])
    place = found.later.record.place
    yield Figure("normalised_error", "interference", found.normalised, None, "1", None, place)
    for axis, case in enumerate("xyz"):
        u = float(np.sqrt(found.covariance[axis, axis]))
        yield Figure("interference_change_ut_per_a", case, float(found.made[axis]), u, "µT/A", None, place)


@rule(
    "interference/successive-runs",
    each="aircraft",
    severity=CAUTION,
    job=Job.INTERFERENCE,
    precaution=_LOOSE_PARTS,
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
    Work that ends an interference run, or may, on a day between the two leaves nothing to compare.

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

    Passes:

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
              rows: [[0, 9.00, 24.00, 38.00], [8, 9.86, 22.18, 38.40],
                     [16, 10.72, 20.36, 38.80], [24, 11.58, 18.54, 39.20], [0, 9.00, 24.00, 38.00]]
            - date: 2026-05-16
              route: restrained
              field_is: raw
              in_force: {sensor_mv_per_a: 26.4}
              columns: [current_a, field_x_ut, field_y_ut, field_z_ut]
              rows: [[0, 9.00, 24.00, 38.00], [8, 9.88, 22.16, 38.40],
                     [16, 10.76, 20.32, 38.80], [24, 11.64, 18.48, 39.20], [0, 9.00, 24.00, 38.00]]
          hover: [{date: 2026-05-17, mean_current_a: 32}]

    Not checked: an aircraft that turned in the Earth's field while a hover log was taken; it changes the
    field without any current.
    """
    pair = _pair(on)
    if isinstance(pair, str):
        return NotApplicable(pair)
    if answer := not_asked(aircraft):
        return answer
    found = change(on, pair[0])
    current, whence = hover_current_a(on)
    field, aim = earth_field(on), on.limit(HEADING_AIM)
    slack = 1.96 * field.u_horizontal_ut
    low, value, high = (
        _turn_deg(found, current, radii, field.horizontal_ut + wider)
        for radii, wider in ((-1, slack), (0, 0.0), (1, -slack))
    )
    one, other = found.earlier, found.later
    evidence = (
        f"{_asks(one)}; {_asks(other)}; change {vector(found.made)} ± {found.radius:.4f} µT/A, normalised error "
        f"{found.normalised:.1f}; at hover, {current:.0f} A ({whence}), it turns the heading by up to {value:.1f}° "
        f"({low:.1f} to {high:.1f}°) in a horizontal field of {field.horizontal_ut:.1f} µT; {aim:g}° is aimed at"
    )
    if high <= aim:
        return Clear(evidence)
    between = f"between the runs of {one.record.date.value} and {other.record.date.value}"
    related = (Related(one.record.date.place, f"the run of {one.record.date.value}"),)
    place = other.record.date.place
    if low <= aim:
        message = (
            f"{between} the interference may have changed by what turns the heading by {high:.1f}°: "
            f"too uncertain to tell from {aim:g}°"
        )
        how = f"repeat the run with more steps and a higher current; {HOW}"
        return Unproven("uncertain", place, message, how, evidence, related)
    for run in (one, other):
        if why := _other_reason(run, aircraft):
            message = f"{between} the interference seems to have changed, and perhaps it has not: {why}"
            how = f"look first whether that is the reason; log the run again: {HOW}"
            return Unproven("uncertain", run.record.place, message, how, evidence, related)
    message = (
        f"{between} the interference changed by {found.size:.3f} µT/A, which turns the heading by up to {value:.1f}° "
        "at hover, although nothing on record was done: something is loose, or work is missing from the logbook"
    )
    remedy = (
        "pack unplugged, pull at every power lead, plug and motor wire, at the battery tray and at the compass; fasten "
        "what moves, write in the logbook what was done, and log the run twice: two that agree show that it holds"
    )
    return Finding(place, message, evidence, remedy, related)


def _turn_deg(found: Change, current_a: float, radii: float, horizontal_ut: float) -> float:
    """How far the change turns the heading at most, with so many radii of its uncertainty added."""
    across = max(horizontal_disturbance_ut(found.made * current_a, tilt) for tilt in (0.0, TILT_DEG))
    across = max(0.0, across + radii * found.radius * current_a)
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
