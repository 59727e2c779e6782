"""Does the compass scatter as little as its maker says?"""

from math import sqrt

from preflint.api import (
    ADVISORY,
    SETTINGS,
    Aircraft,
    Clear,
    Context,
    Finding,
    Job,
    Known,
    NotApplicable,
    Outcome,
    Related,
    Tolerance,
    Unproven,
    need,
    rule,
)
from preflint.compute.decision import t_factor

from ..interference.log import field_digit
from ..interference.run import not_asked
from .rotation import NO_ROTATION, fitted_rotation

NOISE = Tolerance(
    "compass_noise_times",
    "1",
    5.0,
    "lower",
    "common practice, no source",
    "how many times the noise of one reading a rotation may scatter",
)


@rule(
    "compass/noise",
    each="aircraft",
    severity=ADVISORY,
    job=Job.PACK_IN,
    precaution=SETTINGS,
    source="common practice, no source",
    tolerances=(NOISE,),
)
def noise(aircraft: Aircraft, on: Context) -> Outcome:
    """Does the compass scatter no more, turned about, than its noise explains?

    What scatters far beyond the sensor's own noise is a field that changed meanwhile: a cable, a tool, a car, a motor
    that ran. Corrections from such a log belong to that moment.

    Reasoning: the scatter of a compass_rotation about its ellipsoid, against `compass.noise_ut` together with the last
    digit of the log (q/√12). Found if it is more than ``compass_noise_times`` as large, beyond its own uncertainty (one
    part in √(2·dof), 95 %); clear if it is less by as much; otherwise too uncertain to tell. Where no noise is
    recorded it is not asked.

    Fails:

        site: {latitude_deg: 54.4, longitude_deg: -2.9, elevation_m: 150}
        compass: {hard_iron_ut: [-4, 12, -8], noise_ut: 0.1}
        records:
          compass_rotation:
            - date: 2026-05-16
              field_is: raw
              columns: [field_x_ut, field_y_ut, field_z_ut]
              rows: [[55.5, -12, 8.1], [-44.4, -13.8, 8], [4.1, 36.5, 8], [4, -63.6, 8.1], [4.2, -12, 59.5],
                     [4, -11.9, -40.5], [32.6, 18.6, 34.5], [31.6, -38.5, -20.6], [-26.6, 16.6, -18.5],
                     [-24.5, -42.6, 36.6], [41.1, -12, 41.0], [-31.0, 25.0, 8.1], [-20.6, 16.6, 38.5],
                     [32.5, 16.4, -22.5], [31.5, -40.5, 38.5], [-24.5, -38.5, -20.5]]

    Passes: the same with

        compass: {hard_iron_ut: [-4, 12, -8], noise_ut: 2.0}

    Not checked: noise with the motors running (interference).
    """
    if not aircraft.records.compass_rotation:
        return NotApplicable(NO_ROTATION)
    if answer := not_asked(aircraft):
        return answer
    compass = aircraft.compass.value if isinstance(aircraft.compass, Known) else None
    if compass is None or not isinstance(compass.noise_ut, Known):
        return NotApplicable("the compass's noise is not recorded")
    own, rotation = compass.noise_ut, fitted_rotation(on)
    digit = field_digit(need(rotation.record.table).value)
    explained = sqrt(own.value**2 + digit**2 / 12) * on.limit(NOISE)
    scatter = rotation.fit.residual_sd
    expanded = t_factor(rotation.dof) * scatter / sqrt(2 * rotation.dof)
    evidence = (
        f"{rotation.in_words()}: ± {scatter:.2f} µT about its ellipsoid, known to {expanded:.2f} µT (95 %); by "
        f"noise_ut {own.value:g} and the last digit at most {explained:.2f} µT"
    )
    related = (Related(own.place, "the noise of one reading"),)
    if scatter + expanded <= explained:
        return Clear(evidence)
    message = f"turned about, the compass scatters by {scatter:.2f} µT, its own noise by {own.value:g}"
    do = "log the rotation again outdoors, slowly, motors still, away from steel, cables and tools"
    if scatter - expanded > explained:
        return Finding(
            place=rotation.record.place,
            message=message,
            evidence=evidence,
            do=do,
            related=related,
            record="compass_rotation",
        )
    return Unproven(
        cause="uncertain",
        place=rotation.record.place,
        message=f"{message}: too uncertain to tell",
        do=do,
        evidence=evidence,
        related=related,
        record="compass_rotation",
    )
