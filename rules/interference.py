"""Interference: is the compass right under load, and is its offset still true?"""

import numpy as np

from preflint.api import (
    CAUTION,
    NO_GO,
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
    need,
    rule,
    unproven,
)

from .interference_deviation import field_figures, heading_figures, run_figures
from .interference_heading import heading_error, heading_error_aim, vector
from .interference_run import DRIFT, HOW, fitted_run, latest_run, logged, not_asked, offset
from .power_sensing_draw import ANY_LOADED_RUN, LOAD_COVERAGE, hover_current_a


@rule(
    "interference/offset-sign",
    each="aircraft",
    severity=NO_GO,
    job=Job.INTERFERENCE,
    precaution=ANY_LOADED_RUN,
    source="derived: the flight controller adds the offset, so it must be opposite to what the current makes",
    tolerances=(DRIFT,),
)
def offset_sign(aircraft: Aircraft, on: Context) -> Outcome:
    """Does the interference offset take away what the current makes, or double it?

    An offset of the wrong sign looks like a calibrated compass and is worse than none.

    Reasoning: what the current makes is b (raw log) or b - o_then (compensated log, with o_then in
    force); the flight controller adds o. Found if o is nearer to b than to -b and than to no offset at all,
    each beyond the uncertainty of b at 95 %.

    Fails (the field rises by 0.11 µT/A forward):

        compass: {interference_offset_ut_per_a: [0.11, 0.0, 0.0]}

    Passes:

        compass: {interference_offset_ut_per_a: [-0.11, 0.0, 0.0]}

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
        return Finding(installed.place, message, evidence, remedy, related)
    return Clear(evidence)


@rule(
    "interference/double-compensation",
    each="aircraft",
    severity=NO_GO,
    job=Job.INTERFERENCE,
    precaution=ANY_LOADED_RUN,
    source="derived: a compensated log already holds the offset that was in force",
    tolerances=(DRIFT,),
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

    Fails (compensated run with [-0.11, 0.0, 0.0] in force, whose field still rises by 0.01 µT/A forward):

        compass: {interference_offset_ut_per_a: [-0.01, 0.0, 0.0]}

    Passes:

        compass: {interference_offset_ut_per_a: [-0.12, 0.0, 0.0]}

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
        how = "look in the logger's settings whether it logs the field with the offset added; correct field_is"
        return Unproven("uncertain", need(run.record.field_is).place, doubt, how, evidence)
    if run.kind == "raw":
        return NotApplicable("the log is raw")
    evidence += (
        f"; {vector(run.offset_then)} was in force during the run, so the right offset is {vector(run.needed_offset)}"
    )
    as_if_raw, right, kept = (
        float(np.linalg.norm(v)) for v in (o + run.slope, o - run.needed_offset, o - run.offset_then)
    )
    if as_if_raw + run.radius < min(right, kept) - run.radius:
        message = (
            f"the offset installed is the opposite of what a compensated log shows: the log already held "
            f"{vector(run.offset_then)}, which is now missing"
        )
        remedy = f"set interference_offset_ut_per_a to {vector(run.needed_offset)}, then repeat the run"
        related = (Related(run.record.place, f"the run of {run.record.date.value}, compensated"),)
        return Finding(installed.place, message, evidence, remedy, related)
    return Clear(evidence)


@rule(
    "interference/run-coverage",
    each="aircraft",
    severity=CAUTION,
    job=Job.INTERFERENCE,
    precaution=ANY_LOADED_RUN,
    source="common practice, no source",
    tolerances=(LOAD_COVERAGE,),
)
def run_coverage(aircraft: Aircraft, on: Context) -> Outcome:
    """Did the interference run reach the current of flight?

    What lies beyond the highest step is only an extension of a line.

    Reasoning: the highest step must reach ``load_coverage_percent`` of the hover current, which is the latest
    hover's, or else the thrust stand's at each rotor's share of the take-off mass.

    Fails (hover at 24 A):

        rows: [[0, 0, 9.0, 24.0, 38.0], [30, 10, 10.1, 21.7, 38.5], [35, 12, 10.3, 21.2, 38.6]]

    Passes:

        rows: [[0, 0, 9.0, 24.0, 38.0], [40, 12, 10.3, 21.2, 38.6], [60, 24, 11.6, 18.5, 39.2]]

    Not checked: how many steps there are; heading-error widens its bounds by what they scatter.
    """
    if answer := not_asked(aircraft):
        return answer
    record = latest_run(on)
    steps = logged(record)[0]
    hover, source = hover_current_a(on)
    top = float(steps.current.max()) / _rescaled(aircraft, record.in_force.sensor_mv_per_a)
    evidence = f"{steps.current.size} steps of {record.date.value} to {top:.1f} A; hover {hover:.1f} A ({source})"
    if top < on.limit(LOAD_COVERAGE) / 100 * hover:
        message = f"the interference run ends at {top:.1f} A, but hover draws {hover:.1f} A"
        return Finding(record.place, message, evidence, f"repeat the run up to hover current or more: {HOW}")
    return Clear(evidence)


def _rescaled(aircraft: Aircraft, then: object) -> float:
    """sensor_mv_per_a now over that of the run, where both are known; amperes shown go the other way."""
    if isinstance(aircraft.power_sensing, Known) and isinstance(then, Known):
        now = aircraft.power_sensing.value.sensor_mv_per_a
        if isinstance(now, Known):
            return float(now.value / then.value)
    return 1.0


@rule(
    "interference/run-conditions",
    each="aircraft",
    severity=CAUTION,
    job=Job.INTERFERENCE,
    precaution=ANY_LOADED_RUN,
    source="common practice, no source; FAA AC 43.13-1B 12-37 keeps compass work far from metal",
)
def run_conditions(aircraft: Aircraft, on: Context) -> Outcome:
    """Was the interference run taken as the aircraft flies, and away from steel?

    Steel bends the field that the run measures, and a payload that was off makes none of the field that it
    makes in flight.

    Reasoning: ``magnetic_restraint`` and ``steel_nearby`` false, ``payload_on`` true. A log of a hover needs
    only the last.

    Fails:

        {route: restrained, magnetic_restraint: false, steel_nearby: true, payload_on: true}

    Passes:

        {route: restrained, magnetic_restraint: false, steel_nearby: false, payload_on: true}

    Not checked: reinforcement in a concrete floor; take the run outdoors on grass where you can.
    """
    if answer := not_asked(aircraft):
        return answer
    record = latest_run(on)
    asked = [(record.payload_on, False, "the payload was off", "repeat the run with the payload on")]
    if need(record.route).value != "hover-log":
        asked += [
            (
                record.magnetic_restraint,
                True,
                "what held the aircraft down attracts a magnet",
                "repeat the run with non-magnetic ties and weights",
            ),
            (
                record.steel_nearby,
                True,
                "a bench, floor or vehicle of steel was within two metres",
                "repeat the run outdoors, away from steel",
            ),
        ]
    wrong = [
        (value, what, remedy) for value, bad, what, remedy in asked if isinstance(value, Known) and value.value is bad
    ]
    if not wrong:
        for value, _, _, _ in asked:
            need(value)
        return Clear(f"run of {record.date.value}: payload on, nothing of steel near or holding")
    message = f"during the run {' and '.join(what for _, what, _ in wrong)}"
    related = tuple(Related(value.place, what) for value, what, _ in wrong[1:])
    evidence = f"interference run of {record.date.value}"
    if not isinstance(wrong[0][0], Known):
        raise unproven(record.place, message, HOW)
    return Finding(wrong[0][0].place, message, evidence, "; ".join(remedy for _, _, remedy in wrong), related)


RULES = (heading_error, heading_error_aim, offset_sign, double_compensation, run_coverage, run_conditions)
FIGURES = (field_figures, run_figures, heading_figures)
