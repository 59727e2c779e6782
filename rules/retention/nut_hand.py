"""Is each nut of the right hand? What else holds it is in the modules beside."""

from dataclasses import replace

from preflint.api import (
    NO_GO,
    PACK_UNPLUGGED,
    Aircraft,
    Clear,
    Context,
    Finding,
    Job,
    NotApplicable,
    Outcome,
    Place,
    Related,
    name,
    need,
    records,
    rule,
    what_happened,
)
from preflint.api import rotor as rotors

from .evidence import evidence_of
from .held import thing_of
from .nut import NutHand, fitting, hand_test, no_evidence, no_nut, nut_hand_of
from .wrong_hand import SMALL_PROP, no_mere_caution, one_handed

CLAUSE = "Michigan R 408.10115(1) and (5)(a): threads of machine spindles that tighten as they revolve"


@rule(
    "retention/nut-hand",
    each="rotor",
    severity=NO_GO,
    job=Job.MECHANICAL,
    precaution=PACK_UNPLUGGED,
    source=CLAUSE,
    needed_for_flight=True,
    shown_by=records.NutTest,
    tolerances=(SMALL_PROP,),
)
def nut_hand(rotor: rotors.Rotor, on: Context) -> Outcome:
    """The nut tightens against the spin of its shaft.

    Drag on the prop, and the nut's own inertia when the motor speeds up, hold the nut back, so that it
    turns on the shaft against the spin. Looking at the nut it must therefore tighten opposite to the
    shaft's spin: on a shaft that spins cw a nut that tightens ccw (left-hand thread), on one that spins ccw
    a nut that tightens cw (right-hand thread). A nut of the wrong hand unscrews in flight, and the prop
    leaves.

    spin is seen from above the aircraft. Where the nut points down (nut_points, down for -lower rotors unless
    written) somebody who looks at the nut sees the other turning; the evidence says which was taken.
    A threaded hub is its own nut. A collet is judged where anything about its nut's hand is recorded.

    Evidence, strongest first: a nut_test that failed and none passed since, the latest nut_test that nothing done
    since has made stale, nut_tightens, thread_hand, a thread_size with an explicit LH, bag_says with bag_means.
    What stands under fixing has no date: once the logbook has work on motor, prop, adapter or nut here, or a mishap,
    a nut_test after it is needed. A size alone says nothing about
    the hand, nor does a bag whose meaning nobody knows.

    Fails:

        rotors:
          - {at: front-left, spin: cw, fixing: {kind: nut, nut_tightens: cw}}

    Passes:

        rotors:
          - {at: front-left, spin: cw, fixing: {kind: nut, nut_tightens: ccw}}

    Not checked: whether the nut is tight, and whether spin is what the motor really does (rotation does
    that). Bicycle pedals, which look like the same case, go the other way for another reason.
    """
    need(rotor.fixing.kind)
    absent = no_nut(rotor, on)
    if absent:
        return absent
    spin = need(rotor.spin)
    at, hand = name(rotor), on.once(nut_hand_of, rotor, on)
    if hand is None:
        return no_evidence(rotor, spin.value, on)
    tested = hand.pieces[0].tested
    if hand.is_right:
        if tested is None and on.work_on("nut_test", at):
            return no_evidence(rotor, spin.value, on)
        return Clear(hand.reasoning)
    why = no_mere_caution(rotor, on)
    if why is None:
        return NotApplicable("said as a caution by retention/nut-hand-locknut")
    if any(wrong is rotor for wrong, _ in on.once(one_handed, on)):
        return NotApplicable("said once by retention/one-handed-kit")
    fit, test = fitting(hand), hand_test(hand.spin.value, hand.points.value, hand.thing)
    found = Finding(
        place=hand.pieces[0].place,
        message=f"the {hand.thing} tightens {hand.tightens}, but must tighten {hand.must} here: the drag of the prop "
        "unscrews it",
        evidence=f"{hand.reasoning}; {why}",
        do=f"fit {fit}; then {test}",
        record="nut_test",
        related=hand.shaft,
    )
    old = on.outdated("nut_test", tested, at) if tested else None
    if old is None:
        return found
    event = Related(old.event.place, what_happened(old.event))
    return replace(found, do=f"{test}; if it runs off: fit {fit}", related=(*found.related, event))


