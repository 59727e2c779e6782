"""Do the drags of the rotors cancel while the aircraft hovers?"""

from collections.abc import Sequence
from math import ceil

from preflint.api import (
    HOVER_LOG,
    NO_GO,
    Aircraft,
    Clear,
    Context,
    Finding,
    Job,
    Outcome,
    Related,
    Tolerance,
    Unproven,
    name,
    need,
    rule,
)
from preflint.compute.handedness import opposite

from ..shared.places import rotor_places
from .balance import Places, coupling, left_over_percent, offset_percent, yaw_signs
from .state import WIRES, names

YAW_BALANCE = Tolerance(
    "yaw_balance_share",
    "%",
    20.0,
    "lower",
    "common practice, no source",
    "yaw torque left over at hover, as a share of the sum of all rotors' torques",
)
_SEE = "see in a hover log, with everything else settled, that yaw holds without a steady correction"
EQUAL_SHARE_OFFSET = Tolerance(
    "equal_share_offset",
    "%",
    5.0,
    "lower",
    "derived: on a ring, an offset d of the mean place changes a trim thrust by at most 2 d / arm",
    "how far off the centre the mean place of the rotors may lie for thrusts to count as equal, per arm",
)


@rule(
    "rotation/yaw-balance",
    each="aircraft",
    severity=NO_GO,
    job=Job.PROPS_OFF,
    precaution=WIRES,
    source="torque balance in yaw (PPNNPN flies: Du, Quan, Yang, Cai, J. Guid. Control Dyn. 38(5), 2015)",
    tolerances=(YAW_BALANCE, EQUAL_SHARE_OFFSET),
)
def yaw_balance(aircraft: Aircraft, on: Context) -> Outcome:
    """The rotors' drags cancel at hover.

    The air holds each rotor back and so turns the aircraft the other way. With thrust shared equally
    the torque left over is N = sum of -s Q, s = +1 for a rotor that turns cw seen from above. It must
    stay within a share of the sum of all Q, or holding the nose still takes the yaw control that is
    there. Neighbours need not alternate: a hexa with cw and ccw in the order P P N N P N balances.

    Fails:

        aircraft: {name: Trial, layout: quad-x}
        rotors:
          - {at: front-left, spin: cw}
          - {at: front-right, spin: cw}
          - {at: rear-left, spin: ccw}
          - {at: rear-right, spin: cw}

    Passes: the same with

        rotors:
          - {at: front-left, spin: cw}
          - {at: front-right, spin: ccw}
          - {at: rear-left, spin: ccw}
          - {at: rear-right, spin: cw}

    Not checked: aircraft whose rotors do not share the load equally (mean place of the rotors off the
    centre), tilted rotors, and whether yaw can be steered apart
    from roll and pitch (rotation/yaw-apart).
    """
    rotors, limit = aircraft.rotors, on.limit(YAW_BALANCE)
    signs, layout = yaw_signs(aircraft), aircraft.about.layout
    places = rotor_places(aircraft)
    if (offset := offset_percent(places)) > on.limit(EQUAL_SHARE_OFFSET):
        message = f"the load is shared unequally: the rotors' mean place is {offset:.0f} % of an arm off the centre"
        return Unproven(cause="uncertain", place=layout.place, message=message, do=_SEE, mind=HOVER_LOG)
    count, cw = len(rotors), signs.count(-1)
    least, most = left_over_percent(rotors, signs)
    left_over = f"{most:.0f} %" if least == most else f"between {least:.0f} and {most:.0f} %"
    evidence = (
        f"{cw} cw and {count - cw} ccw seen from above, equal thrust: {left_over} of all torque is left over "
        f"(limit {limit:g} %)"
    )
    if most <= limit:
        return Clear(evidence)
    if least <= limit:
        message = "with props of different sizes it cannot be told whether yaw balances"
        return Unproven(
            cause="uncertain", place=layout.place, message=message, do=_SEE, evidence=evidence, mind=HOVER_LOG
        )
    if count % 2 and 100 / count > limit:
        message = f"{count} rotors cannot balance yaw by spin alone: something else, such as a tilted rotor, must"
        return Unproven(
            cause="uncertain", place=layout.place, message=message, do=_SEE, evidence=evidence, mind=HOVER_LOG
        )
    return _unbalanced(aircraft, places, signs, limit, evidence)


def _unbalanced(aircraft: Aircraft, places: Places, signs: Sequence[int], limit: float, evidence: str) -> Finding:
    rotors, total = aircraft.rotors, sum(signs)
    excess = 1 if total > 0 else -1
    too_many = [rotor for rotor, sign in zip(rotors, signs, strict=True) if sign == excess]
    spin = need(too_many[0].spin).value
    reverse = ceil((abs(total) - limit * len(rotors) / 100) / 2)
    # Reversing any of them brings balance nearer. The likely culprit is the one after which yaw also comes
    # apart from roll and pitch: then the mean places of the cw and of the ccw rotors coincide.
    mixed = {name(rotor): round(coupling(aircraft, places, signs, rotor), 6) for rotor in too_many}
    least = min(mixed.values())
    culprits = [rotor for rotor in too_many if mixed[name(rotor)] == least]
    first = culprits[0]
    if reverse > 1 or least > 0.01 or len(culprits) == len(too_many):
        which = f"reverse {reverse} of the motors at {names(too_many)} to {opposite(spin)}"
    else:
        one = " or ".join(name(rotor) for rotor in culprits)
        which = f"reverse the motor at {one} to {opposite(spin)}: roll and pitch then leave yaw alone"
    way = "left" if spin == "cw" else "right"
    return Finding(
        place=need(first.spin).place,
        message=f"yaw does not balance: {len(too_many)} of {len(rotors)} rotors turn {spin}, so the aircraft "
        f"turns {way}",
        evidence=evidence,
        do=f"{which}; swap any two of a motor's three wires and change prop and nut with it; then repeat the spin test",
        related=tuple(
            Related(need(rotor.spin).place, f"{name(rotor)} turns {spin} too")
            for rotor in too_many
            if rotor is not first
        ),
    )
