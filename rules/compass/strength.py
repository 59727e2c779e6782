"""Does the compass, turned about, show as strong a field as the Earth has at the site?"""

from math import inf, sqrt

from preflint.api import (
    CAUTION,
    SETTINGS,
    Aircraft,
    Clear,
    Context,
    Finding,
    Job,
    NotApplicable,
    Outcome,
    Unproven,
    rule,
)
from preflint.compute.decision import decide, effective_dof, t_factor
from preflint.compute.geomagnetism import Field as EarthField

from ..interference.earth import FIELD_STRENGTH, UNIT_HOW, earth_field, is_strong_as_earth
from ..interference.run import not_asked
from .rotation import NO_ROTATION, ROTATION_HOW, Rotation, fitted_rotation


@rule(
    "compass/field-strength",
    each="aircraft",
    severity=CAUTION,
    job=Job.PACK_IN,
    precaution=SETTINGS,
    source="derived: the field of the World Magnetic Model at the site; the tolerance is common practice, no source",
    tolerances=(FIELD_STRENGTH,),
)
def field_strength(aircraft: Aircraft, on: Context) -> Outcome:
    """Was the compass calibrated in the Earth's field, and in its unit?

    Beside steel the field is another one, and its direction too: what is calibrated there is wrong everywhere
    else. A log in another unit than its columns say makes every correction wrong by the same factor.

    Reasoning: an ellipsoid through the readings, by least squares, with corrections that a compensated log holds
    taken out again. Its radius (of the sphere of the same volume) is compared with the total field of the World
    Magnetic Model at the site on the day judged at, within ``field_strength_percent``. The uncertainty (95 %) is
    that of the fit, widened for neighbouring rows that are not independent, and that of the model. Readings that
    cover too little of the sphere to tell the centre are not judged: turn the aircraft through all attitudes.

    Fails:

        site: {latitude_deg: 54.4, longitude_deg: -2.9, elevation_m: 150}
        compass: {hard_iron_ut: [0, 0, 0]}
        records:
          compass_rotation:
            - date: 2026-05-16
              field_is: raw
              columns: [field_x_ut, field_y_ut, field_z_ut]
              rows: [[495, 0, 1], [-494, 2, 0], [1, 495, 0], [0, -496, 1], [2, 0, 495], [0, 1, -495],
                     [286, 286, 285], [286, -285, -286], [-286, 286, -285], [-285, -286, 286], [351, 0, 350],
                     [-350, 350, 1]]

    Passes: the same with

        records:
          compass_rotation:
            - date: 2026-05-16
              field_is: raw
              columns: [field_x_ut, field_y_ut, field_z_ut]
              rows: [[49.5, 0, 0.1], [-49.4, 0.2, 0], [0.1, 49.5, 0], [0, -49.6, 0.1], [0.2, 0, 49.5], [0, 0.1, -49.5],
                     [28.6, 28.6, 28.5], [28.6, -28.5, -28.6], [-28.6, 28.6, -28.5], [-28.5, -28.6, 28.6],
                     [35.1, 0, 35.0], [-35.0, 35.0, 0.1]]

    Not checked: the direction of the field, and steel that bends it without changing its strength.
    """
    if not aircraft.records.compass_rotation:
        return NotApplicable(NO_ROTATION)
    if answer := not_asked(aircraft):
        return answer
    rotation, earth = fitted_rotation(on), earth_field(on)
    shown, place = rotation.fit.radius, rotation.record.place
    share = on.limit(FIELD_STRENGTH) / 100
    error, u = shown - earth.total_ut, sqrt(rotation.u_radius**2 + earth.u_total_ut**2)
    evidence = (
        f"{rotation.in_words()}: {shown:.1f} ± {t_factor(rotation.dof) * rotation.u_radius:.2f} µT; the model has "
        f"{earth.total_ut:.1f} ± {t_factor(inf) * earth.u_total_ut:.1f} µT at the site (95 %); "
        f"at most {100 * share:g} % apart"
    )
    dof = effective_dof([(rotation.u_radius, rotation.dof), (earth.u_total_ut, inf)])
    decision = decide(error, u, dof, share * earth.total_ut)
    if decision == "clear":
        return Clear(evidence)
    if decision == "found":
        return _found(rotation, share, earth, evidence)
    message = f"the rotation shows {shown:.1f} µT, which may be within {100 * share:g} % of the Earth's field or not"
    return Unproven(
        cause="uncertain", place=place, message=message, do=ROTATION_HOW, evidence=evidence, record="compass_rotation"
    )


def _found(rotation: Rotation, share: float, earth: EarthField, evidence: str) -> Finding:
    shown, place = rotation.fit.radius, rotation.record.place
    total = earth.total_ut
    message = f"the rotation shows {shown:.1f} µT, the Earth has {total:.1f} µT"
    if 10 * (1 - share) <= shown / total <= 10 * (1 + share):
        why = "ten times, as if in milligauss"
        return Finding(place=place, message=f"{message}: {why}", evidence=evidence, do=UNIT_HOW)
    if not is_strong_as_earth(shown, total):
        why = "another unit or scale"
        return Finding(place=place, message=f"{message}: {why}", evidence=evidence, do=UNIT_HOW)
    remedy = (
        "calibrate and log the rotation again outdoors, away from steel, vehicles and reinforced concrete; if it "
        "shows the same there, the sensor's scale is wrong"
    )
    why = "near steel, or a wrong scale"
    return Finding(place=place, message=f"{message}: {why}", evidence=evidence, do=remedy)
