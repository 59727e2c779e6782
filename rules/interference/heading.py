"""How far the interference left over turns the compass, at hover and full throttle, level and tilted."""

from __future__ import annotations

from preflint.api import (
    ANY_LOADED_RUN,
    CAUTION,
    NO_GO,
    PACK_UNPLUGGED,
    Aircraft,
    Clear,
    Context,
    Finding,
    Job,
    Known,
    NotApplicable,
    Open,
    Outcome,
    Related,
    Unproven,
    records,
    rule,
    together,
)
from preflint.arrays import np

from ..shared.loaded_run import again
from .deviation import Deviation, deviations
from .earth import earth_field
from .held_up import fitted_run
from .limits import HEADING_AIM, HEADING_LIMIT
from .run import DRIFT, Run, must_be_alive, not_asked, offset, rescaled_since, steps_again, vector


def _judged(on: Context) -> tuple[Run, Known[tuple[float, ...]], list[Deviation], Open | None, str]:
    installed = offset(on.aircraft)
    run = fitted_run(on)
    cases, missing = deviations(on)
    must_be_alive(run)
    return run, installed, cases, missing, _evidence(on, run, installed.value, cases)


@rule(
    "interference/heading-error",
    each="aircraft",
    severity=NO_GO,
    job=Job.LOAD,
    needed_for_flight=True,
    shown_by=records.InterferenceRun,
    precaution=ANY_LOADED_RUN,
    source="14 CFR 27.1327(a)(2): written for a needle that a pilot reads, so on the careful side here",
    tolerances=(HEADING_LIMIT, HEADING_AIM, DRIFT),
)
def heading_error(aircraft: Aircraft, on: Context) -> Outcome:
    """Does the compass still point right under load?

    The current to the motors makes a magnetic field of its own. A heading that is wrong under load turns
    position hold into a growing circle, and the aircraft flies away.

    Reasoning: the field of a run follows B = B₀ + b·I (+ d·t where times are logged), a line through the medians
    of its steps. A step is rows of one throttle, or else one current, less the first second after a change where
    rows come faster than that; a log without steps, of a hover say, is cut into 30 pieces. The standard
    uncertainty of a median counts how much neighbouring rows resemble each other, and is no less than the last
    digits allow (q/√12, of the field and, times b, of the current) nor than the scatter of the whole log for so
    many rows. Where the steps are further off the line than that, the excess, pooled over axes and steps and
    shared out over the directions that scatter, counts for every step. b then lies with 95 % in a ball, wider by the
    F-distribution the fewer steps are to spare and the fewer directions scatter. The motors still again at the end
    show a drift: more than ``baseline_drift_percent`` of what the current made, than 0.5 µT and than its own
    uncertainty is too much. A run without that is given room for a drift of 0.1 µT (standard uncertainty of each
    axis), unless its times tell the drift better; of four steps with times, the surer of the lines with and without d
    counts.

    An aircraft that turns in its ties by φ as the thrust comes up changes the field by H·φ across the horizontal
    field, with no vertical part. Where a turn of at most 15° makes all that the run shows (b, less o_then), within
    the run's uncertainty and that of the line of a turn (standard uncertainties of 5° round, for hard iron as set,
    and of 2.5° for how level it stands), nothing is told from it: unproven, and no offset is offered. A second run
    with the nose turned by 30° or more, best by 90°, tells: interference stays with the aircraft, the change of a
    turn follows the nose. Least squares for one interference and a turn rate in each run then give b and its ball.
    It is not asked where all of b turns the heading by no more than ``heading_error_aim_deg``. Without hard_iron_ut the
    heading in the field is not known, and any b without a vertical part is held up until it is written down.
    Of 1000 sound aircraft with interference in any direction, counted over drawn runs, 11 to 25 are asked for a second
    run, more the weaker it is, and up to 130 for their hard iron where it is not recorded.

    With the installed offset o, which the flight controller adds for each ampere, e is
    left over: e = b + o for a raw log, e = b - o_then + o for a compensated one, where o_then was in
    force. At a current I the disturbance is d = e·I; level, its horizontal part h counts; tilted by 25°,
    h = |d|·sin(min(90°, α + 25°)), where α is its angle from the vertical. The largest error of heading is
    asin(h / H), with H from the World Magnetic Model at the site; h ≥ H makes it meaningless. Judged at hover
    current and with all motors at full throttle, with bounds at 95 %: the lower one allows for the whole ball, since
    the readings choose the heading that shows them worst; the upper one for t times the largest standard uncertainty,
    since the heading that is truly worst is one, which no reading chooses. Found if the lower bound of any case is
    above ``heading_error_limit_deg``, clear if no upper bound is, otherwise too uncertain to tell.

    Where sensor_mv_per_a was changed since the run, b is converted to the amperes shown now. That can show an
    error; it never shows that all is well.

    Fails:

        site: {latitude_deg: 54.4, longitude_deg: -2.9, elevation_m: 150}
        every_rotor: {motor: {full_throttle_draw_a: 21}}
        power_sensing: {sensor_mv_per_a: 26.4}
        compass: {interference_offset_ut_per_a: [-0.05, 0.23, -0.05]}
        records:
          interference_run:
            - date: 2026-05-16
              route: restrained
              field_is: raw
              in_force: {sensor_mv_per_a: 26.4}
              columns: [current_a, field_x_ut, field_y_ut, field_z_ut]
              rows: [[0.0, 9.00, 24.00, 38.00], [8.1, 9.89, 22.14, 38.41], [16.2, 10.78, 20.27, 38.81],
                     [24.1, 11.65, 18.46, 39.21], [0.1, 9.01, 23.98, 38.00]]
          hover: [{date: 2026-05-17, mean_current_a: 24}]

    Passes: the same with

        compass: {interference_offset_ut_per_a: [-0.11, 0.23, -0.05]}

    Not checked: hard and soft iron, which add to this error (compass/total-deviation); interference that does not
    follow the pack current, and what the run did not reach (run-coverage); axes that are exchanged alike in the log
    and in the offset worked out from it; a turn in the ties beside as much interference in another direction, unless
    a second run on another heading shows it (successive-runs); an aircraft that tilts in its ties, by pitch or roll:
    what that makes follows the current, too.
    """
    if answer := not_asked(aircraft):
        return answer
    run, installed, cases, missing, evidence = on.once(_judged, on)
    limit = on.limit(HEADING_LIMIT)
    one = max(cases, key=lambda case: (case.low, case.high))
    related = (Related(run.record.place, f"the run of {run.record.date.value}"),)
    if one.low > limit:
        remedy = f"set interference_offset_ut_per_a to {vector(run.needed_offset)}, then repeat the run"
        if doubt := run.doubt(np.array(installed.value)):
            remedy = f"look first whether field_is is right; if it is, {remedy}"
            evidence = f"{doubt}; {evidence}"
        message = _in_words(one)
        return Finding(
            place=installed.place,
            message=message,
            evidence=evidence,
            do=remedy,
            related=related,
            mind=again(run.record),
            record="interference_run",
        )
    if run.rescaled != 1:
        return rescaled_since(on, run, evidence)
    if missing:
        raise missing
    most = max(cases, key=lambda case: case.high)
    if most.high > limit:
        message = f"{_perhaps(most)}: too near {limit:g}° to tell"
        how = f"repeat the run {run.settling}; {steps_again(run.record)}"
        return _too_uncertain(run, message, how, evidence)
    return Clear(evidence)


