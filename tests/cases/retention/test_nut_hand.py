"""The hand of the nut: what is found, in which words, at which place; what is not known; what is softer."""

import pytest
from making.manifests import opening
from making.nuts import NUT, SPINS_CW, WRONG_MESSAGE, answer, found_in, rotor

from preflint.api import Clear, Finding, NotApplicable, Unproven
from preflint.testing import inspect_text, marked, outcome

HEAD = opening()
AGREES = "retention/nut-evidence-agrees"
HAND_TEST = (
    "hold the nut still with two fingers and turn the motor cw "
    "looking at the nut, the way it spins; the nut must run on; write a nut_test with what it did"
)
def places(text, finding):
    return [marked(text, related.place) for related in finding.related]


def test_a_nut_of_the_wrong_hand():
    text = rotor("kind: nut, nut_tightens: cw, nut_kind: plain")
    found = answer(text)
    assert found.message == WRONG_MESSAGE
    assert found.evidence == (
        f"nut_tightens cw, so the nut tightens cw looking at it; {SPINS_CW}, which loosens it; it is a plain nut"
    )
    fit = "fit an adapter whose nut tightens ccw looking at it (left-hand thread)"
    assert found.do == f"{fit}; then {HAND_TEST}"
    assert (found.place.line, found.place.column, marked(text, found.place)) == (4, 66, "cw")
    assert places(text, found) == ["cw"]
    assert [related.message for related in found.related] == ["the shaft spins cw seen from above"]
    assert found_in(text) == [(NUT, "front-left")]


def test_a_nut_of_the_right_hand():
    assert answer(rotor("kind: nut, nut_tightens: ccw")) == Clear(
        f"nut_tightens ccw, so the nut tightens ccw looking at it; {SPINS_CW}, which tightens it"
    )


def test_a_lower_motor_hangs_nut_down_and_looks_wrong_from_above():
    text = (
        f"{opening('Trial', 'x8')}rotors:\n"
        "  - {at: front-left-lower, spin: cw, fixing: {kind: nut, nut_tightens: cw}}\n"
    )
    assert answer(text, at="front-left-lower") == Clear(
        "nut_tightens cw, so the nut tightens cw looking at it; the shaft spins cw seen from above; its "
        "free end points down (as usual at this position), so it spins ccw looking at the nut; drag turns "
        "the nut cw on the shaft, which tightens it"
    )


def test_a_written_view_of_the_nut_is_shown_beside_the_spin():
    text = rotor("kind: nut, nut_tightens: ccw", "spin: cw, nut_points: down")
    found = answer(text)
    assert "its free end points down (as recorded), so it spins ccw looking at the nut" in found.evidence
    assert "turn the motor ccw looking at the nut" in found.do
    assert places(text, found) == ["cw", "down"]
    assert [related.message for related in found.related][1] == "the nut points down"


def test_a_threaded_hub_is_its_own_nut():
    locknut = "nut_kind: locknut-new, thread_past_locknut: true"
    small = "spin: cw, prop: {diameter_in: 5}"
    found = answer(rotor(f"kind: threaded-hub, thread_hand: right, {locknut}", small))
    assert found.message == WRONG_MESSAGE.replace("nut", "hub")
    assert found.evidence.endswith("which loosens it; no locknut holds a threaded-hub")
    assert found.do.startswith(
        "fit a motor shaft and hub with a left-hand thread (the hub tightens ccw looking at it); then "
        "hold the hub still with two fingers"
    )


@pytest.mark.parametrize(("fixing", "expected"), [("", NotApplicable), (", nut_tightens: cw", Finding),
                                                  (", nut_tightens: ccw", Clear)])
def test_a_collet_is_judged_where_a_nut_of_its_own_is_recorded(fixing, expected):
    assert isinstance(answer(rotor(f"kind: collet{fixing}")), expected)


# What is not recorded

def test_nothing_tells_the_hand():
    text = rotor("kind: nut, thread_size: M6")
    assert (found := answer(text)) == Unproven(
        place=found.place, message="nothing recorded tells which way the nut tightens", do=HAND_TEST,
        evidence="thread_size M6 is a size and says nothing about the hand", record="nut_test",
    )
    assert marked(text, found.place) == "fixing"


@pytest.mark.parametrize(("size", "says"), [("M6 LH", True), ("1/4-20 UNC-3A-LH", True), ("M16x1LH-6G", True),
                                            ("M6", False), ("M5x0.8", False), ("LHS 5", False)])
def test_only_an_explicit_mark_in_the_size_tells_the_hand(size, says):
    # LH after the size: ASME B1.1 as in NAVEDTRA 14345; M16x1LH-6G: GB/T 197 primer (pin-good.com).
    assert isinstance(answer(rotor(f"kind: nut, thread_size: {size}")), Clear if says else Unproven)


def test_a_bag_whose_meaning_nobody_recorded():
    text = rotor("kind: nut, bag_says: ccw")
    assert (found := answer(text)) == Unproven(
        place=found.place,
        message="the bag says ccw, but what that means is not recorded",
        do=HAND_TEST,
        evidence="it may be the way the nut screws on, or the motor it is meant for",
        record="nut_test",
    )
    assert marked(text, found.place) == "ccw"


@pytest.mark.parametrize(("text", "message"), [
    (rotor("nut_tightens: ccw"), "front-left.fixing.kind is not recorded"),
    (rotor("kind: nut, nut_tightens: ccw", "nut_points: up"), "front-left.spin is not recorded"),
])
def test_kind_and_spin_are_needed(text, message):
    found = answer(text)
    assert (type(found), found.message) == (Unproven, message)


