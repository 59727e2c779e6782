"""Can the nose be turned without tipping the aircraft?"""

import numpy as np

from preflint.api import (
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
    Tolerance,
    name,
    need,
    rotor_place,
    rule,
)
from preflint.compute.handedness import opposite, yaw_reaction_sign

from .rotation_state import WIRES

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

    Passes:

        aircraft: {name: Trial, layout: quad-x}
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
    signs = np.array([yaw_reaction_sign(need(rotor.spin).value) for rotor in rotors], dtype=np.float64)
    if aircraft.about.layout.value == "custom" or any(isinstance(rotor.place_mm, Known) for rotor in rotors):
        for rotor in rotors:
            need(rotor.place_mm)
    places = np.array([rotor_place(aircraft, rotor) for rotor in rotors])
    arm = float(np.mean(np.hypot(places[:, 0], places[:, 1]))) or 1.0
    others = np.column_stack([np.ones(len(rotors)), -places[:, 1] / arm, places[:, 0] / arm])
    made_up, *_ = np.linalg.lstsq(others, signs, rcond=None)
    left = 100 * float(np.linalg.norm(signs - others @ made_up) / np.linalg.norm(signs))
    limit = on.limit(YAW_APART)
    evidence = f"{left:.0f} % of the yaw torque is left when thrust, roll and pitch are held (limit {limit:g} %)"
    if left > limit:
        return Clear(evidence)
    one_way = [rotor for rotor in rotors if need(rotor.spin).value == need(rotors[0].spin).value]
    spin = need(rotors[0].spin).value
    return Finding(
        need(rotors[0].spin).place,
        "yaw cannot be steered apart from thrust, roll and pitch: a correction of the nose tips the aircraft",
        f"{', '.join(name(rotor) for rotor in one_way)} turn {spin} seen from above, the others {opposite(spin)}; "
        + evidence,
        "look from above at every motor, props removed, and compare with the spins that the layout is meant to have; "
        "where a motor turns the wrong way swap any two of its three wires and change prop and nut with it",
        tuple(Related(need(r.spin).place, f"{name(r)} turns {need(r.spin).value}") for r in rotors[1:]),
    )


RULES = (yaw_apart,)
