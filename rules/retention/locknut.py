"""What a locknut holds, and what it does not."""

from preflint.api import (
    ADVISORY,
    CAUTION,
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

from .held import PRACTICE, held_by
from .nut import fitting, no_nut, nut_hand_of
from .wrong_hand import SMALL_PROP, no_mere_caution


@rule(
    "retention/nut-hand-locknut",
    each="rotor",
    severity=CAUTION,
    job=Job.MECHANICAL,
    precaution=PACK_UNPLUGGED,
    source=PRACTICE,
    tolerances=(SMALL_PROP,),
)
def nut_hand_locknut(rotor: rotors.Rotor, on: Context) -> Outcome:
    """No small prop relies on a locknut alone.

    A nut of the wrong hand (see retention/nut-hand) is turned off by the drag of the prop. On a small prop
    the insert of a new locknut, with thread showing past it, holds against that little torque: right-hand
    thread on all shafts is the usual fit of small and middle-sized quads. Nothing else holds it: a used insert,
    a nut not fully on or a prop over ``locknut_small_prop_in`` makes it a no-go, which retention/nut-hand says.
    What is not recorded never softens: nut_kind, thread_past_locknut and diameter_in must all be there.

    Fails:

        rotors:
          - at: front-left
            spin: cw
            prop: {diameter_in: 5}
            fixing: {kind: nut, nut_tightens: cw, nut_kind: locknut-new, thread_past_locknut: true}

    Passes:

        rotors:
          - at: front-left
            spin: cw
            prop: {diameter_in: 5}
            fixing: {kind: nut, nut_tightens: ccw, nut_kind: locknut-new, thread_past_locknut: true}

    Not checked: how firmly the insert still grips.
    """
    absent = no_nut(rotor, on)
    if absent:
        return absent
    hand = on.once(nut_hand_of, rotor, on)
    if hand is None:
        return NotApplicable("the hand of the nut is unproven: retention/nut-hand asks for it")
    if hand.is_right:
        return Clear(f"{hand.reasoning}: it does not rely on the locknut")
    if no_mere_caution(rotor, on):
        return NotApplicable("said as a no-go by retention/nut-hand or retention/one-handed-kit")
    diameter = need(rotor.prop.diameter_in)
    return Finding(
        place=hand.pieces[0].place,
        message=f"the nut tightens {hand.tightens}, but must tighten {hand.must} here: "
        "only a locknut's insert holds it",
        evidence=f"{hand.reasoning}; new locknut with thread past it on a prop of {diameter.value:g} in (up to "
        f"{on.limit(SMALL_PROP):g} in this is a caution)",
        do=f"fit {fitting(hand)}, or look at the nut before every flight and fit a new "
        "locknut each time it has been off",
        related=hand.shaft,
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
