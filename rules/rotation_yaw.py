"""Do the drags of the rotors cancel while the aircraft hovers?"""

from collections import defaultdict
from collections.abc import Sequence
from math import ceil, hypot

from preflint.api import (
    NO_GO,
    PROPS_REMOVED,
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
    name,
    need,
    rotor_place,
    rule,
)
from preflint.compute.handedness import opposite, yaw_reaction_sign

from .rotation_state import Rotor, names

YAW_BALANCE = Tolerance(
    "yaw_balance_share", "%", 20.0, "lower", "common practice, no source",
    "yaw torque left over at hover, as a share of the sum of all rotors' torques",
)
EQUAL_SHARE_OFFSET = Tolerance(
    "equal_share_offset", "%", 5.0, "lower",
    "derived: on a ring, an offset d of the rotors' mean place from the centre changes a trim thrust by at most 2 d / arm",
    "how far the mean place of the rotors may lie from the centre, as a share of the mean arm, for thrusts to count as equal",
)


@rule(
    "rotation/yaw-balance", each="aircraft", severity=NO_GO, job=Job.PROPS_OFF, precaution=PROPS_REMOVED,
    source="torque balance about the yaw axis (PPNNPN flies: Du, Quan, Yang, Cai, J. Guid. Control Dyn. 38(5), 2015)",
    tolerances=(YAW_BALANCE, EQUAL_SHARE_OFFSET),
)
def yaw_balance(aircraft: Aircraft, on: Context) -> Outcome:
    """The rotors' drags cancel at hover

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

    Passes:

        aircraft: {name: Trial, layout: quad-x}
        rotors:
          - {at: front-left, spin: cw}
          - {at: front-right, spin: ccw}
          - {at: rear-left, spin: ccw}
          - {at: rear-right, spin: cw}

    Not checked: aircraft whose rotors do not share the load equally (mean place of the rotors off the
    centre), tilted rotors, and whether yaw can be steered apart from roll and pitch.
    """
    rotors, limit = aircraft.rotors, on.limit(YAW_BALANCE)
    for rotor in rotors:
        need(rotor.spin)
    if not rotors:
        return NotApplicable("there is no rotor")
    layout = aircraft.about.layout
    if layout.value == "custom" or any(isinstance(rotor.place_mm, Known) for rotor in rotors):
        for rotor in rotors:
            need(rotor.place_mm)
    offset = _offset_percent(aircraft)
    if offset > on.limit(EQUAL_SHARE_OFFSET):
        return Unproven(
            "uncertain", layout.place,
            f"the rotors do not share the load equally: their mean place is {offset:.0f} % of an arm off the centre",
            "see in a hover log, with everything else settled, that yaw holds without a steady correction",
        )
    signs = [yaw_reaction_sign(need(rotor.spin).value) for rotor in rotors]
    count, left_over = len(rotors), abs(sum(signs))
    share = 100 * left_over / count
    cw = signs.count(-1)
    evidence = f"{cw} cw and {count - cw} ccw seen from above, equal thrust: {share:.0f} % of all torque is left over (limit {limit:g} %)"
    sizes = _torque_by_size(rotors, signs)
    if len(sizes) > 1:
        if any(sizes.values()):
            return Unproven(
                "uncertain", layout.place, "props of different sizes do not share thrust and torque equally",
                "see in a hover log, with everything else settled, that yaw holds without a steady correction",
            )
        return Clear("for each size of prop as many turn cw as ccw: no torque is left over")
    if share <= limit:
        return Clear(evidence)
    if count % 2 and 100 / count > limit:
        return Unproven(
            "uncertain", layout.place, f"{count} rotors cannot balance yaw by their spins alone ({evidence})",
            "see in a hover log, with everything else settled, that whatever balances yaw (a tilted rotor) holds it",
        )
    return _unbalanced(aircraft, signs, limit, evidence)


def _offset_percent(aircraft: Aircraft) -> float:
    places = [rotor_place(aircraft, rotor) for rotor in aircraft.rotors]
    arm = sum(hypot(forward, right) for forward, right, _ in places)
    offset = hypot(sum(forward for forward, _, _ in places), sum(right for _, right, _ in places))
    return 100 * offset / arm if arm else 0.0


def _torque_by_size(rotors: tuple[Rotor, ...], signs: Sequence[int]) -> dict[tuple[float, float, int], int]:
    """Signed rotors left over for each size of prop; a prop whose size is not recorded is taken to be like the others."""
    left_over: dict[tuple[float, float, int], int] = defaultdict(int)
    for rotor, sign in zip(rotors, signs, strict=True):
        prop = rotor.prop
        if isinstance(prop.diameter_in, Known) and isinstance(prop.pitch_in, Known) and isinstance(prop.blades, Known):
            left_over[prop.diameter_in.value, prop.pitch_in.value, prop.blades.value] += sign
    return left_over


def _unbalanced(aircraft: Aircraft, signs: Sequence[int], limit: float, evidence: str) -> Finding:
    rotors, total = aircraft.rotors, sum(signs)
    excess = 1 if total > 0 else -1
    too_many = [rotor for rotor, sign in zip(rotors, signs, strict=True) if sign == excess]
    spin = need(too_many[0].spin).value
    reverse = ceil((abs(total) - limit * len(rotors) / 100) / 2)
    # Reversing any one of them balances yaw. The likely culprit is the one after which yaw also comes apart from
    # roll and pitch: then the mean places of the cw and of the ccw rotors coincide.
    culprits = sorted(too_many, key=lambda rotor: round(_coupling(aircraft, signs, rotor), 6))
    first, rest = culprits[0], [rotor for rotor in too_many if rotor is not culprits[0]]
    alone = reverse == 1 and round(_coupling(aircraft, signs, first), 6) < round(_coupling(aircraft, signs, culprits[1]), 6)
    if alone:
        which = f"reverse the motor at {name(first)} to {opposite(spin)} (after that yaw also comes apart from roll and pitch)"
    else:
        which = f"reverse {reverse} of the motors at {names(too_many)} to {opposite(spin)}"
    return Finding(
        need(first.spin).place,
        f"yaw does not balance: {len(too_many)} of {len(rotors)} rotors turn {spin}, so the aircraft turns {'left' if spin == 'cw' else 'right'} at hover",
        evidence,
        f"{which}: swap any two of the motor's three wires, and change prop and nut with it; then repeat the spin test",
        tuple(Related(need(rotor.spin).place, f"{name(rotor)} turns {spin} too") for rotor in rest),
    )


def _coupling(aircraft: Aircraft, signs: Sequence[int], reversed_one: Rotor) -> float:
    """How much roll and pitch a pure yaw command makes once that rotor is reversed, in arm lengths."""
    forward = right = arm = 0.0
    for rotor, sign in zip(aircraft.rotors, signs, strict=True):
        x, y, _ = rotor_place(aircraft, rotor)
        acting = -sign if rotor is reversed_one else sign
        forward, right, arm = forward + acting * x, right + acting * y, arm + hypot(x, y)
    return hypot(forward, right) / arm if arm else 0.0


RULES = (yaw_balance,)
