"""The throttle stick, rotors that slow down, and answers that contradict themselves: full texts and places."""

import pytest
from making.manifests import QUAD as ROTORS
from making.manifests import answer, expect, manifest

from preflint.api import ANGLES, PROPS_REMOVED, Clear, Finding, NotApplicable, Unproven, positions
from preflint.errors import NotRead
from preflint.testing import inspect_text, marked

STICK, THROTTLE, TILT = "control/stick-answer", "control/throttle-answer", "control/tilt-answer"
QUAD = manifest(ROTORS, name="Lapwing")
ALL = "front-left, front-right, rear-left, rear-right"
HOW = (
    "raise the throttle a little from closed, motors just turning, and lower it; write which rotors speed up "
    "(throttle-up) and slow down (throttle-down) in a stick_check"
)


def with_moves(*moves, record="stick_check", head=QUAD, date="2026-05-20"):
    listed = "".join(f"        - {{{move}}}\n" for move in moves)
    return f"{head}records:\n  {record}:\n    - date: {date}\n      props: removed\n      moves:\n{listed}"


def judged(text, rule=THROTTLE):
    return answer(text, rule)


# --- throttle: full texts


def test_throttle_reversed_in_full():
    text = with_moves(f"did: throttle-up, indicated: throttle-down, slowed_down: [{ALL}]")
    found = expect(Finding, judged(text))
    assert found.message == (
        "stick throttle up: throttle down was indicated; 1 more"
    )
    assert found.evidence == "stick check of 2026-05-20; right and left as seen from above, nose forward"
    assert found.do == "reverse or swap that stick; then repeat the test"
    assert marked(text, found.place) == "throttle-down"
    assert [(marked(text, r.place), r.message) for r in found.related] == [
        ("front-left", "stick throttle up, every rotor slowed down; every rotor ought to speed up")
    ]
    result = next(r for r in inspect_text(text).results if r.rule.id == THROTTLE)
    assert (str(result.rule.severity), result.rule.precaution) == ("no-go", PROPS_REMOVED)


def test_one_rotor_falls_back_in_full():
    text = with_moves("did: throttle-up, sped_up: [front-left, front-right, rear-left], slowed_down: [rear-right]")
    found = judged(text)
    assert found.message == "stick throttle up, rear-right slowed down; every rotor ought to speed up"
    assert found.do == ("look at motor, speed controller and wires at rear-right, pack unplugged; then repeat the test")
    assert marked(text, found.place) == "rear-right"


def test_lowering_it_speeds_rotors_up():
    text = with_moves(f"did: throttle-down, sped_up: [{ALL}]")
    found = judged(text)
    assert found.message == "stick throttle down, every rotor sped up; every rotor ought to slow down"
    assert found.do == "reverse or swap that stick; then repeat the test"


@pytest.mark.parametrize("layout", sorted(ANGLES))
def test_every_rotor_of_every_layout_must_answer(layout):
    head = manifest(name="Lapwing", layout=layout)
    names = positions(layout)
    for did, right, wrong in (
        ("throttle-up", "sped_up", "slowed_down"),
        ("throttle-down", "slowed_down", "sped_up"),
    ):
        full = with_moves(f"did: {did}, {right}: [{', '.join(names)}]", head=head)
        said = did.replace("-", " ")
        assert judged(full) == Clear(f"stick check of 2026-05-20: every rotor answered {said}")
        for at in names:
            others = ", ".join(other for other in names if other != at)
            told = judged(with_moves(f"did: {did}, {right}: [{others}]", head=head))
            verb = {"sped_up": "sped up", "slowed_down": "slowed down"}[right]
            assert (told.cause, told.message, told.do) == (
                "uncertain", f"{said}: whether {at} {verb} is not recorded", HOW,
            )
            expect(Finding, judged(with_moves(f"did: {did}, {right}: [{others}], {wrong}: [{at}]", head=head)))


