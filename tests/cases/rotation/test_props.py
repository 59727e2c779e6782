"""rotation/prop-state and rotation/inverted-rig: full text, place, remedy, and what is missing."""

import pytest
from making.manifests import PROPPED, answer, expect, manifest

from preflint.api import PACK_UNPLUGGED, RIG_CHANGE, Clear, NotApplicable, Unproven
from preflint.testing import inspect_text, marked, outcome

QUAD = manifest(PROPPED)
FRONT_RIGHT = "{at: front-right, spin: ccw, prop: {hand: ccw, face: up}}"


def with_front_right(spin: str, hand: str, face: str, more: str = "") -> str:
    return QUAD.replace(FRONT_RIGHT, f"{{at: front-right, spin: {spin}, prop: {{hand: {hand}, face: {face}}}}}") + more


def judged(text: str, at: str = "front-right"):
    return answer(text, "rotation/prop-state", at)


def test_all_four_fly():
    for at in ("front-left", "front-right", "rear-left", "rear-right"):
        assert isinstance(judged(QUAD, at), Clear)
    assert judged(QUAD) == Clear(
        "seen from above the motor turns ccw; ccw prop, domed side up: pushes up, leading edge first"
    )


def test_turned_over_on_its_own_motor():
    text = with_front_right("ccw", "ccw", "down")
    found = judged(text)
    assert found.message == (
        "the ccw prop at front-right is turned over: it lifts weakly"
    )
    assert found.evidence == (
        "seen from above the motor turns ccw; ccw prop, domed side down: pushes up weakly, trailing edge first"
    )
    assert found.do == "turn the prop over, domed side up"
    assert (found.place.line, marked(text, found.place)) == (5, "down")
    assert [(marked(text, r.place), r.message) for r in found.related] == [
        ("ccw", "the motor turns ccw, seen from above")
    ]


def test_wrong_hand_upright():
    text = with_front_right("ccw", "cw", "up")
    found = judged(text)
    assert found.message == (
        "the cw prop at front-right is the wrong hand for its ccw motor: it pushes down"
    )
    assert found.evidence == (
        "seen from above the motor turns ccw; cw prop, domed side up: pushes down, trailing edge first"
    )
    assert found.do == "fit a ccw prop, domed side up"
    assert (found.place.line, marked(text, found.place)) == (5, "cw")


def test_one_prop_left_in_the_inverted_rig():
    text = with_front_right("ccw", "cw", "down")
    found = judged(text)
    assert found.message == (
        "the cw prop at front-right is in the inverted rig: it pushes down with nearly full thrust"
    )
    assert found.evidence == (
        "seen from above the motor turns ccw; cw prop, domed side down: pushes down, leading edge first"
    )
    assert found.do == "fit a ccw prop, domed side up"
    assert (found.place.line, marked(text, found.place)) == (5, "cw")
    assert [(marked(text, r.place), r.message) for r in found.related] == [
        ("ccw", "the motor turns ccw, seen from above"),
        ("down", "the domed side points down"),
    ]


def test_two_props_changed_about_are_told_of_each_other():
    text = with_front_right("ccw", "cw", "up").replace(
        "spin: cw,  prop: {hand: cw,  face: up}}", "spin: cw, prop: {hand: ccw, face: up}}", 1
    )
    assert (
        judged(text).do == "fit a ccw prop, domed side up; a ccw prop sits on a cw motor at front-left"
    )
    assert judged(text, "front-left").do == (
        "fit a cw prop, domed side up; a cw prop sits on a ccw motor at front-right"
    )


@pytest.mark.parametrize(
    ("face", "rest"), [("up", "leave this prop as it is"), ("down", "turn this prop over, domed side up")]
)
def test_where_the_flight_controller_sides_with_the_prop_the_motor_is_reversed(face, rest):
    text = with_front_right("ccw", "cw", face, "flight_controller: {expects_spin: {front-right: cw}}\n")
    assert judged(text).do == (
        "reverse the motor to cw, as the flight controller expects (swap any two of "
        f"its three wires), and {rest}"
    )


@pytest.mark.parametrize(("missing", "what"), [
    ("spin: ccw, ", "front-right.spin"),
    ("hand: ccw, ", "front-right.prop.hand"),
    (", face: up", "front-right.prop.face"),
])
def test_without_spin_hand_or_face_nothing_is_told(missing, what):
    text = QUAD.replace(FRONT_RIGHT, FRONT_RIGHT.replace(missing, "", 1))
    told = expect(Unproven, judged(text))
    assert (told.cause, told.message) == ("absent", f"{what} is not recorded")
    assert told.do
    assert isinstance(answer(text, "rotation/inverted-rig"), Clear)  # the others tell