@rule(
    "interference/heading-error-aim",
    each="aircraft",
    severity=CAUTION,
    job=Job.LOAD,
    precaution=ANY_LOADED_RUN,
    source="common practice, no source",
    tolerances=(HEADING_AIM, HEADING_LIMIT, DRIFT),
)
def heading_error_aim(aircraft: Aircraft, on: Context) -> Outcome:
    """Is the compass under load as good as it should be?

    Below the limit of heading-error an aircraft flies, but it drifts and hunts in position hold, and hard and
    soft iron use up what is left.

    Reasoning: as heading-error, but clear if the upper bound of every case is at most ``heading_error_aim_deg``
    (guarded acceptance, JCGM 106 8.3.2), found if what the run shows is more, by its bounds or not, and too uncertain
    to tell where the bounds alone are: then a better run is asked for, and nothing is wrong with the aircraft. Another
    offset is offered only where the one installed lies outside the ball of the run; inside it the run agrees with it,
    and the remedy is a better run, or less interference.

    Fails:

        site: {latitude_deg: 54.4, longitude_deg: -2.9, elevation_m: 150}
        every_rotor: {motor: {full_throttle_draw_a: 21}}
        power_sensing: {sensor_mv_per_a: 26.4}
        compass: {interference_offset_ut_per_a: [-0.08, 0.23, -0.05]}
        records:
          interference_run:
            - date: 2026-05-16
              route: restrained
              field_is: raw
              in_force: {sensor_mv_per_a: 26.4}
              columns: [current_a, field_x_ut, field_y_ut, field_z_ut]
              rows: [[0.0, 9.00, 24.00, 38.00], [8.1, 9.89, 22.14, 38.41], [16.2, 10.78, 20.27, 38.81],
                     [24.1, 11.65, 18.46, 39.21], [0.1, 9.01, 23.98, 38.00]]
          hover: [{date: 2026-05-17, mean_current_a: 24}]

    Passes: the same with

        compass: {interference_offset_ut_per_a: [-0.11, 0.23, -0.05]}

    Not checked: as heading-error.
    """
    if answer := not_asked(aircraft):
        return answer
    run, installed, cases, missing, evidence = on.once(_judged, on)
    if max(case.low for case in cases) > on.limit(HEADING_LIMIT):
        return NotApplicable("heading-error has found more than its limit")
    aim = on.limit(HEADING_AIM)
    most = max(cases, key=lambda case: case.high)
    perhaps = _perhaps(most)
    if most.high > aim >= max(case.value for case in cases):
        how = f"leave the offset; repeat the run {run.settling}; {steps_again(run.record)}"
        return _too_uncertain(run, f"{perhaps}: too near {aim:g}° to tell", how, evidence)
    if most.high > aim:
        remedy = (
            f"set interference_offset_ut_per_a to {vector(run.needed_offset)}, "
            "or move the compass away from the power leads, then repeat the run"
            if float(np.linalg.norm(run.left_over(np.array(installed.value)))) > run.radius
            else f"leave the offset, with which the run agrees; repeat the run {run.settling}, or move the compass "
            "away from the power leads"
        )
        related = (Related(run.record.place, f"the run of {run.record.date.value}"),)
        message = f"{perhaps}; {aim:g}° is aimed at"
        minded = together(PACK_UNPLUGGED, again(run.record))
        return Finding(
            place=installed.place,
            message=message,
            evidence=evidence,
            do=remedy,
            related=related,
            mind=minded,
            record="interference_run",
        )
    if run.rescaled != 1:
        return rescaled_since(on, run, evidence)
    if missing:
        raise missing
    return Clear(evidence)