def test_both_ways_answered():
    text = with_moves(f"did: throttle-up, sped_up: [{ALL}]", f"did: throttle-down, slowed_down: [{ALL}]")
    assert judged(text) == Clear("stick check of 2026-05-20: every rotor answered throttle up and throttle down")


def test_the_throttle_was_not_tried():
    told = judged(QUAD)
    assert (told.cause, told.message, told.do) == ("absent", "no stick check is recorded", HOW)
    text = with_moves("did: nose-down, sped_up: [rear-left, rear-right]")
    told = judged(text)
    assert (told.cause, told.message) == ("absent", "no movement of the throttle stick is recorded")
    assert marked(text, told.place) == "2026-05-20"
    told = judged(with_moves("did: throttle-up, indicated: throttle-up"))
    assert told.message == "which rotors answered the throttle stick is not recorded"
    told = judged(with_moves("did: throttle-up, sped_up: []"))
    assert told.message == f"throttle up: whether {ALL} sped up is not recorded"


def test_the_throttle_says_nothing_of_the_other_sticks():
    told = expect(Unproven, judged(with_moves(f"did: throttle-up, sped_up: [{ALL}]"), STICK))
    assert told.message == "no movement of a stick is recorded"


def test_the_throttle_of_an_earlier_check_still_counts():
    earlier = with_moves(f"did: throttle-up, slowed_down: [{ALL}]", date="2026-05-18")
    later = "    - {date: 2026-05-20, props: removed, moves: [{did: nose-down, sped_up: [rear-left, rear-right]}]}\n"
    assert isinstance(judged(earlier + later), Finding)
    again = "    - {date: 2026-05-20, moves: [{did: throttle-up, sped_up: [ALL]}]}\n".replace("ALL", ALL)
    assert isinstance(judged(earlier + again), Clear)


def test_a_check_to_come_says_nothing():
    told = judged(with_moves(f"did: throttle-up, sped_up: [{ALL}]", date="2026-05-22"))
    assert (told.cause, told.message) == ("absent", "no stick check is recorded")


@pytest.mark.parametrize("word", ["throttle-up", "throttle-down"])
def test_a_tilt_test_has_no_throttle(word):
    with pytest.raises(NotRead):
        inspect_text(with_moves(f"did: {word}", record="tilt_test"))


@pytest.mark.parametrize("word", ["throttle_up", "throttle", "full-throttle", "up"])
def test_the_list_of_movements_is_closed(word):
    with pytest.raises(NotRead):
        inspect_text(with_moves(f"did: {word}"))


def test_names_of_rotors_that_slowed_are_checked():
    with pytest.raises(NotRead) as refused:
        inspect_text(with_moves("did: throttle-up, slowed_down: [front-middle]"))
    assert "layout quad-x has no position" in refused.value.problems[0].message


# --- rotors that slowed down: attitudes


@pytest.mark.parametrize(
    ("rule", "record", "slowed"), [(TILT, "tilt_test", "front-left"), (STICK, "stick_check", "rear-left")]
)
def test_a_rotor_that_ought_to_speed_up_and_slowed_down(rule, record, slowed):
    text = with_moves(f"did: nose-down, indicated: nose-down, slowed_down: [{slowed}]", record=record)
    found = expect(Finding, judged(text, rule))
    side = "front" if rule == TILT else "rear"
    after = "moved nose down" if rule == TILT else "stick nose down"
    assert found.message == (f"{after}, {slowed} slowed down; {side}-left, {side}-right ought to speed up")
    assert marked(text, found.place) == slowed


def test_both_sides_wrong_in_one_sentence():
    text = with_moves("did: nose-down, sped_up: [front-left, front-right], slowed_down: [rear-left, rear-right]")
    found = judged(text, STICK)
    assert found.message == (
        "stick nose down, front-left, front-right sped up and rear-left, rear-right slowed down; "
        "rear-left, rear-right ought to speed up"
    )


