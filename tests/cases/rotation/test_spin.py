"""rotation/spin-seen, expected-spin and spin-by-setting: full text, place, direction of the remedy, gaps."""

from functools import partial
from itertools import product

import pytest
from making.manifests import PROPPED, answer, expect, manifest

from preflint.api import PACK_UNPLUGGED, PROPS_REMOVED, Clear, Finding, Unproven
from preflint.testing import inspect_text, marked, outcome

HEAD = manifest(PROPPED)
EXPECTS = "flight_controller: {expects_spin: {front-left: cw, front-right: ccw, rear-left: ccw, rear-right: cw}}\n"
SEEN = "seen: {front-left: cw, front-right: ccw, rear-left: ccw, rear-right: cw}"
TEST = f"records:\n  spin_test:\n    - {{date: 2026-04-18, props: removed, {SEEN}}}\n"
HOW = "let each motor turn briefly, look from above the aircraft and write a spin_test"


def seen(text: str, at: str = "front-right"):
    return answer(text, "rotation/spin-seen", at)


def expected(text: str, at: str = "front-right"):
    return answer(text, "rotation/expected-spin", at)


def test_seen_as_written():
    for at in ("front-left", "front-right", "rear-left", "rear-right"):
        assert isinstance(seen(HEAD + TEST, at), Clear)
    assert seen(HEAD + TEST) == Clear("seen from above on 2026-04-18: front-right turns ccw, as written")


@pytest.mark.parametrize(("expects", "remedy"), [
    ("", "if it turns cw and ccw is meant, swap any two of its three motor wires"),
    (EXPECTS, "if it turns cw, swap any two of its three motor wires: the flight controller expects ccw"),
    (EXPECTS.replace("front-right: ccw", "front-right: cw"),
     "if it turns cw, as the flight controller expects, write spin: cw and look at its prop and nut"),
])
def test_seen_the_other_way(expects, remedy):
    text = HEAD + expects + TEST.replace("front-right: ccw", "front-right: cw")
    found = seen(text)
    assert found.message == "the motor at front-right was seen to turn cw, but its spin is written as ccw"
    assert found.evidence == "spin test of 2026-04-18, seen from above: cw; under rotors: ccw"
    assert found.do == f"look again; {remedy}; then record a new spin test"
    line = text.split("\n")[found.place.line - 1]
    assert marked(text, found.place) == "cw"
    assert line[: found.place.column - 1].endswith("front-right: ")
    assert [(r.place.line, r.message) for r in found.related] == [(5, "written as ccw")]


def test_no_spin_test_of_this_rotor():
    told = seen(HEAD + TEST.replace("front-right: ccw, ", ""))
    assert (told.cause, told.message) == ("absent", "no spin test of front-right is recorded")
    assert (told.do, told.mind) == (HOW, PROPS_REMOVED)
    assert isinstance(seen(HEAD + TEST.replace("front-right: ccw, ", ""), "rear-left"), Clear)


def test_without_a_written_spin():
    told = seen((HEAD + TEST).replace("front-right, spin: ccw,", "front-right,"))
    assert (told.cause, told.message) == ("absent", "front-right.spin is not recorded")


@pytest.mark.parametrize(("work", "cause"), [
    ("{date: 2026-05-09, kind: replaced, part: motor, at: front-right}", "stale"),
    ("{date: 2026-04-18, kind: rewired, part: esc, at: front-right}", "order-open"),
    ("{date: 2026-06-01, kind: reset, part: esc, at: front-right}", "stale"),
    ("{date: 2026-05-09, kind: replaced, part: motor, at: rear-left}", None),
    ("{date: 2026-04-17, kind: replaced, part: motor, at: front-right}", None),
    ("{date: 2026-05-09, kind: replaced, part: prop, at: front-right}", None),
])
def test_work_after_the_test(work, cause):
    told = seen(HEAD + TEST + f"logbook: [{work}]\n")
    assert isinstance(told, Clear) if cause is None else told.cause == cause


