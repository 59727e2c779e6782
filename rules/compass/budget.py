"""Hard iron, soft iron and interference together: the compass as it is in flight."""

from preflint.api import (
    ANY_LOADED_RUN,
    CAUTION,
    NO_GO,
    Aircraft,
    Clear,
    Context,
    Job,
    NotApplicable,
    Outcome,
    records,
    rule,
)

from ..interference.limits import HEADING_AIM, HEADING_LIMIT
from ..interference.run import DRIFT
from .checks import DEVIATION, MAP_LINE, POINTING
from .judged import already_said, asked, finding, left_open, too_uncertain, worst


@rule(
    "compass/total-deviation",
    each="aircraft",
    severity=NO_GO,
    job=Job.LOAD,
    needed_for_flight=True,
    shown_by=records.InterferenceRun,
    precaution=ANY_LOADED_RUN,
    source="14 CFR 27.1327(a)(2): deviation of not more than 10° on any heading, whatever its causes",
    tolerances=(HEADING_LIMIT, HEADING_AIM, DEVIATION, MAP_LINE, POINTING, DRIFT),
)
def total_deviation(aircraft: Aircraft, on: Context) -> Outcome:
    """Is the compass right in flight, with hard iron, soft iron and interference together?

    Each by itself may pass, and their sum turn position hold into a growing circle.

    Reasoning: hard iron and interference are fixed to the aircraft: they add as vectors and turn the heading once to
    each side a turn. Soft iron does so twice a turn. For amplitudes A of the first and B of the second, the largest
    sum lies between the larger of the two and A + B, whatever their directions.
    A heading check measures hard and soft iron and the mounting together, with sign, at each heading; the current's
    error there, computed as for interference/heading-error and with its sign, is added. Between the headings checked
    the curve is one of hard iron, from eight headings on one of soft iron too; its largest residual counts. Without
    a check, a rotation gives centre and shape, and all is computed as vectors on every heading; with one it does so
    tilted, where hard iron's vertical part counts, which no check sees, and the worse of the two counts. There a lean
    counts, too: zeros b of the accelerometer (six_positions) act as Z·b/g fixed to the aircraft, Z being the field
    downward; a check has it in its readings. Six positions that are outdated count no more; where the lean that they
    told could bring it above the limit, it is open until they are taken again.
    At hover current and full throttle, level and tilted by 25° (what was checked level is taken to stay), with bounds
    at 95 %: the directions' accuracy, common to all headings, the pointing of each, the run's covariance (as for
    heading-error) and the rotation's, the model field's error. Found if the lower bound of any case is above
    ``heading_error_limit_deg``, at a heading that was checked; clear if no upper bound on any heading is; otherwise
    too uncertain to tell.

    Fails:

        site: {latitude_deg: 54.4, longitude_deg: -2.9, elevation_m: 150}
        every_rotor: {motor: {full_throttle_draw_a: 21}}
        power_sensing: {sensor_mv_per_a: 26.4}
        compass: {interference_offset_ut_per_a: [-0.08, 0.23, -0.05]}
        records:
          heading_check: [{date: 2026-05-20, reference: {accuracy_deg: 1}, columns: [true_deg, indicated_deg],
                           rows: [[0, 1], [90, 83], [180, 179], [270, 277]]}]
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
        records:
          heading_check: [{date: 2026-05-20, reference: {accuracy_deg: 1}, columns: [true_deg, indicated_deg],
                           rows: [[0, 1], [45, 44.3], [90, 88], [135, 132.9],
                                  [180, 179], [225, 225.7], [270, 272], [315, 317.1]]}]

    Not checked: what hard iron's vertical part changes when tilted where only a heading check is. What one cause by
    itself makes too much is said by the rule for that cause.
    """
    answer = on.once(asked, on)
    if not isinstance(answer, tuple):
        return answer
    still, run, cases, missing, evidence = answer
    limit = on.limit(HEADING_LIMIT)
    one = worst(cases)
    if one.low > limit:
        return already_said(on, still) or finding(on, one, still, run, f", more than {limit:g}°", evidence)
    if open_question := left_open(on, still, run, missing, evidence):
        return open_question
    return too_uncertain(on, still, run, cases, limit, evidence) or Clear(evidence)


@rule(
    "compass/total-deviation-aim",
    each="aircraft",
    severity=CAUTION,
    job=Job.LOAD,
    precaution=ANY_LOADED_RUN,
    source="common practice, no source",
    tolerances=(HEADING_AIM, HEADING_LIMIT, DEVIATION, MAP_LINE, POINTING, DRIFT),
)
def total_deviation_aim(aircraft: Aircraft, on: Context) -> Outcome:
    """Is the compass as good in flight as it should be, all causes together?

    Below the limit of total-deviation an aircraft flies, but it drifts and hunts in position hold.

    Reasoning: as total-deviation; found if the lower bound of any case is above ``heading_error_aim_deg``, clear if
    no upper bound is, otherwise too uncertain to tell. (heading-error-aim finds what the run itself shows to be more,
    whatever its bounds: a better run is always to be had, a direction known to a degree is not.)

    Fails:

        site: {latitude_deg: 54.4, longitude_deg: -2.9, elevation_m: 150}
        every_rotor: {motor: {full_throttle_draw_a: 21}}
        power_sensing: {sensor_mv_per_a: 26.4}
        compass: {interference_offset_ut_per_a: [-0.095, 0.23, -0.05]}
        records:
          heading_check: [{date: 2026-05-20, reference: {accuracy_deg: 1}, columns: [true_deg, indicated_deg],
                           rows: [[0, 1], [90, 86], [180, 179], [270, 274]]}]
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
        records:
          heading_check: [{date: 2026-05-20, reference: {accuracy_deg: 1}, columns: [true_deg, indicated_deg],
                           rows: [[0, 1], [45, 44.3], [90, 88], [135, 132.9],
                                  [180, 179], [225, 225.7], [270, 272], [315, 317.1]]}]

    Not checked: as total-deviation.
    """
    answer = on.once(asked, on)
    if not isinstance(answer, tuple):
        return answer
    still, run, cases, missing, evidence = answer
    one = worst(cases)
    if one.low > on.limit(HEADING_LIMIT):
        return NotApplicable("more than the limit of total-deviation is found")
    aim = on.limit(HEADING_AIM)
    if one.low > aim:
        return finding(on, one, still, run, f"; {aim:g}° is aimed at", evidence)
    if open_question := left_open(on, still, run, missing, evidence):
        return open_question
    return too_uncertain(on, still, run, cases, aim, evidence) or Clear(evidence)
