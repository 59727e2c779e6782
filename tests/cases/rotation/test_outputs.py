"""rotation/output-order and props-removed: full text, place, which wire goes where, what is missing."""

from itertools import permutations

import pytest
from making.manifests import answer, expect, manifest

from preflint.api import PROPS_REMOVED, Clear, Finding, NotApplicable, Unproven
from preflint.testing import inspect_text, marked, outcome

POSITIONS = ("front-left", "front-right", "rear-left", "rear-right")
HOW = "command one output at a time, see which motor turns and write an output_test"
AGAIN = "; then repeat the output test for every output"


def turned(*answers: str, date: str = "2026-04-18", props: str | None = "removed") -> str:
    pairs = ", ".join(f"{at}: {told}" for at, told in zip(POSITIONS, answers, strict=True) if told)
    said = f"props: {props}, " if props else ""
    return f"date: {date}, {said}turned: {{{pairs}}}"


def commanded(*tests: str, **others: list[str]) -> str:
    return manifest(records={"output_test": tests, **others})


def judged(text: str, at: str):
    return answer(text, "rotation/output-order", at)


def test_every_output_drives_its_rotor():
    for at in POSITIONS:
        assert judged(commanded(turned(*POSITIONS)), at) == Clear(
            f"output test of 2026-04-18: the output for {at} turned {at}"
        )


def test_two_outputs_exchanged():
    text = commanded(turned("front-right", "front-left", "rear-left", "rear-right"))
    found = judged(text, "front-left")
    assert (
        found.message
        == "the outputs for front-left and front-right are exchanged: the aircraft would flip at its first lift-off"
    )
    assert found.evidence == (
        "output test of 2026-04-18: commanded front-left, front-right turned; commanded front-right, front-left "
        "turned; answers to a command, worked out from the places alone: roll 0 %, pitch 100 %"
    )
    assert found.do == f"exchange its signal wire at the flight controller with that of front-right{AGAIN}"
    assert (found.place.line, marked(text, found.place)) == (5, "front-right")
    assert [r.message for r in found.related] == [
        "the output for front-right drives front-left", "front-right, the other of the two",
    ]
    assert judged(text, "front-right") == NotApplicable("said once with front-left: the two are exchanged")
    assert isinstance(judged(text, "rear-left"), Clear)


def test_the_second_of_two_is_said_where_the_first_has_another_answer():
    wrong = turned("front-right", "front-left", "rear-left", "rear-right")
    text = commanded(wrong) + "logbook: [{date: 2026-05-09, kind: rewired, part: esc, at: front-left}]\n"
    found = judged(text, "front-left")
    assert found.evidence.startswith(
        "failed on 2026-04-18, and no output test passed since; since then esc rewired at front-left on 2026-05-09; "
    )
    assert found.do.startswith("repeat the output test; if it fails again: exchange ")
    assert isinstance(judged(text, "front-right"), NotApplicable)
    again = commanded(wrong, turned("front-left", "", "", "", date="2026-04-19"))
    assert isinstance(judged(again, "front-left"), Clear)
    assert isinstance(judged(again, "front-right"), Finding)


def test_three_outputs_in_a_ring():
    text = commanded(turned("front-right", "rear-left", "front-left", "rear-right"))
    found = judged(text, "front-left")
    assert found.do == (
        "move its signal wire from the output for rear-left to its own output, "
        f"and that of front-right to its own{AGAIN}"
    )
    assert [r.message for r in found.related] == ["the output for front-right drives rear-left"]


@pytest.mark.parametrize("answers", list(permutations(POSITIONS)))
def test_every_order_of_four(answers):
    inspected = inspect_text(commanded(turned(*answers)))
    for at, kind in zip(POSITIONS, answers, strict=True):
        found = outcome(inspected, "rotation/output-order", at)
        if at == kind:
            assert isinstance(found, Clear)
            continue
        first = POSITIONS.index(at) < POSITIONS.index(kind)
        if answers[POSITIONS.index(kind)] == at and not first:
            assert isinstance(found, NotApplicable)
            continue
        assert isinstance(found, Finding)
        # Whoever puts each wire where the remedies say has every output drive its own rotor.
        now_on = POSITIONS[answers.index(at)]
        exchange = f"exchange its signal wire at the flight controller with that of {kind};"
        assert found.do.startswith(exchange) == (now_on == kind)
        if now_on != kind:
            assert found.do.startswith(f"move its signal wire from the output for {now_on} to its own output,")


