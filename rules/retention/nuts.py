"""What undoes a nut of the right hand: braking, a nut that bottoms, a locknut that does not lock."""

from preflint.api import (
    ADVISORY,
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
    Related,
    need,
    rule,
)
from preflint.api import rotor as rotors

PRACTICE = "common practice, no source"
_ASKED = "how the prop is held is not recorded: retention/nut-hand asks for it"


def held_by(rotor: rotors.Rotor, *kinds: str) -> NotApplicable | None:
    """Why a question about props held by one of ``kinds`` does not arise here; None where it does."""
    kind = rotor.fixing.kind
    if not isinstance(kind, Known):
        return NotApplicable(_ASKED)
    return None if kind.value in kinds else NotApplicable(f"the prop is held by {kind.value}")


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
    the nut the other way, off. Coasting does not. A locknut resists; a plain nut has only its friction.

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
        message="a plain nut holds the prop of a motor that is braked: braking turns the nut the other way, off",
        evidence="active_braking true, nut_kind plain",
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
    The same hand finds a collet that does not grip and a set-screw that slides.

    Fails:

        rotors:
          - {at: front-left, fixing: {kind: nut, prop_slips: true}}

    Passes:

        rotors:
          - {at: front-left, fixing: {kind: nut, prop_slips: false}}

    Not checked: the torque that the nut was tightened with.
    """
    other = held_by(rotor, "nut", "collet", "set-screw", "threaded-hub")
    if other:
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
    }[need(rotor.fixing.kind).value]
    return Finding(
        place=slips.place,
        message="the prop turns by hand on its shaft although it was tightened",
        evidence=f"prop_slips true: {because}",
        do=f"{remedy}; then hold the motor and try again to turn the prop by hand",
    )


@rule(
    "retention/locknut-engaged",
    each="rotor",
    severity=CAUTION,
    job=Job.MECHANICAL,
    precaution=PACK_UNPLUGGED,
    source=PRACTICE,
)
def locknut_engaged(rotor: rotors.Rotor, on: Context) -> Outcome:
    """Thread shows past the locknut.

    The insert that locks sits at the outer end of the nut. Where no thread comes out of it, the insert
    holds nothing and the nut is a plain one with fewer threads. (On a nut of the wrong hand this is part of
    the no-go that retention/nut-hand says.)

    Fails:

        rotors:
          - {at: front-left, fixing: {kind: nut, nut_kind: locknut-new, thread_past_locknut: false}}

    Passes:

        rotors:
          - {at: front-left, fixing: {kind: nut, nut_kind: locknut-new, thread_past_locknut: true}}

    Not checked: nuts without an insert.
    """
    other = held_by(rotor, "nut")
    if other:
        return other
    nut = need(rotor.fixing.nut_kind)
    if nut.value == "plain":
        return NotApplicable("a plain nut has no insert")
    past = need(rotor.fixing.thread_past_locknut)
    if past.value:
        return Clear("thread shows past the locknut")
    return Finding(
        place=past.place,
        message="no thread shows past the locknut, so its insert holds nothing",
        evidence=f"nut_kind {nut.value}, thread_past_locknut false",
        do="take out a washer or fit a longer adapter, so that at least one turn of thread comes out of a new locknut",
        related=(Related(nut.place, f"nut_kind {nut.value}"),),
    )


@rule(
    "retention/locknut-reused",
    each="rotor",
    severity=ADVISORY,
    job=Job.MECHANICAL,
    precaution=PACK_UNPLUGGED,
    source=PRACTICE,
)
def locknut_reused(rotor: rotors.Rotor, on: Context) -> Outcome:
    """The locknut is new.

    An insert is cut by the thread the first time and grips less each time after. A reused locknut on a nut
    of the right hand is better known than not; on one of the wrong hand it is a no-go, which
    retention/nut-hand says.

    Fails:

        rotors:
          - {at: front-left, fixing: {kind: nut, nut_kind: locknut-reused}}

    Passes:

        rotors:
          - {at: front-left, fixing: {kind: nut, nut_kind: locknut-new}}

    Not checked: how firmly the insert still grips.
    """
    other = held_by(rotor, "nut")
    if other:
        return other
    nut = rotor.fixing.nut_kind
    if not isinstance(nut, Known):
        return NotApplicable("nut_kind is not recorded: retention/locknut-engaged asks for it")
    if nut.value != "locknut-reused":
        return Clear(f"nut_kind {nut.value}")
    return Finding(
        place=nut.place,
        message="the locknut has been used before: its insert grips less each time",
        evidence="nut_kind locknut-reused",
        do="fit a new locknut of the same thread and hand",
    )
