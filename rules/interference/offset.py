"""Interference: is the compass right under load, and is its offset still true?"""

from __future__ import annotations

from preflint.api import (
    ANY_LOADED_RUN,
    NO_GO,
    SETTINGS,
    Aircraft,
    Clear,
    Context,
    Finding,
    Job,
    NotApplicable,
    Outcome,
    Related,
    Unproven,
    need,
    rule,
)
from preflint.arrays import np

from ..shared.loaded_run import again
from .held_up import fitted_run
from .limits import HEADING_AIM
from .run import DRIFT, not_asked, offset, steps_again, vector


@rule(
    "interference/offset-sign",
    each="aircraft",
    severity=NO_GO,
    job=Job.LOAD,
    precaution=ANY_LOADED_RUN,
    source="derived: the flight controller adds the offset, so it must be opposite to what the current makes",
    tolerances=(HEADING_AIM, DRIFT),
)
def offset_sign(aircraft: Aircraft, on: Context) -> Outcome:
    """Does the interference offset take away what the current makes, or double it?

    An offset of the wrong sign looks like a calibrated compass and is worse than none.

    Reasoning: what the current makes is b (raw log) or b - o_then (compensated log, with o_then in
    force); the flight controller adds o. Found if o is nearer to b than to -b and than to no offset at all,
    each beyond the uncertainty of b at 95 %; too uncertain to tell if that cannot be ruled out either, unless o
    is less than that uncertainty: then heading-error decides.

    Fails:

        power_sensing: {sensor_mv_per_a: 26.4}
        compass: {interference_offset_ut_per_a: [0.11, -0.23, 0.05]}
        records:
          interference_run:
            - date: 2026-05-16
              route: restrained
              field_is: raw
              in_force: {sensor_mv_per_a: 26.4}
              columns: [current_a, field_x_ut, field_y_ut, field_z_ut]
              rows: [[0, 9.00, 24.00, 38.00], [8, 9.88, 22.16, 38.40],
                     [16, 10.76, 20.32, 38.80], [24, 11.64, 18.48, 39.20]]

    Passes: the same with

        compass: {interference_offset_ut_per_a: [-0.11, 0.23, -0.05]}

    Not checked: axes exchanged; heading-error sees what is left over.
    """
    if answer := not_asked(aircraft):
        return answer
    installed, run = offset(aircraft), fitted_run(on)
    o, made = np.array(installed.value), -run.needed_offset
    from_wrong, from_right, none = (float(np.linalg.norm(v)) for v in (o - made, o + made, made))
    evidence = (
        f"the current makes {vector(made)} ± {run.radius:.4f} µT/A forward, right, down; "
        f"the offset installed adds {vector(o)}; together {vector(made + o)}"
    )
    if from_wrong + run.radius < min(from_right, none) - run.radius:
        message = "the interference offset has the wrong sign: it adds to what the current makes"
        remedy = f"set interference_offset_ut_per_a to {vector(run.needed_offset)}, then repeat the run"
        related = (Related(run.record.place, f"the run of {run.record.date.value}"),)
        return Finding(
            place=installed.place,
            message=message,
            evidence=evidence,
            do=remedy,
            related=related,
            mind=again(run.record),
            record="interference_run",
        )
    if float(np.linalg.norm(o)) > run.radius and from_wrong - run.radius < min(from_right, none) + run.radius:
        message = f"the run of {run.record.date.value} is too uncertain to tell the sign of the interference offset"
        how = f"repeat the run {run.settling}; {steps_again(run.record)}"
        return Unproven(
            cause="uncertain",
            place=run.record.place,
            message=message,
            do=how,
            evidence=evidence,
            mind=again(run.record),
            record="interference_run",
        )
    return Clear(evidence)


@rule(
    "interference/double-compensation",
    each="aircraft",
    severity=NO_GO,
    job=Job.LOAD,
    precaution=ANY_LOADED_RUN,
    source="derived: a compensated log already holds the offset that was in force",
    tolerances=(HEADING_AIM, DRIFT),
)
def double_compensation(aircraft: Aircraft, on: Context) -> Outcome:
    """Was a compensated log used as if it were raw?

    A compensated log shows only what the offset in force left over. Whoever enters the opposite of that as
    the new offset throws the old one away, and the whole interference comes back.

    Reasoning: with o_then in force and the slope b logged, the right offset is o_then - b; used as if raw, it
    becomes -b. Found if the offset installed is -b rather than o_then - b, and no longer o_then, each
    beyond the uncertainty of b at 95 %. A raw log without slope although an offset is installed, and a
    compensated one with just the slope that the offset should have taken away, are suspected to be the other
    kind: unproven.

    Fails:

        power_sensing: {sensor_mv_per_a: 26.4}
        compass: {interference_offset_ut_per_a: [-0.01, 0.0, 0.0]}
        records:
          interference_run:
            - date: 2026-05-16
              route: restrained
              field_is: compensated
              in_force: {sensor_mv_per_a: 26.4, interference_offset_ut_per_a: [-0.11, 0.23, -0.05]}
              columns: [current_a, field_x_ut, field_y_ut, field_z_ut]
              rows: [[0, 9.00, 24.00, 38.00], [8, 9.08, 24.00, 38.00],
                     [16, 9.16, 24.00, 38.00], [24, 9.24, 24.00, 38.00]]

    Passes: the same with

        compass: {interference_offset_ut_per_a: [-0.12, 0.23, -0.05]}

    Not checked: a log that was compensated with another offset than the one recorded.
    """
    if answer := not_asked(aircraft):
        return answer
    installed, run = offset(aircraft), fitted_run(on)
    evidence = (
        f"{run.kind} run of {run.record.date.value}: {vector(run.slope)} µT/A logged; "
        f"offset installed {vector(installed.value)}"
    )
    o = np.array(installed.value)
    if doubt := run.doubt(o):
        return Unproven(
            cause="uncertain",
            place=need(run.record.field_is).place,
            message=doubt,
            do="look in the logger's settings whether it logs the field with the offset added; correct field_is",
            evidence=evidence,
            mind=SETTINGS,
        )
    if run.kind == "raw":
        return NotApplicable("the log is raw")
    then = vector(run.offset_then)
    evidence += f"; {then} was in force during the run, so the right offset is {vector(run.needed_offset)}"
    as_if_raw, right, kept = (
        float(np.linalg.norm(v)) for v in (o + run.slope, o - run.needed_offset, o - run.offset_then)
    )
    if as_if_raw + run.radius < min(right, kept) - run.radius:
        message = "the offset installed lacks the one that the compensated log already held"
        remedy = f"set interference_offset_ut_per_a to {vector(run.needed_offset)}, then repeat the run"
        return Finding(
            place=installed.place,
            message=message,
            evidence=evidence,
            do=remedy,
            related=(Related(run.record.place, f"the run of {run.record.date.value}, compensated"),),
            mind=again(run.record),
            record="interference_run",
        )
    return Clear(evidence)
