"""Tests that run motors, made with the props on, or without a word about them: every rule that has such a record."""

import pytest
from making.manifests import answer, opening

from preflint.api import PROPS_REMOVED, Clear, Finding, NotApplicable, Unproven
from preflint.testing import inspect_text, marked, outcome

RULE = "control/props-removed"
HEAD = f"{opening()}records:\n"
BODY = {
    "tilt_test": "moves: [{did: nose-down, indicated: nose-down}]",
    "stick_check": "moves: [{did: nose-down, indicated: nose-down}]",
    "link_loss_test": "outputs_stopped: true, seconds_to_stop: 0.8, restarted_on_regain: false",
    "spin_test": "seen: {front-left: cw}",
    "output_test": "turned: {front-left: front-left}",
}
WORDS = {
    "tilt_test": "tilt test",
    "stick_check": "stick check",
    "link_loss_test": "link-loss test",
    "spin_test": "spin test",
    "output_test": "output test",
}
LOOKED_AT_BY = {kind: "rotation/props-removed" if kind in ("spin_test", "output_test") else RULE for kind in BODY}


def entry(kind, props, date="2026-05-18"):
    said = f"props: {props}, " if props else ""
    return f"{{date: {date}, {said}{BODY[kind]}}}"


def judged(kind, *entries):
    text = f"{HEAD}  {kind}: [{', '.join(entries)}]\n"
    return text, answer(text, LOOKED_AT_BY[kind])


@pytest.mark.parametrize("kind", BODY)
def test_fitted_in_full(kind):
    text, found = judged(kind, entry(kind, "fitted"))
    assert isinstance(found, Finding)
    assert found.message == f"the {WORDS[kind]} of 2026-05-18 was made with the props fitted"
    same = "rotors" if kind in ("spin_test", "output_test") else "movements"
    assert found.evidence == f"props: fitted, and no later test of the same {same} with the props removed"
    assert found.do == f"remove the props, repeat the {WORDS[kind]} and record it with props: removed"
    assert marked(text, found.place) == "fitted"
    rule = next(r.rule for r in inspect_text(text).results if r.rule.id == LOOKED_AT_BY[kind])
    assert (str(rule.severity), rule.precaution) == ("caution", PROPS_REMOVED)


@pytest.mark.parametrize("kind", BODY)
def test_not_recorded_in_full(kind):
    text, told = judged(kind, entry(kind, None))
    assert isinstance(told, Unproven)
    assert (told.cause, told.message, told.do) == (
        "absent", f"whether the props were off in the {WORDS[kind]} of 2026-05-18 is not recorded",
        f"write props: removed, or props: fitted, in the {WORDS[kind]}",
    )
    assert marked(text, told.place) == "2026-05-18"


@pytest.mark.parametrize("kind", BODY)
def test_removed(kind):
    assert judged(kind, entry(kind, "removed"))[1] == Clear(f"props removed in the {WORDS[kind]} of 2026-05-18")


@pytest.mark.parametrize("kind", BODY)
@pytest.mark.parametrize(("first", "second", "expected"), [
    (("fitted", "2026-05-18"), ("removed", "2026-05-19"), Clear),
    (("removed", "2026-05-18"), ("fitted", "2026-05-19"), Finding),
    (("fitted", "2026-05-18"), ("removed", "2026-05-18"), Finding),  # which came first is not known
    (("fitted", "2026-05-18 09:00"), ("removed", "2026-05-18 09:30"), Clear),
    (("fitted", "2026-05-18"), ("removed", "2026-05-22"), Finding),  # still to come
    (("fitted", "2026-05-18"), (None, "2026-05-19"), Unproven),
])
def test_a_later_one_settles_it(kind, first, second, expected):
    entries = [entry(kind, props, date) for props, date in (first, second)]
    assert isinstance(judged(kind, *entries)[1], expected)
    assert isinstance(judged(kind, *reversed(entries))[1], expected)


def test_what_a_later_one_did_not_try_is_not_settled():
    whole = "{date: 2026-05-18, props: fitted, moves: [{did: throttle-up}], arms_at_raised_throttle: false}"
    part = "{date: 2026-05-19, props: removed, moves: [{did: throttle-up}]}"
    assert isinstance(judged("stick_check", whole, part)[1], Finding)
    rest = "{date: 2026-05-20, props: removed, arms_at_raised_throttle: false}"
    assert isinstance(judged("stick_check", whole, part, rest)[1], Clear)


def test_where_the_motors_start_is_tried_again_too():
    whole = "{date: 2026-05-18, props: fitted, start_throttle_percent: {front-left: 5}, arms_at_raised_throttle: false}"
    part = "{date: 2026-05-19, props: removed, arms_at_raised_throttle: false}"
    assert isinstance(judged("stick_check", whole, part)[1], Finding)
    rest = "{date: 2026-05-20, props: removed, start_throttle_percent: {front-left: 5}}"
    assert isinstance(judged("stick_check", whole, part, rest)[1], Clear)


def test_none_recorded():
    assert answer(HEAD + "  rig_check: [{date: 2026-05-18, rig: flight}]\n", RULE) == NotApplicable(
        "no tilt test, stick check, link-loss test or cut-off test is recorded"
    )


@pytest.mark.parametrize("rig", ["flight", "inverted-load"])
@pytest.mark.parametrize(("props", "kind"), [("removed", Clear), ("fitted", Finding), (None, Unproven)])
def test_in_either_rig(rig, props, kind):
    """With the props removed the rig changes nothing of which motor answers; with them on it is found in both."""
    said = f"      props: {props}\n" if props else ""
    text = (
        f"{opening()}rotors:\n"
        "  - {at: front-left, spin: cw}\n  - {at: front-right, spin: ccw}\n"
        "  - {at: rear-left, spin: ccw}\n  - {at: rear-right, spin: cw}\n"
        f"records:\n  rig_check: [{{date: 2026-05-18 08:00, rig: {rig}}}]\n"
        f"  tilt_test:\n    - date: 2026-05-18 09:00\n{said}      moves:\n"
        "        - {did: nose-down, indicated: nose-down, sped_up: [front-left, front-right]}\n"
        "        - {did: right-down, indicated: right-down, sped_up: [front-right, rear-right]}\n"
        "        - {did: turned-right, indicated: turned-right, sped_up: [front-left, rear-right]}\n"
    )
    inspected = inspect_text(text)
    assert isinstance(outcome(inspected, "control/tilt-answer"), Clear)
    assert isinstance(outcome(inspected, RULE), kind)