def test_not_every_output_was_commanded():
    text = commanded(turned("front-right", "", "", "rear-right"))
    found = judged(text, "front-left")
    assert found.do == (
        f"move its signal wire to its own output, and that of front-right to its own{AGAIN}"
    )
    assert found.related == ()
    told = judged(text, "rear-left")
    assert (told.cause, told.message) == ("absent", "no output test of rear-left is recorded")
    assert (told.do, told.mind) == (HOW, PROPS_REMOVED)


@pytest.mark.parametrize(("work", "cause"), [
    ("{date: 2026-05-09, kind: rewired, part: esc, at: rear-left}", "stale"),
    ("{date: 2026-05-09, kind: settings-changed, part: flight-controller}", "stale"),
    ("{date: 2026-04-18, kind: rewired, part: flight-controller}", "order-open"),
    ("{date: 2026-05-09, kind: rewired, part: esc, at: rear-right}", None),
])
def test_work_after_the_test(work, cause):
    told = judged(commanded(turned(*POSITIONS)) + f"logbook: [{work}]\n", "rear-left")
    assert isinstance(told, Clear) if cause is None else told.cause == cause


def test_two_tests_of_one_day_that_disagree():
    wrong = ("front-right", "front-left", "rear-left", "rear-right")
    text = commanded(turned(*POSITIONS), turned(*wrong))
    told = judged(text, "front-left")
    assert told.evidence.startswith("failed on 2026-04-18, and no ")
    assert told.do.startswith("write the time of day in both, or repeat the output test; if it fails again: ")
    assert isinstance(judged(text, "rear-left"), Clear)
    timed = commanded(turned(*wrong, date="2026-04-18 10:00"), turned(*POSITIONS, date="2026-04-18 10:30"))
    assert isinstance(judged(timed, "front-left"), Clear)


def props(text: str):
    return answer(text, "rotation/props-removed")


def test_props_fitted():
    text = commanded(turned(*POSITIONS, props="fitted"))
    found = props(text)
    assert found.message == "the output test of 2026-04-18 was made with the props fitted"
    assert found.evidence == "props: fitted, and no later test of the same rotors with the props removed"
    assert found.do == "remove the props, repeat the output test and record it with props: removed"
    assert (found.place.line, marked(text, found.place)) == (5, "fitted")


def test_a_spin_test_too():
    text = commanded(spin_test=["date: 2026-04-18, props: fitted, seen: {front-left: cw}"])
    assert props(text).message == "the spin test of 2026-04-18 was made with the props fitted"


@pytest.mark.parametrize(("again", "settled"), [
    (turned(*POSITIONS, date="2026-04-19"), True),
    (turned("front-left", "", "", "", date="2026-04-19"), False),  # the other three were not repeated
    (turned(*POSITIONS, date="2026-04-18"), False),  # which came first is not known
    (turned(*POSITIONS, date="2026-04-17"), False),
    (turned(*POSITIONS, date="2026-06-17"), False),  # still to come on the day judged at
])
def test_a_later_test_with_the_props_removed_settles_it(again, settled):
    told = props(commanded(turned(*POSITIONS, props="fitted"), again))
    assert isinstance(told, Clear if settled else Finding)


def test_a_spin_test_does_not_stand_for_an_output_test():
    seen = "seen: {front-left: cw, front-right: ccw, rear-left: ccw, rear-right: cw}"
    text = commanded(turned(*POSITIONS, props="fitted"), spin_test=[f"date: 2026-04-19, props: removed, {seen}"])
    assert isinstance(props(text), Finding)


def test_removed_or_not_recorded_or_not_tested():
    assert props(commanded(turned(*POSITIONS))) == Clear("props removed in the output test of 2026-04-18")
    told = expect(Unproven, props(commanded(turned(*POSITIONS, props=None))))
    assert (told.cause, told.message, told.do) == (
        "absent", "whether the props were off in the output test of 2026-04-18 is not recorded",
        "write props: removed, or props: fitted, in the output test",
    )
    assert props(commanded(rig_check=["date: 2026-04-18, rig: flight"])) == NotApplicable(
        "no spin test or output test is recorded"
    )
