"""What undoes a nut of the right hand: braking, and a nut that bottoms before the prop is held."""

from preflint.api import (
    CAUTION,
    NO_GO,
    PACK_UNPLUGGED,
    Clear,
    Context,
    Finding,
    Job,
    Known,
    Outcome,
    Related,
    need,
    rule,
)
from preflint.api import rotor as rotors

from .held import PRACTICE, held_by


@rule(
    "retention/braking-plain-nut",
    each="rotor",
    severity=CAUTION,
    job=Job.MECHANICAL,
    precaution=PACK_UNPLUGGED,
    source=PRACTICE,
)
def braking_plain_nut(rotor: rotors.Rotor, on: Context) -> Outcome:
    """No plain nut on a motor that is braked.

    A nut of the right hand is tightened by the drag of the prop. A speed controller that brakes when the
    throttle closes slows the shaft faster than the prop would slow by itself: the prop's inertia then turns
    the nut the other way, off. Coasting hardly does. A locknut resists; a plain nut has only its friction.

    Fails:

        rotors:
          - {at: front-left, esc: {active_braking: true}, fixing: {kind: nut, nut_kind: plain}}

    Passes:

        rotors:
          - {at: front-left, esc: {active_braking: true}, fixing: {kind: nut, nut_kind: locknut-new}}

    Not checked: how hard the controller brakes.
    """
    other = held_by(rotor, "nut")
    if other:
        return other
    nut, braking = rotor.fixing.nut_kind, rotor.esc.active_braking
    if isinstance(braking, Known) and not braking.value:
        return Clear("the speed controller does not brake")
    if isinstance(nut, Known) and nut.value != "plain":
        return Clear(f"nut_kind {nut.value}: a locknut resists the torque of braking")
    nut, braking = need(nut), need(braking)
    return Finding(
        place=nut.place,
        message="a plain nut holds the prop of a braked motor: braking turns the nut off",
        evidence="the prop's inertia turns the nut the other way; active_braking true, nut_kind plain",
        do="fit a new locknut, or turn active braking off in the speed controller's settings",
        related=(Related(braking.place, "the speed controller brakes when the throttle closes"),),
    )


@rule(
    "retention/prop-slips",
    each="rotor",
    severity=NO_GO,
    job=Job.MECHANICAL,
    precaution=PACK_UNPLUGGED,
    source=PRACTICE,
)
def prop_slips(rotor: rotors.Rotor, on: Context) -> Outcome:
    """The prop does not turn on its shaft by hand.

    A nut can be tight and the prop loose: the nut has run to the end of its thread (bottomed on the shank)
    before it pressed on the hub. Nothing but the hand shows it. Hold the motor and try to turn the prop.
    The same hand finds a collet that does not grip and a set-screw that slides. Of a prop held by screws or clips
    it is not asked, but one that turned is told: screws are loose or sheared, or a clip is worn.

    Fails:

        rotors:
          - {at: front-left, fixing: {kind: nut, prop_slips: true}}

    Passes:

        rotors:
          - {at: front-left, fixing: {kind: nut, prop_slips: false}}

    Not checked: the torque that the nut was tightened with.
    """
    other = held_by(rotor, "nut", "collet", "set-screw", "threaded-hub")
    if other and not (isinstance(rotor.fixing.kind, Known) and isinstance(rotor.fixing.prop_slips, Known)):
        return other
    slips = need(rotor.fixing.prop_slips)
    if not slips.value:
        return Clear("the prop could not be turned by hand on its shaft")
    because, remedy = {
        "nut": (
            "a tight nut on a loose prop has bottomed on the shank before it pressed on the hub",
            "put a washer or spacer under the nut so that it presses on the hub before its thread ends",
        ),
        "collet": ("the collet does not grip", "tighten the collet on a clean, dry shaft"),
        "set-screw": ("the set-screw does not hold", "tighten the set-screw on the flat of the shaft"),
        "threaded-hub": (
            "the hub does not press on its shoulder",
            "screw the hub down to its shoulder, or fit a hub whose thread goes that far",
        ),
        "screws": ("its screws are loose or sheared", "look at every screw and its thread, and fit new ones that hold"),
        "clip": ("its clips do not hold", "replace the prop, or the mount whose clips do not hold"),
    }[need(rotor.fixing.kind).value]
    return Finding(
        place=slips.place,
        message="the prop turns by hand on its shaft although it was tightened",
        evidence=f"prop_slips true: {because}",
        do=f"{remedy}; then hold the motor and try again to turn the prop by hand",
    )
