"""What holds the prop besides a nut: collet, set-screw, clips."""

from preflint.api import (
    NO_GO,
    PACK_UNPLUGGED,
    Clear,
    Context,
    Finding,
    Job,
    Known,
    Outcome,
    Related,
    Tolerance,
    need,
    rule,
)
from preflint.api import rotor as rotors

from .held import PRACTICE, held_by

COLLET = Tolerance(
    "collet_mismatch_mm",
    "mm",
    0.1,
    "lower",
    PRACTICE,
    "largest difference between the shaft and the size that its collet or adapter is made for",
)


@rule(
    "retention/collet-size",
    each="rotor",
    severity=NO_GO,
    job=Job.MECHANICAL,
    needed_for_flight=True,
    shown_by=rotors.Fixing,
    precaution=PACK_UNPLUGGED,
    source=PRACTICE,
    tolerances=(COLLET,),
)
def collet_size(rotor: rotors.Rotor, on: Context) -> Outcome:
    """The collet or adapter is made for this shaft.

    A collet closes by a few tenths of a millimetre. One that is made for a thicker shaft never grips,
    however tight; one made for a thinner shaft does not seat. Shafts of 3 mm and 3.17 mm (1/8 in) are
    easily mixed up.

    Fails:

        rotors:
          - {at: front-left, motor: {shaft_mm: 3.0}, fixing: {kind: collet, grips_mm: 3.17}}

    Passes:

        rotors:
          - {at: front-left, motor: {shaft_mm: 3.17}, fixing: {kind: collet, grips_mm: 3.17}}

    Not checked: dirt or oil in the collet.
    """
    if not isinstance(rotor.fixing.grips_mm, Known):
        other = held_by(rotor, "collet", "set-screw")
        if other:
            return other
    grips, shaft = need(rotor.fixing.grips_mm), need(rotor.motor.shaft_mm)
    off = round(grips.value - shaft.value, 6)
    sizes = f"grips_mm {grips.value:g}, shaft_mm {shaft.value:g}: difference {off:+g} mm"
    if abs(off) <= on.limit(COLLET):
        return Clear(sizes)
    return Finding(
        place=grips.place,
        message=f"the shaft measures {shaft.value:g} mm, but its collet or adapter is made for {grips.value:g} mm",
        evidence=f"{sizes}, more than {on.limit(COLLET):g} mm",
        do=f"fit a collet or adapter made for a shaft of {shaft.value:g} mm",
        related=(Related(shaft.place, f"the shaft measures {shaft.value:g} mm"),),
    )


@rule(
    "retention/set-screw-flat",
    each="rotor",
    severity=NO_GO,
    job=Job.MECHANICAL,
    needed_for_flight=True,
    shown_by=rotors.Fixing,
    precaution=PACK_UNPLUGGED,
    source=PRACTICE,
)
def set_screw_flat(rotor: rotors.Rotor, on: Context) -> Outcome:
    """The set-screw sits on a flat of the shaft.

    On a round shaft a set-screw touches one point and slides, round or along, under the reversing torque of
    throttle changes. On a flat it has to shear something first.

    Fails:

        rotors:
          - {at: front-left, fixing: {kind: set-screw, shaft_flat: false}}

    Passes:

        rotors:
          - {at: front-left, fixing: {kind: set-screw, shaft_flat: true}}

    Not checked: thread locker, and how tight the screw is.
    """
    other = held_by(rotor, "set-screw")
    if other:
        return other
    flat = need(rotor.fixing.shaft_flat)
    if flat.value:
        return Clear("the set-screw sits on a flat of the shaft")
    return Finding(
        place=flat.place,
        message="the set-screw does not sit on a flat of the shaft and can slide",
        evidence="kind set-screw, shaft_flat false",
        do="grind a flat on the shaft where the screw sits (eye protection; keep grit and heat out of the "
        "motor), or fit an adapter that grips all round",
    )


@rule(
    "retention/clip-latched",
    each="rotor",
    severity=NO_GO,
    job=Job.MECHANICAL,
    needed_for_flight=True,
    shown_by=rotors.Fixing,
    precaution=PACK_UNPLUGGED,
    source=PRACTICE,
)
def clip_latched(rotor: rotors.Rotor, on: Context) -> Outcome:
    """Every clip of the prop is latched.

    A clip-on prop stays in place by its latches alone. One that only looks latched lets go at the first
    burst of thrust. Look, then pull.

    Fails:

        rotors:
          - {at: front-left, fixing: {kind: clip, latched: false}}

    Passes:

        rotors:
          - {at: front-left, fixing: {kind: clip, latched: true}}

    Not checked: worn latches.
    """
    other = held_by(rotor, "clip")
    if other:
        return other
    latched = need(rotor.fixing.latched)
    if latched.value:
        return Clear("every clip is latched")
    return Finding(
        place=latched.place,
        message="a clip of the prop is not latched: nothing else holds the prop",
        evidence="kind clip, latched false",
        do="press the prop home until every clip latches, pull at it, and replace a prop or mount whose "
        "clips do not hold",
    )
