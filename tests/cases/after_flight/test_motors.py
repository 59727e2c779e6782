"""A hot motor: full texts, both sides of each limit, what ends it and what does not, missing input."""

import pytest
from making.manifests import QUAD, answer, expect, manifest

from preflint.api import Clear, Finding, NotApplicable, Unproven
from preflint.testing import inspect_text, marked

RULE = "after_flight/hot-motor"
DO = (
    "find why: bearing, screw in the windings, prop, wire or joint; put it right; run a minute tied down in the flight "
    "rig (restrained); write an after_flight_look with after: tied-down"
)
HOT = "date: 2026-05-17, minutes: 4, motors: {rear-left: hot, others: warm}"
FINE = "motors: {others: warm}"


def looked(*looks, log=()):
    return manifest(QUAD, records={"after_flight_look": looks}, logbook=log)


def read(*celsius, at="front-left, front-right, rear-left, rear-right"):
    told = ", ".join(f"{name}: {value}" for name, value in zip(at.split(", "), celsius, strict=True))
    return looked(f"date: 2026-05-17, motors_c: {{{told}}}")


def test_a_hot_motor_in_full():
    text = looked(HOT)
    found = expect(Finding, answer(text, RULE, "rear-left"))
    assert (found.message, found.evidence, found.do) == (
        "the motor was hot after the flight of 4 min on 2026-05-17", "hot: no finger stays on it for a second", DO
    )
    assert marked(text, found.place) == "hot"
    assert isinstance(answer(text, RULE, "front-left"), Clear)
    judged = inspect_text(text)
    assert judged.verdict == "no-go"
    told = next(r for r in judged.results if r.rule.id == RULE and r.at == "rear-left")
    assert told.precaution.startswith("Pack unplugged before you touch a prop, a nut or a wire. Loaded run: tie")


def test_a_warmer_motor_in_full():
    found = expect(Finding, answer(read(34, 35, 71, 33), RULE, "rear-left"))
    assert found.message == "the motor was 36 K hotter than the others after the flight on 2026-05-17"
    assert found.evidence == (
        "71 ± 2 °C, at most 80 °C; +36 ± 3 K against the median of all alike, at most 15 K more"
    )
    assert found.do == DO


@pytest.mark.parametrize(("celsius", "kind"), [
    # U = 1.96 · 2/√3 · √1.25 = 2.53 K: found above 17.53 K, clear up to 12.47 K
    (40 + 17.6, Finding), (40 + 17.4, Unproven), (40 + 15.1, Unproven), (40 + 12.6, Unproven), (40 + 12.4, Clear),
    (40, Clear), (20, Clear),
])
def test_both_sides_of_what_one_may_be_warmer(celsius, kind):
    assert isinstance(answer(read(40, 40, celsius, 40), RULE, "rear-left"), kind)


@pytest.mark.parametrize(("celsius", "kind"), [(82.4, Finding), (82.1, Unproven), (77.9, Unproven), (77.6, Clear)])
def test_both_sides_of_how_hot_all_of_them_may_be(celsius, kind):
    """U = 1.96 · 2/√3 = 2.26 K."""
    assert isinstance(answer(read(*[celsius] * 4), RULE, "front-left"), kind)


def test_a_nose_that_carries_more_makes_no_motor_look_sick():
    """Two motors of one end 20 K above the two others: 10 K above the median of all four."""
    for at in ("front-left", "front-right", "rear-left", "rear-right"):
        assert isinstance(answer(read(60, 60, 40, 40), RULE, at), Clear)


def test_lower_rotors_of_one_axis_are_compared_with_lower_ones():
    at = [f"{arm}-{level}" for arm in ("front-left", "front-right", "rear") for level in ("upper", "lower")]
    told = ", ".join(f"{name}: {60 if name.endswith('lower') else 38}" for name in at)
    text = manifest(layout="y6", records={"after_flight_look": f"date: 2026-05-17, motors_c: {{{told}}}"})
    for name in at:
        assert isinstance(answer(text, RULE, name), Clear), name
    hot = text.replace("rear-lower: 60", "rear-lower: 79")
    assert isinstance(answer(hot, RULE, "rear-lower"), Finding)


def test_of_two_motors_neither_is_called_the_warmer():
    text = looked("date: 2026-05-17, motors_c: {front-left: 40, rear-left: 70}")
    assert isinstance(answer(text, RULE, "rear-left"), Clear)


WORK = "date: 2026-05-18, kind: replaced, part: motor, at: rear-left"
TIED = "date: 2026-05-19, after: tied-down, motors: {others: warm}"


@pytest.mark.parametrize(("looks", "log", "stays"), [
    ([HOT], [WORK], True),  # work does not show that it helped
    ([HOT], ["date: 2026-05-18, kind: flown"], True),
    ([HOT, TIED], [WORK], False),
    ([HOT, TIED], [], False),
    ([HOT, "date: 2026-05-19, motors: {rear-right: warm}"], [], True),  # of another motor
    ([HOT, "date: 2026-05-19, motors: {rear-left: cool}"], [], False),
    ([HOT, "date: 2026-05-19, nuts_moved: []"], [], True),
    ([HOT, "date: 2026-05-17, motors: {others: warm}"], [], True),  # which came last is not recorded
    ([HOT, "date: 2026-05-16, motors: {others: warm}"], [], True),
])
def test_only_a_later_look_ends_it(looks, log, stays):
    told = answer(looked(*looks, log=log), RULE, "rear-left")
    assert isinstance(told, Finding) == stays, told
    if stays:
        assert told.do == DO  # whatever was done since: nothing runs before the reason is found


def test_what_is_open():
    flown = manifest(QUAD, logbook="date: 2026-05-17, kind: flown")
    told = expect(Unproven, answer(flown, RULE, "rear-left"))
    assert told.message == "no after-flight look of rear-left is recorded"
    assert told.do == "after the next flight unplug the pack; feel every motor and nut; write an after_flight_look"
    assert told.record == "after_flight_look"
    old = expect(Unproven, answer(looked(f"date: 2026-05-17, {FINE}", log=[WORK]), RULE, "rear-left"))
    assert old.message == (
        "the after-flight look of 2026-05-17 is outdated: motor replaced at rear-left on 2026-05-18"
    )
    assert isinstance(answer(looked(f"date: 2026-05-17, {FINE}", log=[WORK]), RULE, "rear-right"), Clear)


def test_before_the_first_flight_nothing_is_asked():
    assert answer(manifest(QUAD), RULE, "rear-left") == NotApplicable("it has not flown yet")
    ahead = manifest(QUAD, logbook="date: 2026-05-22, kind: flown")
    assert answer(ahead, RULE, "rear-left") == NotApplicable("it has not flown yet")


def test_flight_does_not_wait_for_a_look():
    flown = inspect_text(manifest(QUAD, logbook="date: 2026-05-17, kind: flown"))
    assert not [r for r in flown.results if r.rule.topic == "after_flight" and r.rule.needed_for_flight]