def test_an_aircraft_whose_nuts_are_unknown_is_unproven():
    inspected = inspect_text(HEAD)
    assert inspected.verdict == "unproven"
    assert all(isinstance(outcome(inspected, NUT, at), Unproven) for at in inspected.aircraft.positions)


# Nut tests and what came after them

def after(then, ran="runs-on", where="front-left", more="", time=""):
    """A nut test of 18 April and a motor replaced ``then``."""
    return rotor(f"kind: nut{more}") + (
        "records:\n  nut_test:\n    - "
        f"{{date: 2026-04-18{time}, at: front-left, motor_turned: cw, nut: {ran}}}\nlogbook:\n  - "
        f"{{date: {then}, kind: replaced, part: motor, at: {where}}}\n"
    )


def test_a_nut_test_tells_the_hand():
    text = after("2026-04-01", "runs-off")
    found = answer(text)
    assert found.evidence.startswith(
        "nut test of 2026-04-18 (nut held, motor turned cw: it ran off), so the nut tightens cw looking "
        "at it; the shaft"
    )
    assert (found.place.line, marked(text, found.place)) == (7, "runs-off")
    assert isinstance(answer(after("2026-04-01")), Clear)


def test_a_nut_test_of_another_motor_is_no_evidence():
    text = after("2026-05-09")
    found = answer(text)
    assert (type(found), found.cause) == (Unproven, "stale")
    assert found.message == (
        "the nut test of 2026-04-18 is outdated: motor replaced at front-left on 2026-05-09"
    )
    assert (found.do, found.place.line) == (HAND_TEST, 7)
    assert [related.place.line for related in found.related] == [9]


def test_work_at_another_rotor_leaves_the_nut_test_alone():
    assert isinstance(answer(after("2026-05-09", where="rear-left")), Clear)


def test_weaker_evidence_is_used_where_the_nut_test_is_stale():
    found = answer(after("2026-05-09", more=", nut_tightens: cw"))
    assert found.evidence.startswith(
        "nut_tightens cw, so the nut tightens cw looking at it (the nut test of 2026-04-18 does not "
        "count: motor replaced at front-left on 2026-05-09); the shaft"
    )


def test_work_of_the_same_day_leaves_the_order_open():
    assert answer(after("2026-04-18")).cause == "order-open"
    assert isinstance(answer(after("2026-04-18 09:00", time=" 10:00")), Clear)
    assert answer(after("2026-04-18 11:00", time=" 10:00")).cause == "stale"


@pytest.mark.parametrize(("ran", "tightens", "expected"), [
    ("runs-on", "ccw", Unproven), ("runs-off", "ccw", Finding),
    ("runs-on", "cw", Finding), ("runs-off", "cw", Finding),
])
def test_an_open_order_is_not_assumed_in_favour(ran, tightens, expected):
    assert isinstance(answer(after("2026-04-18", ran, more=f", nut_tightens: {tightens}")), expected)


def test_a_nut_test_of_the_future_does_not_count():
    found = outcome(inspect_text(after("2026-04-01"), "2026-04-17"), NUT, "front-left")
    assert found.message == "nothing recorded tells which way the nut tightens"


def several(*tests):
    lines = "".join(f"    - {{date: {date}, at: front-left, motor_turned: cw, nut: {ran}}}\n" for date, ran in tests)
    return rotor("kind: nut") + f"records:\n  nut_test:\n{lines}"


@pytest.mark.parametrize(("tests", "agree"), [
    ([("2026-04-01", "runs-off"), ("2026-04-02", "runs-on")], False),
    ([("2026-04-01", "runs-off"), ("2026-04-02", "runs-on"), ("2026-04-03", "runs-on")], True),
    ([("2026-04-03", "runs-on"), ("2026-04-01", "runs-off"), ("2026-04-02", "runs-on")], True),
    ([("2026-04-03", "runs-off"), ("2026-04-03", "runs-on"), ("2026-04-03", "runs-on")], False),
])
def test_two_nut_tests_in_a_row_that_agree_settle_an_older_one(tests, agree):
    found = outcome(inspect_text(several(*tests)), AGREES, "front-left")
    assert isinstance(found, Clear if agree else Finding)


# Contradictions

def test_evidence_that_contradicts_itself():
    text = rotor("kind: nut, nut_tightens: ccw, thread_hand: right, bag_says: cw, bag_means: screwing")
    found = answer(text, AGREES)
    assert found.message == (
        "the evidence disagrees: the nut tightens cw by this, ccw by a stronger piece"
    )
    assert found.evidence == (
        "looking at the nut: nut_tightens ccw: tightens ccw; thread_hand right: tightens cw; bag says cw, "
        "meaning the way it screws on: tightens cw"
    )
    assert found.do == (
        "hold the nut still with two fingers, turn the motor cw looking at the "
        "nut, and write a nut_test with what it did; correct what was wrong; write work done in between "
        "into the logbook, with times of day where it was one day"
    )
    assert marked(text, found.place) == "right"
    assert places(text, found) == ["ccw", "cw"]
    assert isinstance(answer(text), Clear)  # the hand is still judged, by the strongest
    assert inspect_text(text).verdict == "no-go"


def test_evidence_contradicts_itself_whatever_the_spin():
    text = rotor("kind: nut, nut_tightens: ccw, thread_hand: right", "nut_points: up")
    assert isinstance(answer(text, AGREES), Finding)


@pytest.mark.parametrize("fixing", ["nut_tightens: ccw", "nut_tightens: ccw, thread_size: M6",
                                    "nut_tightens: ccw, bag_says: cw"])
def test_one_piece_of_evidence_contradicts_nothing(fixing):
    assert answer(rotor(f"kind: nut, {fixing}"), AGREES) == NotApplicable(
        "fewer than two things tell the hand of the nut"
    )
