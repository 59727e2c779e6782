"""Where are the rotors, and can the nose be turned without tipping the aircraft?"""

from __future__ import annotations

from preflint.api import (
    NO_GO,
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
    Tolerance,
    Unproven,
    arm_of,
    name,
    need,
    rule,
)
from preflint.arrays import np
from preflint.compute.handedness import opposite

from ..shared.places import rotor_places
from .balance import yaw_apart_percent, yaw_signs
from .state import WIRES, Rotor

YAW_APART = Tolerance(
    "yaw_apart_share",
    "%",
    10.0,
    "higher",
    "common practice, no source",
    "share of the rotors' yaw torque that is left when thrust, roll and pitch are held",
)


@rule(
    "rotation/yaw-apart",
    each="aircraft",
    severity=NO_GO,
    job=Job.PROPS_OFF,
    precaution=WIRES,
    source="rank of the allocation matrix (Du, Quan, Yang, Cai, J. Guid. Control Dyn. 38(5), 2015)",
    tolerances=(YAW_APART,),
)
def yaw_apart(aircraft: Aircraft, on: Context) -> Outcome:
    """Yaw can be steered apart from thrust, roll and pitch.

    A rotor that is sped up lifts its own place and turns the nose against its spin. With the two front motors
    of a quad turning cw and the two rear ones ccw the torques cancel at hover, and yet every yaw command is a
    pitch command too: the aircraft tips over at the first correction of its nose.

    Each rotor gives one column (1, -right, forward, -s) of thrust, roll, pitch and yaw, s = +1 for cw seen from
    above. Of the row of yaw the part that the rows of thrust, roll and pitch make up is taken away (least
    squares); what is left, as a share of the whole row's length, must be more than the limit.

    Fails:

        aircraft: {name: Trial, layout: quad-x}
        rotors:
          - {at: front-left, spin: cw}
          - {at: front-right, spin: cw}
          - {at: rear-left, spin: ccw}
          - {at: rear-right, spin: ccw}

    Passes: the same with

        rotors:
          - {at: front-left, spin: cw}
          - {at: front-right, spin: ccw}
          - {at: rear-left, spin: ccw}
          - {at: rear-right, spin: cw}

    Not checked: how much yaw is left within the limits of thrust, tilted rotors, and aircraft of fewer than four
    rotors.
    """
    rotors = aircraft.rotors
    if len(rotors) < 4:
        return NotApplicable("with fewer than four rotors yaw needs something else than their spins")
    signs = yaw_signs(aircraft)
    left = yaw_apart_percent(rotor_places(aircraft), signs)
    limit = on.limit(YAW_APART)
    evidence = f"{left:.0f} % of the yaw torque is left when thrust, roll and pitch are held (limit {limit:g} %)"
    if left > limit:
        return Clear(evidence)
    one_way = [rotor for rotor in rotors if need(rotor.spin).value == need(rotors[0].spin).value]
    spin = need(rotors[0].spin).value
    return Finding(
        place=need(rotors[0].spin).place,
        message="yaw cannot be steered by itself: a correction of the nose tips the aircraft",
        evidence=f"{', '.join(name(rotor) for rotor in one_way)} turn {spin} seen from above, the others "
        f"{opposite(spin)}; " + evidence,
        do="look from above at every motor turning and compare with the spins that the layout "
        "is meant to have; "
        "where a motor turns the wrong way swap any two of its three wires and change prop and nut with it",
        related=tuple(Related(need(r.spin).place, f"{name(r)} turns {need(r.spin).value}") for r in rotors[1:]),
    )


PLACES_APART = Tolerance(
    "rotor_places_mm",
    "mm",
    10.0,
    "higher",
    "common practice, no source",
    "how far apart rotors must be, and how far off one line, for their places to be more than a placeholder",
)


@rule(
    "rotation/places",
    each="aircraft",
    severity=NO_GO,
    job=Job.MECHANICAL,
    precaution=WIRES,
    source="derived: rotors in one place or on one line cannot hold an aircraft level",
    needed_for_flight=True,
    shown_by=Rotor,
    tolerances=(PLACES_APART,),
)
def places(aircraft: Aircraft, on: Context) -> Outcome:
    """The places of the rotors are those of an aircraft, not placeholders.

    Where each rotor has its own place_mm, every judgement of yaw, tilt and sticks rests on it. Two rotors in one
    place (other than the -upper and -lower of one arm), or all of them on one line, are places that nobody has
    measured yet; or they were written in metres. It finds nothing: such an aircraft is unproven.

    Fails:

        aircraft: {name: Trial, layout: custom}
        rotors:
          - {at: one, place_mm: [0, 0, 0]}
          - {at: two, place_mm: [0, 0, 0]}
          - {at: three, place_mm: [0, 0, 0]}
          - {at: four, place_mm: [0, 0, 0]}

    Passes: the same with

        rotors:
          - {at: one, place_mm: [180, -240, 0]}
          - {at: two, place_mm: [180, 240, 0]}
          - {at: three, place_mm: [-180, -240, 0]}
          - {at: four, place_mm: [-180, 240, 0]}

    Not checked: whether the places are right.
    """
    if aircraft.about.layout.value != "custom" and not any(isinstance(r.place_mm, Known) for r in aircraft.rotors):
        return NotApplicable("the layout says where the rotors are")
    at = np.array([need(rotor.place_mm).value for rotor in aircraft.rotors])
    limit = on.limit(PLACES_APART)
    arms = [arm_of(name(rotor)) for rotor in aircraft.rotors]
    how = "measure each rotor's place, forward, right and down from the centre of the rotors in mm, and write place_mm"
    for one in range(len(at)):
        for two in range(one):
            apart = float(np.hypot(*(at[one] - at[two])[:2]))
            if arms[one] != arms[two] and apart < limit:
                pair = f"{name(aircraft.rotors[two])} and {name(aircraft.rotors[one])}"
                raise Open(
                    Unproven(
                        place=need(aircraft.rotors[one].place_mm).place, message=f"{pair} are in one place", do=how
                    )
                )
    off_line = float(np.linalg.svd(at[:, :2] - at[:, :2].mean(axis=0), compute_uv=False)[-1]) if len(at) > 1 else 0.0
    if off_line < limit:
        raise Open(
            Unproven(place=need(aircraft.rotors[0].place_mm).place, message="all rotors are on one line", do=how)
        )
    return Clear(f"{len(at)} rotors, apart from each other and not on one line")