@pytest.mark.parametrize(("rule", "record"), [(TILT, "tilt_test"), (STICK, "stick_check")])
def test_a_rotor_on_the_far_side_may_slow_down(rule, record):
    near, far = ("front", "rear") if rule == TILT else ("rear", "front")
    text = with_moves(
        f"did: nose-down, indicated: nose-down, sped_up: [{near}-left, {near}-right], "
        f"slowed_down: [{far}-left, {far}-right]",
        record=record,
    )
    assert isinstance(judged(text, rule), Unproven)  # the other axes were not tried


def test_a_contradiction_is_no_answer():
    told = judged(with_moves(f"did: throttle-up, sped_up: [{ALL}], slowed_down: [rear-left]"))
    assert (told.cause, told.message, told.do) == (
        "uncertain", "stick throttle up: rear-left is written both as sped up and as slowed down",
        "repeat that movement and write what each rotor did",
    )


def test_what_is_wrong_is_said_where_something_else_is_open():
    no_spins = QUAD.replace(", spin: ccw", "").replace(",   spin: ccw", "")
    moves = ("did: turned-right, sped_up: [front-left]", "did: nose-down, sped_up: [front-left]")
    found = expect(Finding, judged(with_moves(*moves, head=no_spins), STICK))
    assert found.message == "stick nose down, front-left sped up; rear-left, rear-right ought to"


# --- where the motors begin to turn

LATE = "control/start-throttle"


def begins(values, log="", date="2026-05-20"):
    return f"{QUAD}records:\n  stick_check: [{{date: {date}, start_throttle_percent: {{{values}}}}}]\n{log}"


def test_motors_that_all_begin_late_in_full():
    text = begins("front-left: 90, front-right: 91, rear-left: 90, rear-right: 90")
    found = expect(Finding, judged(text, LATE))
    assert found.message == "every motor begins to turn only at 90 % of throttle or more"
    assert found.evidence == "the last to begin is front-right at 91 %; at most 25 %"
    assert found.do == (
        "let every speed controller learn the throttle range again, all in one way, and look at the range that the "
        "flight controller sends; then check again"
    )
    assert marked(text, found.place) == "91"
    assert [(marked(text, r.place), r.message) for r in found.related] == [
        ("90", f"{at} begins at 90 %") for at in ("front-left", "rear-left", "rear-right")
    ]
    assert isinstance(judged(text, "control/start-throttle-spread"), Clear)
    assert inspect_text(text).verdict == "no-go"


@pytest.mark.parametrize(("values", "whose"), [
    ("front-left: 5, rear-right: 30", "the motor at rear-right begins to turn only at 30 % of throttle"),
    ("front-left: 40, rear-right: 30, rear-left: 5",
     "the motors at front-left, rear-right begin to turn only at 30 % of throttle or more"),
])
def test_which_begin_late(values, whose):
    assert expect(Finding, judged(begins(values), LATE)).message == whose


@pytest.mark.parametrize(("last", "kind"), [("25", Clear), ("25.1", Finding), ("5", Clear)])
def test_both_sides_of_the_latest_start(last, kind):
    told = expect(kind, judged(begins(f"front-left: 5, front-right: 5, rear-left: 5, rear-right: {last}"), LATE))
    if last == "25":
        assert told == Clear("the last to begin is rear-right at 25 %; at most 25 %")


def test_no_start_is_recorded():
    unasked = NotApplicable("where the motors begin to turn is not recorded: control/start-throttle-spread asks")
    assert judged(QUAD, LATE) == unasked
    some = expect(Unproven, judged(begins("front-left: 5, front-right: 5"), LATE))
    assert some.message == "where it begins to turn is not recorded for rear-left, rear-right"
    since = begins("front-left: 5", "logbook:\n  - {date: 2026-05-21, kind: crashed}\n")
    assert expect(Unproven, judged(since, LATE)).cause == "stale"
    late = begins("front-left: 90", "logbook:\n  - {date: 2026-05-21, kind: crashed}\n")
    assert "failed on 2026-05-20, and no stick check passed since" in expect(Finding, judged(late, LATE)).evidence
