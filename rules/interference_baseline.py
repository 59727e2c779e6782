"""Was the interference run taken in the Earth's field, or beside steel?"""

from math import inf, sqrt

import numpy as np

from preflint.api import (
    CAUTION,
    Absent,
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
)
from preflint.compute.decision import decide, t_factor

from .compass_rotation import matrix
from .compass_strength import FIELD_STRENGTH
from .interference_deviation import earth_field
from .interference_run import HOW, latest_run, logged, not_asked
from .power_sensing_draw import ANY_LOADED_RUN


@rule(
    "interference/run-field",
    each="aircraft",
    severity=CAUTION,
    job=Job.INTERFERENCE,
    precaution=ANY_LOADED_RUN,
    source="derived: the field of the World Magnetic Model at the site; the tolerance is common practice, no source",
    tolerances=(FIELD_STRENGTH,),
)
def run_field(aircraft: Aircraft, on: Context) -> Outcome:
    """Was the interference run taken in the Earth's field, or beside steel?

    Over a steel bench, on a car or on reinforced concrete the field is another one, and iron that the current
    magnetises answers it. An offset from there belongs to the bench.

    Reasoning: the run's field at no current (the least step, less the slope times its current), with the
    hard-iron correction added, must be as strong as the World Magnetic Model has it at the site, within
    ``field_strength_percent`` and the uncertainties of run and model at 95 %. A raw log gets the hard iron installed
    (and soft_iron, where one is). A compensated log gets the difference of the hard iron installed and the one in
    force during the run, and is not judged where that is not recorded: whether it held any is then not known.
    Beside steel is one explanation of a wrong strength, a hard iron that is not as set the other; both are said.

    Fails:

        site: {latitude_deg: 54.4, longitude_deg: -2.9, elevation_m: 150}
        power_sensing: {sensor_mv_per_a: 26.4}
        compass: {interference_offset_ut_per_a: [-0.11, 0.23, -0.05], hard_iron_ut: [4, -12, 8]}
        records:
          interference_run:
            - date: 2026-05-16
              route: restrained
              field_is: raw
              in_force: {sensor_mv_per_a: 26.4}
              columns: [current_a, field_x_ut, field_y_ut, field_z_ut]
              rows: [[0.0, 9.00, 24.00, 21.00], [8.1, 9.89, 22.14, 21.41], [16.2, 10.78, 20.27, 21.81],
                     [24.1, 11.65, 18.46, 22.21], [0.1, 9.01, 23.98, 21.00]]

    Passes:

        site: {latitude_deg: 54.4, longitude_deg: -2.9, elevation_m: 150}
        power_sensing: {sensor_mv_per_a: 26.4}
        compass: {interference_offset_ut_per_a: [-0.11, 0.23, -0.05], hard_iron_ut: [4, -12, 8]}
        records:
          interference_run:
            - date: 2026-05-16
              route: restrained
              field_is: raw
              in_force: {sensor_mv_per_a: 26.4}
              columns: [current_a, field_x_ut, field_y_ut, field_z_ut]
              rows: [[0.0, 9.00, 24.00, 38.00], [8.1, 9.89, 22.14, 38.41], [16.2, 10.78, 20.27, 38.81],
                     [24.1, 11.65, 18.46, 39.21], [0.1, 9.01, 23.98, 38.00]]

    Not checked: steel that turns the field and leaves its strength, and the direction of the field in the log.
    """
    if not aircraft.records.interference_run:
        return NotApplicable("no interference run is recorded, which heading-error asks for")
    if answer := not_asked(aircraft):
        return answer
    record, earth = latest_run(on), earth_field(on)
    steps, slope, covariance, _ = logged(record)
    least = int(np.argmin(np.abs(steps.current)))
    still = steps.field[least] - slope * steps.current[least]
    compass = aircraft.compass.value if isinstance(aircraft.compass, Known) else None
    hard = compass.hard_iron_ut if compass else None
    if compass is None or not isinstance(hard, Known):
        return NotApplicable("no hard-iron correction is recorded to add to the field of the run")
    added, kind = np.array(hard.value), need(record.field_is).value
    if kind == "compensated":
        then = record.in_force.hard_iron_ut
        if isinstance(then, Absent):
            return NotApplicable("whether the compensated log holds a hard-iron correction is not recorded")
        shown = still + added - np.array(then.value)
    else:
        shown = matrix(compass.soft_iron) @ (still + added)
    strength, share = float(np.linalg.norm(shown)), on.limit(FIELD_STRENGTH) / 100
    longest = sqrt(max(0.0, float(np.linalg.eigvalsh(covariance)[-1])))
    u_run = sqrt((longest * float(steps.current[least])) ** 2 + steps.digit**2 / 12)
    u = sqrt(u_run**2 + earth.u_total_ut**2)
    in_words = f"[{', '.join(f'{value:.1f}' for value in still)}]"
    evidence = (
        f"{kind} run of {record.date.value}: {in_words} µT forward, right, down at no current; with hard iron "
        f"{strength:.1f} µT; the model has {earth.total_ut:.1f} µT at the site, both within "
        f"± {t_factor(inf) * u:.1f} µT (95 %); at most {100 * share:g} % apart"
    )
    decision = decide(strength - earth.total_ut, u, inf, share * earth.total_ut)
    if decision == "clear":
        return Clear(evidence)
    if decision == "found":
        way = "stronger" if strength > earth.total_ut else "weaker"
        message = (
            f"with the motors still the run shows a field of {strength:.1f} µT, {way} than the Earth's of "
            f"{earth.total_ut:.1f} µT: it was taken near steel, or hard iron is not as set"
        )
        remedy = (
            "look whether hard_iron_ut is what the flight controller has; if it is, repeat the run outdoors, away "
            "from steel, vehicles and reinforced concrete"
        )
        related = (Related(hard.place, "the hard-iron correction added"),)
        return Finding(record.place, message, evidence, remedy, related)
    message = f"the run shows a field of {strength:.1f} µT, which may be within {100 * share:g} % of the Earth's or not"
    return Unproven("uncertain", record.place, message, HOW, evidence)
