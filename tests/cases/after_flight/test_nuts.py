"""A nut that moved: full text, both sides, what ends it and what does not, missing input."""

import pytest
from making.manifests import QUAD, answer, expect, manifest

from preflint.api import Clear, Finding, NotApplicable, Unproven
from preflint.testing import inspect_text, marked

RULE = "after_flight/nut-moved"
MOVED = "date: 2026-05-17, motors: {others: warm}, nuts_moved: [rear-left]"
STAYED = "date: 2026-05-19, after: tied-down, motors: {others: warm}, nuts_moved: []"


def looked(*looks, log=()):
    return manifest(QUAD, records={"after_flight_look": looks}, logbook=log)


def test_a_nut_that_moved_in_full():
    text = looked(MOVED)
    found = expect(Finding, answer(text, RULE, "rear-left"))
    assert (found.message, found.evidence) == (
        "the nut had moved after the flight on 2026-05-17", "a nut that moves in one flight is off in the next"
    )
    assert found.do == (
        "hold the nut, turn the motor by hand and write a nut_test; fit a nut of the right hand that locks; mark it "
        "with a line of paint; run a minute tied down in the flight rig (restrained); write an after_flight_look with "
        "after: tied-down"
    )
    assert marked(text, found.place) == "rear-left"
    assert inspect_text(text).verdict == "no-go"


def test_the_run_tied_down_says_that_a_nut_flies():
    told = next(r for r in inspect_text(looked(MOVED)).results if r.rule.id == RULE and r.at == "rear-left")
    assert told.precaution.endswith(
        "A nut that runs off flies, and the prop after it: nobody in the plane of the props or above it."
    )
    assert "everyone behind it, eyes protected" in told.precaution


@pytest.mark.parametrize(("looks", "log", "stays"), [
    ([MOVED], [], True),
    ([MOVED], ["date: 2026-05-18, kind: replaced, part: nut, at: rear-left"], True),
    ([MOVED, STAYED], ["date: 2026-05-18, kind: replaced, part: nut, at: rear-left"], False),
    ([MOVED, "date: 2026-05-19, motors: {others: warm}"], [], True),  # nobody wrote of the nuts
    ([MOVED, "date: 2026-05-19, nuts_moved: [rear-right]"], [], False),
])
def test_only_a_later_look_at_the_nuts_ends_it(looks, log, stays):
    assert isinstance(answer(looked(*looks, log=log), RULE, "rear-left"), Finding) == stays


def test_a_nut_that_stayed():
    told = answer(looked(STAYED), RULE, "rear-left")
    assert told == Clear("the nut had not moved after a run tied down on 2026-05-19")
    assert isinstance(answer(looked(MOVED), RULE, "front-left"), Clear)


def test_what_is_open():
    assert answer(manifest(QUAD), RULE, "rear-left") == NotApplicable("it has not flown yet")
    flown = looked("date: 2026-05-17, motors: {others: warm}")
    told = expect(Unproven, answer(flown, RULE, "rear-left"))
    assert told.message == "no after-flight look of rear-left is recorded"
    loose = looked(STAYED, log=["date: 2026-05-20, kind: removed, part: prop, at: rear-left"])
    assert expect(Unproven, answer(loose, RULE, "rear-left")).cause == "stale"
