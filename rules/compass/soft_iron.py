"""Soft iron: does the compass see the field equally strong in all directions?"""

from preflint.api import (
    CAUTION,
    SETTINGS,
    Absent,
    Aircraft,
    Clear,
    Context,
    Field,
    Finding,
    Job,
    Known,
    NotApplicable,
    Outcome,
    Related,
    Tolerance,
    Unproven,
    rule,
)

from ..interference.earth import earth_field
from ..interference.run import not_asked
from .left_over import fitted_compass, left_over
from .rotation import AGAIN, NO_ROTATION, ROTATION_HOW, Rotation, fitted_rotation, matrix_needed, must_be_a_field

SOFT_IRON_AIM = Tolerance(
    "soft_iron_aim_deg",
    "deg",
    3.0,
    "lower",
    "common practice, no source",
    "deviation of the compass by soft iron alone that is aimed at",
)


@rule(
    "compass/soft-iron",
    each="aircraft",
    severity=CAUTION,
    job=Job.PACK_IN,
    precaution=SETTINGS,
    source="derived: the ellipsoid of the readings; the aim is common practice, no source",
    tolerances=(SOFT_IRON_AIM,),
)
def soft_iron(aircraft: Aircraft, on: Context) -> Outcome:
    """Does the compass see the field equally strong in all directions?

    Unmagnetised steel, and axes of unequal scale, stretch the field. The heading is then wrong twice a turn, with
    signs that change every quarter: a heading check to north, east, south and west alone may miss it.

    Reasoning: readings on an ellipsoid instead of a sphere. In a level plane an ellipse of ratio r turns the
    heading by asin((r - 1)/(r + 1)) at most. Where iron leans between level and vertical, it also brings part of
    the vertical field into the level plane, which at a steep inclination is more; so the error is computed on every
    heading with the whole matrix, after soft_iron where one is installed, at the site's inclination. Found if its
    lower bound (95 %, from the covariance of the fit) is above ``soft_iron_aim_deg``.

    Fails:

        site: {latitude_deg: 54.4, longitude_deg: -2.9, elevation_m: 150}
        compass: {soft_iron: [[1, 0, 0], [0, 1, 0], [0, 0, 1]]}
        records:
          compass_rotation:
            - date: 2026-05-16
              field_is: raw
              columns: [field_x_ut, field_y_ut, field_z_ut]
              rows: [[54.2, 0, 0.1], [-54.1, 0.2, 0], [0.1, 45.2, 0], [0, -45.3, 0.1], [0.2, 0, 49.5], [0, 0.1, -49.5],
                     [31.3, 26.1, 28.5], [31.3, -26.0, -28.6], [-31.3, 26.1, -28.5], [-31.2, -26.1, 28.6],
                     [38.4, 0, 35.0], [-38.3, 32.0, 0.1]]

    Passes: the same with

        compass: {soft_iron: [[0.913, 0, 0], [0, 1.095, 0], [0, 0, 1]]}

    Not checked: iron that turns the field as a whole, which no rotation shows (heading-check).
    """
    if not aircraft.records.compass_rotation:
        return NotApplicable(NO_ROTATION)
    if answer := not_asked(aircraft):
        return answer
    compass, rotation, earth = fitted_compass(aircraft), fitted_rotation(on), earth_field(on)
    must_be_a_field(rotation, earth.total_ut)
    alone = on.once(left_over, compass, rotation, earth, hard=False)
    aim, recorded = on.limit(SOFT_IRON_AIM), compass.soft_iron
    matrix = f"after soft_iron {alone.axis_ratio:.3f}" if isinstance(recorded, Known) else "no soft_iron is recorded"
    evidence = (
        f"largest heading error, level, at an inclination of {earth.inclination_deg:.0f}°: {alone.value:.1f}° "
        f"({alone.low:.1f} to {alone.high:.1f}°); {aim:g}° is aimed at; {rotation.in_words()}: longest over shortest "
        f"axis {rotation.fit.axis_ratio:.3f}, which scatter makes larger, at most {rotation.axis_ratio_at_most:.3f} "
        f"(95 %); {matrix}"
    )
    if alone.low > aim:
        return _found(rotation, recorded, f"by up to {alone.value:.1f}°; {aim:g}° is aimed at", evidence)
    if alone.high > aim:
        message = f"soft iron turns the compass by up to {alone.value:.1f}°, perhaps {alone.high:.1f}°"
        return Unproven(
            cause="uncertain",
            place=rotation.record.place,
            message=f"{message}; {aim:g}° is aimed at",
            do=ROTATION_HOW,
            record="compass_rotation",
            evidence=evidence,
        )
    if isinstance(recorded, Absent):
        message = "whether a soft_iron matrix is set is not recorded: without one all is well"
        return Unproven(
            place=recorded.place,
            message=message,
            do=f"{recorded.do}; where none is set, write the unit matrix",
            evidence=evidence,
        )
    return Clear(evidence)


def _found(rotation: Rotation, recorded: Field[tuple[tuple[float, ...], ...]], by: str, evidence: str) -> Finding:
    message, rotated = f"soft iron turns the compass {by}", rotation.record
    if not isinstance(recorded, Known):
        remedy = f"write soft_iron if one is set; else set it to {matrix_needed(rotation)}, {AGAIN}"
        return Finding(place=rotated.place, message=message, evidence=evidence, do=remedy, record="compass_rotation")
    return Finding(
        place=recorded.place,
        message=message,
        evidence=evidence,
        do=f"move steel away from the compass, or set soft_iron to {matrix_needed(rotation)}, {AGAIN}",
        record="compass_rotation",
        related=(Related(rotated.place, f"the rotation of {rotated.date.value}"),),
    )
