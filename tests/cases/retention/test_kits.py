"""A locknut that alone holds a small prop, and adapters that are all of one hand."""

import pytest
from making.manifests import opening
from making.nuts import NUT, SPINS_CW, WRONG_MESSAGE, answer, found_in, rotor

from preflint.api import Clear, Finding, NotApplicable, Unproven
from preflint.testing import inspect_text, marked, outcome

HEAD = opening()
LOCKNUT, KIT = "retention/nut-hand-locknut", "retention/one-handed-kit"
SMALL = "spin: cw, prop: {diameter_in: 5}"
ENGAGED = "kind: nut, nut_tightens: cw, nut_kind: locknut-new, thread_past_locknut: true"


def test_a_small_prop_on_a_new_locknut_of_the_wrong_hand():
    text = rotor(ENGAGED, SMALL)
    found = answer(text, LOCKNUT)
    assert found.message == (
        "the nut tightens cw, but must tighten ccw here: only a locknut's insert holds it"
    )
    assert found.evidence == (
        f"nut_tightens cw, so the nut tightens cw looking at it; {SPINS_CW}, which loosens it; new locknut "
        "with thread past it on a prop of 5 in (up to 10 in this is a caution)"
    )
    assert found.do == (
        "fit an adapter whose nut tightens ccw looking at it (left-hand thread), or look at the nut "
        "before every flight and fit a new locknut each time it has been off"
    )
    assert marked(text, found.place) == "cw"
    assert answer(text) == NotApplicable("said as a caution by retention/nut-hand-locknut")


@pytest.mark.parametrize(("fixing", "rest", "why"), [
    (ENGAGED.replace("locknut-new", "plain"), SMALL, "it is a plain nut"),
    (ENGAGED.replace("locknut-new", "locknut-reused"), SMALL, "the locknut has been used before"),
    (ENGAGED.replace("past_locknut: true", "past_locknut: false"), SMALL, "no thread shows past the locknut"),
    (ENGAGED, SMALL.replace("5", "10.1"), "a prop of 10.1 in is over the 10 in that a locknut alone may hold"),
    (ENGAGED.replace(", nut_kind: locknut-new", ""), SMALL, "what kind of nut it is is not recorded"),
    (ENGAGED.replace(", thread_past_locknut: true", ""), SMALL,
     "whether thread shows past the locknut is not recorded"),
    (ENGAGED, "spin: cw", "the diameter of the prop is not recorded"),
])
def test_nothing_else_softens_a_wrong_hand(fixing, rest, why):
    text = rotor(fixing, rest)
    found = answer(text)
    assert found.message == WRONG_MESSAGE
    assert found.evidence.endswith(f"which loosens it; {why}")
    assert answer(text, LOCKNUT) == NotApplicable("said as a no-go by retention/nut-hand or retention/one-handed-kit")


def test_the_largest_small_prop():
    assert isinstance(answer(rotor(ENGAGED, "spin: cw, prop: {diameter_in: 10}"), LOCKNUT), Finding)


def test_a_motor_s_own_thread_takes_another_motor():
    plain = "kind: nut, nut_tightens: cw, nut_kind: plain"
    own = "a motor whose shaft has a left-hand thread (its nut tightens ccw looking at it)"
    assert answer(rotor(f"{plain}, thread_on: motor")).do.startswith(f"fit {own}; then hold the ")
    assert answer(rotor(f"{ENGAGED}, thread_on: motor", SMALL), LOCKNUT).do.startswith(f"fit {own}, or look at the nut")
    adapter = answer(rotor(f"{plain}, thread_on: adapter"))
    assert (adapter.do, adapter.message) == (answer(rotor(plain)).do, answer(rotor(plain)).message)
    assert adapter.do.startswith("fit an adapter whose nut tightens ccw")
    found = outcome(inspect_text(kit("kind: nut, nut_tightens: cw, thread_on: motor")), KIT)
    assert found.message.startswith("all motor shafts are of one hand: ")
    assert found.do.startswith(f"at front-left and rear-right fit {own}")


def test_a_locknut_of_the_right_hand_is_not_relied_on():
    assert isinstance(answer(rotor(ENGAGED, SMALL.replace("cw", "ccw")), LOCKNUT), Clear)
    assert isinstance(answer(rotor(ENGAGED, "prop: {diameter_in: 5}"), LOCKNUT), NotApplicable)


def kit(shared="kind: nut, nut_tightens: cw", spins="cw ccw ccw cw", more=("", "", "", "")):
    positions = ("front-left", "front-right", "rear-left", "rear-right")
    rotors = "".join(
        f"  - {{at: {at}, spin: {spin}{extra}}}\n"
        for at, spin, extra in zip(positions, spins.split(), more, strict=True)
    )
    return HEAD + f"every_rotor: {{fixing: {{{shared}}}}}\nrotors:\n{rotors}"