INVERTED = manifest("""\
rotors:
  - {at: front-left,  spin: cw,  prop: {hand: ccw, face: down}}
  - {at: front-right, spin: ccw, prop: {hand: cw,  face: down}}
  - {at: rear-left,   spin: ccw, prop: {hand: cw,  face: down}}
  - {at: rear-right,  spin: cw,  prop: {hand: ccw, face: down}}
""")


def test_all_in_the_inverted_rig_is_said_once():
    inspected = inspect_text(INVERTED)
    found = outcome(inspected, "rotation/inverted-rig")
    assert (
        found.message == "all props are still in the inverted rig: they push down with nearly full thrust"
    )
    assert found.evidence == (
        "each of the 4 props is on a motor of the other hand, domed side down: pushes down, leading edge first"
    )
    assert found.do == (
        "move every prop back to a motor of its own hand and turn it domed side up: each moves one place; "
        "the cw props on front-left and rear-right, the ccw props on front-right and rear-left"
    )
    assert (found.place.line, marked(INVERTED, found.place)) == (4, "down")
    assert [(r.place.line, r.message) for r in found.related] == [
        (5, "front-right alike"),
        (6, "rear-left alike"),
        (7, "rear-right alike"),
    ]
    for at in ("front-left", "front-right", "rear-left", "rear-right"):
        assert outcome(inspected, "rotation/prop-state", at) == NotApplicable("said once by rotation/inverted-rig")
    assert inspected.verdict == "no-go"


def test_coaxial_props_change_places_on_their_arm():
    rotors = {
        f"{arm}-{level}": f"spin: {spin}, prop: {{hand: {hand}}}"
        for arm in ("front-left", "front-right", "rear")
        for level, spin, hand in (("upper", "cw", "ccw"), ("lower", "ccw", "cw"))
    }
    text = manifest("every_rotor: {prop: {face: down}}\n", rotors=rotors, layout="y6")
    found = answer(text, "rotation/inverted-rig")
    assert found.do == (
        "move every prop back to a motor of its own hand and turn it domed side up: upper and lower of each arm change "
        "places; the cw props on front-left-upper, front-right-upper and rear-upper, the ccw props on "
        "front-left-lower, front-right-lower and rear-lower"
    )
    assert (found.place.line, marked(text, found.place)) == (3, "down")  # where all rotors share it
    assert found.related == ()


def test_a_quad_whose_sides_turn_alike_is_not_told_to_move_one_place():
    text = INVERTED.replace(
        "front-right, spin: ccw, prop: {hand: cw, ", "front-right, spin: cw, prop: {hand: ccw, "
    ).replace("rear-right,  spin: cw,  prop: {hand: ccw,", "rear-right,  spin: ccw,  prop: {hand: cw,")
    assert answer(text, "rotation/inverted-rig").do == (
        "move every prop back to a motor of its own hand and turn it domed side up; "
        "the cw props on front-left and front-right, the ccw props on rear-left and rear-right"
    )


@pytest.mark.parametrize("spins", [("cw", "cw", "ccw", "cw"), ("cw", "cw", "cw", "cw"), ("cw", "ccw", "ccw", "ccw")])
def test_nor_is_a_quad_whose_spins_do_not_balance(spins):
    ats = ("front-left", "front-right", "rear-left", "rear-right")
    rotors = {
        at: f"spin: {spin}, prop: {{hand: {'ccw' if spin == 'cw' else 'cw'}}}"
        for at, spin in zip(ats, spins, strict=True)
    }
    remedy = answer(manifest("every_rotor: {prop: {face: down}}\n", rotors=rotors), "rotation/inverted-rig").do
    assert remedy.startswith(
        "move every prop back to a motor of its own hand and turn it domed side up; the cw props on front-left"
    )


def test_three_inverted_and_one_unknown_is_left_open():
    text = INVERTED.replace("prop: {hand: ccw, face: down}", "prop: {hand: ccw}", 1)
    inspected = inspect_text(text)
    told = outcome(inspected, "rotation/inverted-rig")
    assert (told.cause, told.message) == ("absent", "front-left.prop.face is not recorded")
    assert outcome(inspected, "rotation/prop-state", "rear-left").message.startswith(
        "the cw prop at rear-left is in the inverted rig"
    )


def test_the_precautions_fit_the_jobs():
    rules = {r.rule.id: r.rule for r in inspect_text(QUAD).results}
    assert rules["rotation/prop-state"].precaution == PACK_UNPLUGGED
    assert rules["rotation/inverted-rig"].precaution == RIG_CHANGE
    assert rules["rotation/prop-state"].needed_for_flight
