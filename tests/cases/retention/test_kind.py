"""What is recorded of a nut, and what holds the prop."""

import pytest
from making.manifests import opening
from making.nuts import answer, rotor

from preflint.api import NO_GO, Clear, Finding, NotApplicable, Unproven
from preflint.testing import inspect_text, marked

RULE = "retention/kind-agrees"
TEST = (
    "records:\n  nut_test:\n"
    "    - {date: 2026-05-16, at: front-left, motor_turned: cw, nut: runs-off}\n"
)


def test_screws_beside_facts_of_a_nut():
    text = rotor("kind: screws, nut_tightens: cw, nut_kind: locknut-new") + TEST
    found = answer(text, RULE)
    assert found.message == (
        "kind says screws, but a nut is written about: nut_tightens, nut_kind, the nut test of 2026-05-16"
    )
    assert found.evidence == "kind screws; nut_tightens, nut_kind, the nut test of 2026-05-16"
    assert found.do == (
        "look at what holds the prop; where it is a nut write kind: nut, else take out nut_tightens, nut_kind, "
        "the nut test of 2026-05-16"
    )
    assert marked(text, found.place) == "screws"
    assert [marked(text, related.place) for related in found.related][:2] == ["cw", "locknut-new"]
    (result,) = [r for r in inspect_text(text).results if r.rule.id == RULE and r.at == "front-left"]
    assert result.rule.severity == NO_GO


@pytest.mark.parametrize("kind", ["screws", "clip", "set-screw"])
@pytest.mark.parametrize("fact", [
    "nut_tightens: cw", "thread_hand: left", "bag_says: cw", "nut_kind: plain", "thread_past_locknut: true",
])
def test_each_fact_is_one_of_a_nut(kind, fact):
    assert isinstance(answer(rotor(f"kind: {kind}, {fact}"), RULE), Finding)
    assert isinstance(answer(rotor(f"kind: nut, {fact}"), RULE), NotApplicable)


def test_what_speaks_of_no_nut():
    assert answer(rotor("kind: screws, thread_size: M2"), RULE) == Clear(
        "held by screws, and nothing is recorded of a nut"
    )
    assert answer(rotor("kind: collet, nut_tightens: ccw"), RULE) == NotApplicable("a collet may go with a nut")
    assert answer(rotor("kind: threaded-hub, thread_hand: left"), RULE) == NotApplicable(
        "a threaded-hub may go with a nut"
    )


def test_a_nut_that_was_there_before_counts_no_more():
    text = rotor("kind: screws") + TEST
    assert isinstance(answer(text, RULE), Finding)
    since = "logbook:\n  - {date: 2026-05-17, kind: replaced, part: adapter, at: front-left}\n"
    assert isinstance(answer(text + since, RULE), Clear)


def test_what_holds_it_is_not_recorded():
    told = answer(rotor("nut_tightens: cw"), RULE)
    assert isinstance(told, Unproven)
    assert told.do == "look at what holds the prop: nut, collet, set-screw, screws, clip or threaded-hub"
    assert isinstance(answer(opening() + "rotors:\n  - {at: front-left}\n", RULE), Unproven)
