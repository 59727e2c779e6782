"""Hard iron: does the correction installed take away the field that the aircraft carries with it?"""

from __future__ import annotations

from preflint.api import (
    NO_GO,
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
    Unproven,
    need,
    rule,
)
from preflint.arrays import np
from preflint.compute.decision import expanded_radius_3d
from preflint.compute.least_squares import Array

from ..interference.earth import earth_field
from ..interference.run import not_asked
from .checks import DEVIATION
from .left_over import HardIron, corrected, fitted_compass, hard_iron_left
from .rotation import AGAIN, NO_ROTATION, ROTATION_HOW, Rotation, fitted_rotation, microtesla, must_be_a_field

_UNLIKE = 0.25  # of the correction: nearer than that is no accident


@rule(
    "compass/hard-iron",
    each="aircraft",
    severity=NO_GO,
    job=Job.PACK_IN,
    precaution=SETTINGS,
    source="14 CFR 27.1327, former 14 CFR 23.1327: deviation of not more than 10° on any heading",
    tolerances=(DEVIATION,),
)
def hard_iron(aircraft: Aircraft, on: Context) -> Outcome:
    """Does the hard-iron correction take away the field that the aircraft carries with it?

    Magnets and magnetised screws turn with the aircraft. What is left of their field pulls the heading to one
    side on one course and to the other on the opposite one: in position hold the aircraft circles.

    Reasoning: readings of a sensor that is turned through all attitudes lie on an ellipsoid; its centre c is the
    field of the aircraft's own magnets. The flight controller adds hard_iron_ut, h, so c + h is left over (times
    soft_iron where one is installed: hard iron is taken to be added first). A compensated log has what was in
    force taken out again. The largest error of heading, level, is asin(|c + h| / H) with the horizontal parts, and
    H, the World Magnetic Model's, in the scale that the sensor showed. Found if its lower bound (95 %) is above
    ``heading_deviation``, clear if the upper one is not, otherwise too uncertain. The bounds are those of the
    fit's covariance, so readings of a few attitudes only leave the centre open.
    An h near +c instead of -c has the wrong sign; one that is the opposite of the centre of a compensated log
    has lost what that log already held. Both are said.

    Fails:

        site: {latitude_deg: 54.4, longitude_deg: -2.9, elevation_m: 150}
        compass: {hard_iron_ut: [4, -12, 8]}
        records:
          compass_rotation:
            - date: 2026-05-16
              field_is: raw
              columns: [field_x_ut, field_y_ut, field_z_ut]
              rows: [[53.5, -12, 8.1], [-45.4, -11.8, 8], [4.1, 37.5, 8], [4, -61.6, 8.1], [4.2, -12, 57.5],
                     [4, -11.9, -41.5], [32.6, 16.6, 36.5], [32.6, -40.5, -20.6], [-24.6, 16.6, -20.5],
                     [-24.5, -40.6, 36.6], [39.1, -12, 43.0], [-31.0, 23.0, 8.1]]

    Passes: the same with

        compass: {hard_iron_ut: [-4, 12, -8]}

    Not checked: a compass mounted or set turned (heading-check), and the vertical part, which counts when tilted
    (total-deviation).
    """
    if not aircraft.records.compass_rotation:
        return NotApplicable(NO_ROTATION)
    if answer := not_asked(aircraft):
        return answer
    compass, rotation, earth = fitted_compass(aircraft), fitted_rotation(on), earth_field(on)
    installed = need(compass.hard_iron_ut)
    must_be_a_field(rotation, earth.total_ut)
    left, error = corrected(on, rotation), hard_iron_left(on, rotation)
    limit, day = on.limit(DEVIATION), rotation.record.date.value
    evidence = (
        f"largest heading error {error.value:.1f}° ({error.low:.1f} to {error.high:.1f}°); at most {limit:g}°; "
        f"left over {microtesla(left.centre)} µT forward, right, down; the flight controller adds "
        f"{microtesla(installed.value)}; {rotation.in_words()}: centre {microtesla(rotation.fit.centre)} ± "
        f"{expanded_radius_3d(rotation.covariance, rotation.dof):.2f} µT; horizontal field "
        f"{left.scale * earth.horizontal_ut:.1f} µT"
    )
    if error.high <= limit:
        return Clear(evidence)
    if error.low <= limit:
        message = f"hard iron left over turns the compass by {error.value:.1f}°, perhaps {error.high:.1f}°"
        return Unproven(
            cause="uncertain",
            place=rotation.record.place,
            message=f"{message}: too near {limit:g}° to tell",
            do=ROTATION_HOW,
            record="compass_rotation",
            evidence=evidence,
        )
    remedy = f"set hard_iron_ut to {microtesla(rotation.needed)}, {AGAIN}"
    if doubt := _doubt(rotation, np.array(installed.value)):
        remedy = f"look first whether field_is is right; if it is, {remedy}"
        evidence = f"{doubt}; {evidence}"
    related = (Related(rotation.record.place, f"the rotation of {day}"),)
    return Finding(
        place=installed.place,
        message=_what_is_wrong(rotation, installed, error, limit),
        evidence=evidence,
        do=remedy,
        record="compass_rotation",
        related=related,
    )


def _what_is_wrong(rotation: Rotation, installed: Known[tuple[float, ...]], error: HardIron, limit: float) -> str:
    h, c, needed = np.array(installed.value), rotation.fit.centre, rotation.needed
    radius = expanded_radius_3d(rotation.covariance, rotation.dof)
    if _nearer(h, c, (needed, np.zeros(3)), radius):
        return "hard_iron_ut has the wrong sign: it adds to what the aircraft's magnets make"
    if rotation.kind == "compensated":
        then = np.array(need(rotation.record.in_force.hard_iron_ut).value)
        if _nearer(h, needed - then, (needed, then), radius):
            return f"the hard-iron correction lacks what the compensated log held: {microtesla(then)}"
    if error.value >= 180:
        return "hard iron left over exceeds the Earth's horizontal field: headings mean nothing"
    return f"hard iron left over turns the compass by up to {error.value:.1f}°, more than {limit:g}°"


def _nearer(h: Array, to: Array, than: tuple[Array, ...], radius: float) -> bool:
    """Whether h is nearer to the one than to any of the others, beyond the uncertainty of all."""
    others = min(float(np.linalg.norm(h - other)) for other in than)
    return float(np.linalg.norm(h - to)) + radius < others - radius


def _doubt(rotation: Rotation, installed: Array) -> str | None:
    """Why the log looks as if ``field_is`` were the wrong way round; None where it does not."""
    if rotation.kind == "raw":
        unlike, whole = rotation.fit.centre, installed
        why = "the log says raw, but is centred already, though a hard-iron correction is installed"
    else:
        whole = np.array(need(rotation.record.in_force.hard_iron_ut).value)
        unlike = rotation.fit.centre + 2 * whole
        why = "the log says compensated, but shows just what the correction in force should have taken away"
    radius = expanded_radius_3d(rotation.covariance, rotation.dof)
    return why if float(np.linalg.norm(unlike)) + radius < _UNLIKE * float(np.linalg.norm(whole)) else None