@pytest.mark.parametrize(("first", "second", "told"), [
    ("2026-04-18 10:00", "2026-04-18 11:00", "second"),
    ("2026-04-18 11:00", "2026-04-18 10:00", "first"),
    ("2026-04-18", "2026-04-18 10:00", "open"),
    ("2026-04-18", "2026-04-18", "open"),
    ("2026-04-18 10:00", "2026-04-18 10:00", "open"),
    ("2026-04-18", "2026-04-19", "second"),
])
def test_two_tests_that_disagree(first, second, told):
    tests = "".join(
        f"    - {{date: {date}, props: removed, seen: {{front-right: {spin}}}}}\n"
        for date, spin in ((first, "ccw"), (second, "cw"))
    )
    found = seen(HEAD + "records:\n  spin_test:\n" + tests)
    if told == "open":
        assert isinstance(found, Finding)  # the one that failed counts
    else:
        assert isinstance(found, Clear if told == "first" else Finding)


def test_a_test_still_to_come_on_the_day_judged_at_proves_nothing_and_a_failed_one_counts():
    assert isinstance(seen(HEAD + TEST.replace("2026-04-18", "2026-06-01")), Unproven)
    later = "    - {date: 2026-06-01, props: removed, seen: {front-right: cw}}\n"
    assert isinstance(seen(HEAD + TEST + later), Finding)


def test_as_the_flight_controller_expects():
    for at in ("front-left", "front-right", "rear-left", "rear-right"):
        assert isinstance(expected(HEAD + EXPECTS, at), Clear)
    assert expected(HEAD + EXPECTS) == Clear("front-right turns ccw seen from above, as the flight controller expects")


def test_motor_and_prop_agree_against_the_setting():
    text = HEAD + EXPECTS.replace("front-right: ccw", "front-right: cw")
    found = expected(text)
    assert found.message == (
        "the flight controller expects cw at front-right, but the motor turns ccw"
    )
    assert found.evidence == "it answers yaw the wrong way round; seen from above: motor ccw, expected cw"
    assert found.do == (
        "set the flight controller to expect ccw, as motor and prop agree; if cw is meant, reverse the "
        "motor (swap any two of its three motor wires) and change prop and nut with it"
    )
    assert (found.place.line, marked(text, found.place)) == (8, "cw")
    assert [(r.place.line, r.message) for r in found.related] == [(5, "turns ccw")]


@pytest.mark.parametrize("prop", ["prop: {hand: ccw, face: up}", "prop: {face: up}"])
def test_the_motor_against_setting_and_prop(prop):
    text = (
        HEAD.replace("front-right, spin: ccw, prop: {hand: ccw, face: up}", f"front-right, spin: cw, {prop}") + EXPECTS
    )
    found = expected(text)
    assert found.message == (
        "the flight controller expects ccw at front-right, but the motor turns cw"
    )
    assert found.do == (
        "reverse the motor to ccw: swap any two of its three motor wires; then repeat the spin test"
    )
    assert (found.place.line, marked(text, found.place)) == (5, "cw")
    assert [(r.place.line, r.message) for r in found.related] == [(8, "expected ccw")]


def test_in_the_inverted_rig_the_hands_are_meant_to_differ():
    other = {"cw": "ccw", "ccw": "cw"}
    text = HEAD
    for hand in ("hand: cw,  face: up", "hand: ccw, face: up"):
        word = hand[6:].split(",")[0]
        text = text.replace(hand, f"hand: {other[word]}, face: DOWN")
    text = text.replace("DOWN", "down") + EXPECTS.replace("front-right: ccw", "front-right: cw")
    assert "set the flight controller to expect ccw," in expected(text).do


def test_every_rotor_against_the_setting():
    mirrored = EXPECTS.replace("ccw", "C").replace("cw", "ccw").replace("C", "cw")
    for at in ("front-left", "front-right", "rear-left", "rear-right"):
        assert expected(HEAD + mirrored, at).do.endswith(
            "; every rotor disagrees, so the flight controller may be set for the mirrored arrangement"
        )


