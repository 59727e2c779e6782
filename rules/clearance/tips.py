"""Do the blades keep clear of frame, legs, straps and leads?"""

import math

from preflint.api import (
    CAUTION,
    NO_GO,
    PACK_UNPLUGGED,
    Clear,
    Context,
    Finding,
    Job,
    Known,
    NotApplicable,
    Outcome,
    Tolerance,
    Unproven,
    level_of,
    name,
    need,
    nut_points,
    rotor,
    rule,
)
from preflint.compute.decision import t_factor, u_rectangular
from preflint.compute.handedness import prop_state

from .geometry import radius_mm

_RULER_WITHIN_MM = 0.5  # common practice, no source
_U_MM = t_factor(math.inf) * u_rectangular(_RULER_WITHIN_MM)

TIP_GAP = Tolerance(
    "tip_gap_percent",
    "%",
    1.0,
    "higher",
    "common practice, no source",
    "least gap of the blades to anything, of the prop's diameter: what play, shake and a bent blade take",
)
CONING = Tolerance(
    "coning_percent",
    "%",
    5.0,
    "higher",
    "common practice, no source; about 3° of coning",
    "how far blade tips bend under load, of the radius",
)


@rule(
    "clearance/tips",
    each="rotor",
    severity=NO_GO,
    job=Job.MECHANICAL,
    precaution=PACK_UNPLUGGED,
    source="common practice, no source",
    tolerances=(TIP_GAP,),
)
def tips(one: rotor.Rotor, on: Context) -> Outcome:
    """Do the blades clear everything, turned by hand?

    A strap end, a lead or a leg that a blade touches is cut, and the blade with it; under load, with shake, it reaches
    further than on the bench.

    `tip_gap_mm`, read to 0.5 mm (U = 0.6 mm), against `tip_gap_percent` of the prop's diameter. In a duct the blades
    may run as near as they do, as long as they do not touch.

    Fails:

        every_rotor: {prop: {diameter_in: 12}}
        rotors: [{at: front-left, tip_gap_mm: 1}]

    Passes: the same with

        rotors: [{at: front-left, tip_gap_mm: 18}]

    It does not check what hangs loose and is blown or shaken into the disc: tie down every lead and strap end.
    """
    gap = need(one.tip_gap_mm)
    ducted = isinstance(one.ducted, Known) and one.ducted.value
    least = 0.0 if ducted else 2 * radius_mm(one) * on.limit(TIP_GAP) / 100
    evidence = f"gap {gap.value:g} mm ± {_U_MM:.1f} mm (95 %), at least {least:.1f} mm"
    how = "tie back or move what the blades come near, or fit a smaller prop; turn it by hand again"
    if gap.value == 0 or gap.value + _U_MM < least:
        return Finding(
            place=gap.place,
            message=f"a blade comes within {gap.value:g} mm of something" if gap.value else "a blade touches something",
            evidence=evidence,
            do=how,
        )
    if ducted or gap.value - _U_MM >= least:
        return Clear(evidence)
    return Unproven(
        cause="uncertain",
        place=gap.place,
        message=f"a gap of {gap.value:g} mm is too near {least:.1f} mm to tell",
        do=how,
        evidence=evidence,
    )


@rule(
    "clearance/coning",
    each="rotor",
    severity=CAUTION,
    job=Job.MECHANICAL,
    precaution=PACK_UNPLUGGED,
    source="common practice, no source",
    tolerances=(CONING,),
)
def coning(one: rotor.Rotor, on: Context) -> Outcome:
    """Do blades that bend toward the arm clear it?

    Loaded blades bend the way they push: up in the flight rig, away from an arm below them. Below its arm a rotor bends
    toward it; in the inverted rig, turned over, every rotor above its arm bends down toward arm and legs, and clears by
    less than it did on the bench.

    `tip_gap_mm`, read to 0.5 mm (U = 0.6 mm), against `coning_percent` of the radius, where the rotor's blades bend
    toward its arm: below it (`-lower`, or `nut_points: down`) and pushing up, or above it and pushing down.

    Fails:

        every_rotor: {prop: {diameter_in: 12}}
        rotors:
          - {at: front-left, spin: cw, nut_points: down, prop: {hand: cw, face: up}, tip_gap_mm: 5}

    Passes: the same with

        rotors:
          - {at: front-left, spin: cw, nut_points: down, prop: {hand: cw, face: up}, tip_gap_mm: 14}

    It does not check how stiff these blades are: soft or long ones bend by more.
    """
    if isinstance(one.ducted, Known) and one.ducted.value:
        return NotApplicable("the blades turn in a duct")
    below = level_of(name(one)) == "lower" or nut_points(one).value == "down"
    spin, hand, face = one.spin, one.prop.hand, one.prop.face
    state = None
    if isinstance(spin, Known) and isinstance(hand, Known) and isinstance(face, Known):
        state = prop_state(spin.value, hand.value, face.value)
    pushes_down = state in ("inverted-load", "wrong-hand")
    if below == pushes_down:
        return NotApplicable("its blades bend away from the arm")
    gap = need(one.tip_gap_mm)
    bends = radius_mm(one) * on.limit(CONING) / 100
    evidence = f"gap {gap.value:g} mm ± {_U_MM:.1f} mm (95 %); tips bend toward the arm by up to {bends:.1f} mm"
    if gap.value - _U_MM >= bends:
        return Clear(evidence)
    how = "move what the blades come near, or fit stiffer or smaller props; look for marks after the first run"
    if gap.value + _U_MM < bends:
        return Finding(
            place=gap.place,
            message=f"loaded blades bend toward the arm, which is {gap.value:g} mm from them",
            evidence=evidence,
            do=how,
        )
    return Unproven(
        cause="uncertain",
        place=gap.place,
        message=f"a gap of {gap.value:g} mm is too near the {bends:.1f} mm that blades bend to tell",
        do=how,
        evidence=evidence,
    )