def _too_uncertain(run: Run, message: str, how: str, evidence: str) -> Unproven:
    return Unproven(
        cause="uncertain",
        place=run.record.place,
        message=message,
        do=how,
        evidence=evidence,
        mind=again(run.record),
        record="interference_run",
    )


def _in_words(one: Deviation) -> str:
    if one.value >= 180:
        return f"{one.case.in_words}, interference makes the heading meaningless"
    return f"{one.case.in_words}, interference turns the compass by up to {one.value:.1f}°"


def _perhaps(one: Deviation) -> str:
    return f"{one.case.in_words}: compass off by {one.value:.1f}°, perhaps {one.high:.1f}°"


def _evidence(on: Context, run: Run, installed: tuple[float, ...], cases: list[Deviation]) -> str:
    field = earth_field(on)
    then = f" with {vector(run.offset_then)} already added" if run.kind == "compensated" else ""
    drift = f"; {run.drift_in_words}" if run.drift_in_words else ""
    return (
        f"largest heading error: {'; '.join(one.in_words for one in cases)}; at most "
        f"{on.limit(HEADING_LIMIT):g}°; left over {vector(run.left_over(np.array(installed)))} ± {run.radius:.4f} µT/A "
        f"forward, right, down; offset installed {vector(installed)}; {run.kind} run of {run.record.date.value}, "
        f"{run.steps.in_words} to {run.steps.current.max():.1f} A: {vector(run.slope)} µT/A{then}{drift}; "
        f"horizontal field {field.horizontal_ut:.1f} µT"
    )