def test_a_kit_of_one_hand_is_said_once():
    text = kit()
    inspected = inspect_text(text)
    found = outcome(inspected, KIT)
    assert found.message == (
        "all adapters are of one hand: every nut tightens cw, but the shafts at front-left and rear-right "
        "need nuts that tighten ccw: the drag of their props unscrews them"
    )
    why = "what kind of nut it is is not recorded"
    one = f"nut_tightens cw, so the nut tightens cw looking at it; {SPINS_CW}, which loosens it; {why}"
    assert found.evidence == f"front-left: {one}; rear-right: {one}"
    assert found.do == (
        "at front-left and rear-right fit an adapter whose nut tightens ccw looking at it (left-hand "
        "thread); leave the others as they are; then test each by hand"
    )
    assert (found.place.line, marked(text, found.place)) == (3, "cw")
    assert [(related.place.line, related.message) for related in found.related] == [
        (5, "front-left spins cw seen from above"), (8, "rear-right spins cw seen from above"),
    ]
    for at in ("front-left", "rear-right"):
        assert outcome(inspected, NUT, at) == NotApplicable("said once by retention/one-handed-kit")
    for at in ("front-right", "rear-left"):
        assert isinstance(outcome(inspected, NUT, at), Clear)
    assert found_in(text) == [(KIT, None)]


def test_each_nut_of_a_kit_written_by_itself_is_pointed_at():
    text = kit("kind: nut", more=(", fixing: {nut_tightens: cw}",) * 4)
    found = outcome(inspect_text(text), KIT)
    assert found.place.line == 5
    assert [(related.place.line, related.message) for related in found.related] == [
        (5, "front-left spins cw seen from above"),
        (8, "rear-right: nut_tightens cw"), (8, "rear-right spins cw seen from above"),
    ]


@pytest.mark.parametrize(("text", "wrong"), [
    (kit(more=("", "", "", ", fixing: {nut_tightens: ccw}")), ["front-left"]),  # of both hands
    (kit(spins="cw ccw ccw ccw"), ["front-left"]),  # one wrong
    (kit(spins="cw cw cw cw"), ["front-left", "front-right", "rear-left", "rear-right"]),  # one hand needed
])
def test_what_is_no_kit_of_one_hand_is_said_at_the_rotors(text, wrong):
    inspected = inspect_text(text)
    assert isinstance(outcome(inspected, KIT), Clear)
    assert found_in(text) == [(NUT, at) for at in wrong]


def test_a_kit_on_small_locknuts_is_a_caution_at_each_rotor():
    shared = f"{ENGAGED}}}, prop: {{diameter_in: 5"
    assert found_in(kit(shared)) == [(LOCKNUT, "front-left"), (LOCKNUT, "rear-right")]


def test_rotors_of_unknown_hand_do_not_hide_a_kit():
    inspected = inspect_text(kit("kind: nut", more=(
        ", fixing: {nut_tightens: cw}", ", fixing: {nut_tightens: cw}", "", ", fixing: {nut_tightens: cw}",
    )))
    assert isinstance(outcome(inspected, KIT), Finding)
    assert isinstance(outcome(inspected, NUT, "rear-left"), Unproven)


def test_a_kit_on_a_coaxial_aircraft_is_judged_by_each_view_of_the_nut():
    # On an arm whose motors turn against each other both shafts spin alike for somebody looking at the nut.
    arms = {"front-left": "cw ccw", "front-right": "ccw cw", "rear-left": "ccw cw", "rear-right": "cw ccw"}
    rotors = "".join(
        f"  - {{at: {arm}-{level}, spin: {spin}}}\n"
        for arm, spins in arms.items() for level, spin in zip(("upper", "lower"), spins.split(), strict=True)
    )
    text = (
        f"{opening('Trial', 'x8')}"
        f"every_rotor: {{fixing: {{kind: threaded-hub, thread_hand: right}}}}\nrotors:\n{rotors}"
    )
    found = outcome(inspect_text(text), KIT)
    assert found.message == (
        "all hubs are of one hand: every hub tightens cw, but the shafts at front-left-upper, front-left-lower, "
        "rear-right-upper and rear-right-lower need hubs that tighten ccw: the drag of their props unscrews them"
    )
    assert found.do.startswith(
        "at front-left-upper, front-left-lower, rear-right-upper and rear-right-lower fit a motor shaft "
        "and hub with a left-hand thread (the hub tightens ccw looking at it); leave the others as they are"
    )


def test_no_kit_without_two_nuts_of_known_hand():
    assert outcome(inspect_text(HEAD), KIT) == NotApplicable(
        "no two nuts of known hand: retention/nut-hand judges each rotor"
    )
