"""Was the interference run taken up to the current of flight, and as the aircraft flies?"""

from collections.abc import Sequence
from dataclasses import replace
from math import ceil

from preflint.api import (
    ANY_LOADED_RUN,
    CAUTION,
    THRUST_STAND,
    Absent,
    Aircraft,
    Clear,
    Context,
    Field,
    Finding,
    Job,
    Known,
    Open,
    Outcome,
    Related,
    Unproven,
    not_recorded,
    rule,
    together,
)

from ..power.draw import LOAD_COVERAGE
from ..power.hover_bounds import hover_bounds_a
from ..shared.loaded_run import again
from .log import plausible_steps
from .run import latest_run, not_asked, steps_again


@rule(
    "interference/run-coverage",
    each="aircraft",
    severity=CAUTION,
    job=Job.LOAD,
    precaution=ANY_LOADED_RUN,
    source="common practice, no source",
    tolerances=(LOAD_COVERAGE,),
)
def run_coverage(aircraft: Aircraft, on: Context) -> Outcome:
    """Did the interference run reach the current of flight?

    What lies beyond the highest step is only an extension of a line.

    Reasoning: the highest step must reach ``load_coverage_percent`` of the hover current, which is the latest
    hover's, or else the thrust stand's at each rotor's share of the take-off mass, or else between the ideal power
    over an efficiency of 0.75 and over one of 0.25: nobody needs to hover first. A log that cannot be what it
    should be reaches nothing, here and in all rules that read it: currents at the end of what the sensor shows,
    (input_full_scale_mv - zero_mv) / sensor_mv_per_a, or beyond it; more than a fifth above what all motors draw
    at that share of full throttle (draw grows faster than throttle); currents that do not rise with the
    throttle, or that flow while it is at zero (more than a fifth of the highest, and than 3 A or
    two fifths of it), or that flow backwards; a
    field at the least current that no place on Earth has, as of another unit; and, in 20 rows or more, or in 8 where
    the readings scatter, two columns with the same numbers or one axis of the field that stands still alone.

    Fails:

        power_sensing: {sensor_mv_per_a: 26.4}
        compass: {interference_offset_ut_per_a: [-0.11, 0.23, -0.05]}
        records:
          interference_run:
            - date: 2026-05-16
              route: restrained
              field_is: raw
              in_force: {sensor_mv_per_a: 26.4}
              columns: [current_a, field_x_ut, field_y_ut, field_z_ut]
              rows: [[0.0, 9.00, 24.00, 38.00], [4.1, 9.45, 23.06, 38.21], [8.1, 9.89, 22.14, 38.41],
                     [12.0, 10.32, 21.24, 38.60], [0.1, 9.01, 23.98, 38.00]]
          hover: [{date: 2026-05-17, mean_current_a: 24}]

    Passes: the same with

        records:
          interference_run:
            - date: 2026-05-16
              route: restrained
              field_is: raw
              in_force: {sensor_mv_per_a: 26.4}
              columns: [current_a, field_x_ut, field_y_ut, field_z_ut]
              rows: [[0.0, 9.00, 24.00, 38.00], [8.1, 9.89, 22.14, 38.41], [16.2, 10.78, 20.27, 38.81],
                     [24.1, 11.65, 18.46, 39.21], [0.1, 9.01, 23.98, 38.00]]

    Not checked: how many steps there are; heading-error widens its bounds by what they scatter.
    """
    if answer := not_asked(aircraft):
        return answer
    record = latest_run(on)
    steps = plausible_steps(on, record)
    least, most, source = hover_bounds_a(on)
    top = float(steps.current.max()) / _rescaled(aircraft, record.in_force.sensor_mv_per_a)
    hover, share = f"{least:.1f} A" if least == most else f"{least:.1f} to {most:.1f} A", on.limit(LOAD_COVERAGE) / 100
    evidence = f"{steps.in_words} of {record.date.value} to {top:.1f} A; hover {hover} ({source})"
    message = f"the interference run ends at {top:.1f} A, but hover draws {hover}"
    if top < share * least:
        remedy = f"repeat the run up to hover current or more: {steps_again(record)}"
        return Finding(
            place=record.place,
            message=message,
            evidence=evidence,
            do=remedy,
            mind=again(record),
            record="interference_run",
        )
    if top < share * most:
        how = f"repeat the run up to {ceil(share * most)} A, or measure thrust and current of one motor on a stand"
        minded = together(again(record), THRUST_STAND)
        return Unproven(
            cause="uncertain",
            place=record.place,
            message=message,
            do=how,
            evidence=evidence,
            mind=minded,
            record="interference_run",
        )
    return Clear(evidence)


def _must_be_told(conditions: Sequence[Field[object]]) -> None:
    """Ends the rule as unproven where any is missing, and asks for all that are at once."""
    missing = [condition for condition in conditions if isinstance(condition, Absent)]
    if missing:
        names, run = [each.what.partition(" ")[0] for each in missing], missing[0].what.partition(" ")[2]
        message = f"{', '.join(names)} {run} {'is' if len(names) == 1 else 'are'} not recorded"
        asked = replace(not_recorded(missing[0]), message=message, do="; ".join(each.do for each in missing))
        raise Open(asked)


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
    job=Job.LOAD,
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

        power_sensing: {sensor_mv_per_a: 26.4}
        compass: {interference_offset_ut_per_a: [-0.11, 0.23, -0.05]}
        records:
          interference_run:
            - date: 2026-05-16
              route: restrained
              field_is: raw
              in_force: {sensor_mv_per_a: 26.4}
              magnetic_restraint: false
              steel_nearby: true
              payload_on: true
              columns: [current_a, field_x_ut, field_y_ut, field_z_ut]
              rows: [[0.0, 9.00, 24.00, 38.00], [8.1, 9.89, 22.14, 38.41], [16.2, 10.78, 20.27, 38.81],
                     [24.1, 11.65, 18.46, 39.21], [0.1, 9.01, 23.98, 38.00]]

    Passes: the same with

        records:
          interference_run:
            - date: 2026-05-16
              route: restrained
              field_is: raw
              in_force: {sensor_mv_per_a: 26.4}
              magnetic_restraint: false
              steel_nearby: false
              payload_on: true
              columns: [current_a, field_x_ut, field_y_ut, field_z_ut]
              rows: [[0.0, 9.00, 24.00, 38.00], [8.1, 9.89, 22.14, 38.41], [16.2, 10.78, 20.27, 38.81],
                     [24.1, 11.65, 18.46, 39.21], [0.1, 9.01, 23.98, 38.00]]

    Not checked: reinforcement in a concrete floor; take the run outdoors on grass where you can.
    """
    if answer := not_asked(aircraft):
        return answer
    record = latest_run(on)
    asked = [(record.payload_on, False, "the payload was off", "repeat the run with the payload on")]
    if not (isinstance(record.route, Known) and record.route.value == "hover-log"):
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
        (value.place, what, remedy)
        for value, bad, what, remedy in asked
        if isinstance(value, Known) and value.value is bad
    ]
    if not wrong:
        _must_be_told([record.route, *(value for value, _, _, _ in asked)])
        return Clear(f"run of {record.date.value}: payload on, nothing of steel near or holding")
    message = f"during the run {' and '.join(what for _, what, _ in wrong)}"
    related = tuple(Related(place, what) for place, what, _ in wrong[1:])
    evidence = f"interference run of {record.date.value}"
    remedies = "; ".join(remedy for _, _, remedy in wrong)
    return Finding(
        place=wrong[0][0],
        message=message,
        evidence=evidence,
        do=remedies,
        related=related,
        mind=again(record),
        record="interference_run",
    )