def test_nobody_wrote_what_the_flight_controller_expects():
    told = expected(HEAD + EXPECTS.replace("front-right: ccw, ", ""))
    assert (told.cause, told.message) == (
        "absent", "which spin the flight controller expects at front-right is not recorded",
    )
    assert told.do == (
        "read in the flight controller's settings which way it expects the motor to turn and write "
        "it under expects_spin"
    )
    assert isinstance(expected(HEAD), Unproven)
    rules = {r.rule.id: r.rule for r in inspect_text(HEAD).results}
    assert not rules["rotation/expected-spin"].needed_for_flight
    assert rules["rotation/spin-seen"].needed_for_flight


@pytest.mark.parametrize(("spin", "hand", "expects"), list(product(("cw", "ccw"), repeat=3)))
def test_the_remedy_makes_all_three_agree(spin, hand, expects):
    text = HEAD.replace(
        "front-right, spin: ccw, prop: {hand: ccw, face: up}",
        f"front-right, spin: {spin}, prop: {{hand: {hand}, face: up}}",
    ) + EXPECTS.replace("front-right: ccw", f"front-right: {expects}")
    inspected = inspect_text(text)
    of_spin, of_prop = (
        outcome(inspected, f"rotation/{rule}", "front-right") for rule in ("expected-spin", "prop-state")
    )
    assert isinstance(of_spin, Clear if spin == expects else Finding)
    assert isinstance(of_prop, Clear if spin == hand else Finding)
    if (
        spin != expects == hand
    ):  # only the motor is wrong: both rules say to reverse it, and to leave the prop
        assert of_spin.do.startswith(f"reverse the motor to {hand}")
        assert of_prop.do.startswith(f"reverse the motor to {hand}")
        assert of_prop.do.endswith("leave this prop as it is")


by_setting = partial(answer, rule="rotation/spin-by-setting")


def test_set_by_a_setting_for_all():
    text = HEAD + "every_rotor: {esc: {spin_set_by: setting}}\n"
    found = expect(Finding, by_setting(text))
    assert found.message == (
        "the spin at front-left, front-right, rear-left and rear-right is set by a setting of the speed controller, "
        "which a reset loses"
    )
    assert found.evidence == "spin_set_by: setting"
    assert found.do == (
        "look at the spin again after every reset, new firmware or new controller; "
        "or set the spin by swapping two motor wires instead"
    )
    assert (found.place.line, marked(text, found.place), found.related) == (8, "setting", ())


def test_set_by_a_setting_at_two():
    text = HEAD + "every_rotor: {esc: {spin_set_by: wires}}\n"
    for at in ("front-right, ", "rear-left,   "):
        text = text.replace(at, f"{at}esc: {{spin_set_by: setting}}, ")
    found = expect(Finding, by_setting(text))
    assert found.message.startswith("the spin at front-right and rear-left is set by")
    assert found.place.line == 5
    assert [(r.place.line, r.message) for r in found.related] == [(6, "set by a setting too")]


def test_set_by_wires_or_not_recorded():
    assert by_setting(HEAD + "every_rotor: {esc: {spin_set_by: wires}}\n") == Clear(
        "every motor's spin is set by the order of its wires"
    )
    told = expect(Unproven, by_setting(HEAD))
    assert (told.cause, told.message) == ("absent", "front-left.esc.spin_set_by is not recorded")


def test_whoever_swaps_wires_is_told_both_cautions():
    rules = {r.rule.id: r.rule for r in inspect_text(HEAD).results}
    for rule in ("spin-seen", "expected-spin", "spin-by-setting", "output-order", "yaw-balance"):
        assert rules[f"rotation/{rule}"].precaution == f"{PACK_UNPLUGGED} {PROPS_REMOVED}"