@rule(
    "retention/one-handed-kit",
    each="aircraft",
    severity=NO_GO,
    job=Job.MECHANICAL,
    precaution=PACK_UNPLUGGED,
    source=CLAUSE,
    tolerances=(SMALL_PROP,),
)
def one_handed_kit(aircraft: Aircraft, on: Context) -> Outcome:
    """The adapters are not all of one hand while the shafts need both.

    Adapters are sold in bags of one hand. Fitted all round, they hold on the shafts of one spin and unscrew
    on the others (retention/nut-hand has the reasoning). Said once for the aircraft where every nut whose
    hand is known tightens one way, the shafts need both ways, and two or more are wrong. One wrong nut is
    said at its rotor.

    Fails:

        every_rotor: {fixing: {kind: nut, nut_tightens: cw}}
        rotors:
          - {at: front-left, spin: cw}
          - {at: front-right, spin: ccw}
          - {at: rear-left, spin: ccw}
          - {at: rear-right, spin: cw}

    Passes:

        every_rotor: {fixing: {kind: nut}}
        rotors:
          - {at: front-left, spin: cw, fixing: {nut_tightens: ccw}}
          - {at: front-right, spin: ccw, fixing: {nut_tightens: cw}}
          - {at: rear-left, spin: ccw, fixing: {nut_tightens: cw}}
          - {at: rear-right, spin: cw, fixing: {nut_tightens: ccw}}

    Not checked: nuts whose hand nobody recorded.
    """
    wrong = on.once(one_handed, on)
    if wrong:
        first = wrong[0][1]
        shown = first.pieces[0].place
        *most, last = (name(rotor) for rotor, _ in wrong)
        must = f"{', '.join(most)} and {last}"
        kit = "hubs" if first.thing == "hub" else "motor shafts" if first.own_thread else "adapters"
        return Finding(
            place=shown,
            message=f"all {kit} are of one hand: every {first.thing} tightens {first.tightens}, but the shafts "
            f"at {must} need {first.thing}s that tighten {first.must}: the drag of their props unscrews them",
            evidence="; ".join(
                f"{name(rotor)}: {hand.reasoning}; {no_mere_caution(rotor, on)}" for rotor, hand in wrong
            ),
            do=f"at {must} fit {fitting(first)}; leave the others as they are; then test each by hand",
            record="nut_test",
            related=tuple(related for rotor, hand in wrong for related in _wrong_at(name(rotor), hand, shown)),
        )
    known = sum(on.once(nut_hand_of, rotor, on) is not None for rotor in aircraft.rotors)
    if known < 2:
        return NotApplicable("no two nuts of known hand: retention/nut-hand judges each rotor")
    return Clear(f"{known} nuts of known hand: not a set of one hand on shafts that need both")


def _wrong_at(at: str, hand: NutHand, shown: Place) -> tuple[Related, ...]:
    spin = Related(hand.spin.place, f"{at} spins {hand.spin.value} seen from above")
    if hand.pieces[0].place == shown:
        return (spin,)
    return Related(hand.pieces[0].place, f"{at}: {hand.pieces[0].told_by}"), spin


@rule(
    "retention/nut-evidence-agrees",
    each="rotor",
    severity=NO_GO,
    job=Job.MECHANICAL,
    precaution=PACK_UNPLUGGED,
    source="derived: a nut tightens one way only",
)
def nut_evidence_agrees(rotor: rotors.Rotor, on: Context) -> Outcome:
    """Everything that tells the hand of a nut tells the same.

    A nut tightens one way only. Where a fresh nut test, nut_tightens, the thread and the bag disagree, one
    of them is about another nut, or was seen from the wrong side: then none may be believed until the nut
    was tried again. Two nut tests in a row that agree settle an older one that did not.

    Fails:

        rotors:
          - {at: front-left, spin: cw, fixing: {kind: nut, nut_tightens: ccw, thread_hand: right}}

    Passes:

        rotors:
          - {at: front-left, spin: cw, fixing: {kind: nut, nut_tightens: ccw, thread_hand: left}}

    Not checked: a nut test that later work made stale, and a bag whose meaning nobody recorded.
    """
    absent = no_nut(rotor, on)
    if absent:
        return absent
    pieces, thing = on.once(evidence_of, rotor, on), thing_of(rotor)
    if len(pieces) < 2:
        return NotApplicable("fewer than two things tell the hand of the nut")
    strongest, others = pieces[0], [piece for piece in pieces if piece.tightens != pieces[0].tightens]
    if not others:
        told_by = "; ".join(piece.told_by for piece in pieces)
        return Clear(f"{told_by}: all say that it tightens {strongest.tightens} looking at it")
    return Finding(
        place=others[0].place,
        message=f"the evidence disagrees: the {thing} tightens {others[0].tightens} by this, {strongest.tightens} by a "
        "stronger piece",
        evidence=f"looking at the {thing}: "
        + "; ".join(f"{piece.told_by}: tightens {piece.tightens}" for piece in (strongest, *others)),
        do=f"hold the {thing} still with two fingers, turn the motor cw looking at "
        f"the {thing}, and write a nut_test with what it did; correct what was wrong; write work done in "
        "between into the logbook, with times of day where it was one day",
        record="nut_test",
        related=tuple(
            Related(piece.place, f"{piece.told_by}: tightens {piece.tightens}") for piece in (strongest, *others[1:])
        ),
    )
