"""Deferred defects: full texts, both sides, and what they set aside."""

import datetime as dt

import pytest
from making.manifests import opening

from preflint.api import Clear, Finding, NotApplicable
from preflint.findings.deferral import deferred
from preflint.testing import inspect_text, marked, outcome

BARE = opening("Lapwing", more="relies_on: []")
RULES = ("papers/deferral-unmatched", "papers/deferral-expired", "papers/deferral-not-allowed")


def text(rule, until="2026-06-01", at=""):
    return BARE + (
        f"deferred_defects:\n  - {{rule: {rule}, {at}until: {until}, by: R. Ashdown, because: parts ordered}}\n"
    )


def answers(manifest, at=None):
    inspected = inspect_text(manifest)
    return [outcome(inspected, rule, at) for rule in RULES]


def set_aside(inspected, judged_on="2026-05-21"):
    entries = deferred(inspected.results, inspected.aircraft.deferrals, dt.date.fromisoformat(judged_on), 30)
    return [(entry.result.rule.id, entry.result.at) for entry in entries]


def test_a_deferral_in_force():
    manifest = text("freshness/first-flight")
    assert answers(manifest) == [
        Clear("a finding of freshness/first-flight is deferred"),
        Clear("runs until 2026-06-01"),
        Clear("freshness/first-flight may be deferred"),
    ]
    inspected = inspect_text(manifest)
    assert set_aside(inspected) == [("freshness/first-flight", None)]
    assert inspected.verdict == inspect_text(BARE).verdict


def test_unknown_rule_in_full():
    manifest = text("freshness/first-fligt")
    unmatched, expired, not_allowed = answers(manifest)
    assert isinstance(unmatched, Finding)
    assert unmatched.message == (
        "freshness/first-fligt is no rule; did you mean freshness/first-flight?"
    )
    assert unmatched.evidence == "deferred until 2026-06-01 by R. Ashdown: parts ordered"
    assert unmatched.do == "write the rule as the report names it, or take the deferral out"
    assert marked(manifest, unmatched.place) == "freshness/first-fligt"
    assert isinstance(expired, NotApplicable)
    assert not_allowed == NotApplicable("no such rule")
    assert set_aside(inspect_text(manifest)) == []


def test_nothing_found_there_in_full():
    manifest = text("failsafe/range-test")
    unmatched, expired, _ = answers(manifest)
    assert isinstance(unmatched, Finding)
    assert unmatched.message == "failsafe/range-test is deferred, but nothing is found there"
    assert unmatched.do == "take the deferral out of the list"
    assert isinstance(expired, NotApplicable)


def test_the_position_counts():
    manifest = text("freshness/first-flight", at="at: rear-left, ")
    unmatched, _, _ = answers(manifest, "rear-left")
    assert isinstance(unmatched, Finding)
    assert unmatched.message == (
        "freshness/first-flight at rear-left is deferred, but nothing is found there"
    )
    assert unmatched.do == "correct its position"
    assert [r.message for r in unmatched.related] == ["found for the whole aircraft"]
    assert set_aside(inspect_text(manifest)) == []


def test_expired_on_both_sides_in_full():
    manifest = text("freshness/first-flight", until="2026-05-20")
    unmatched, expired, _ = answers(manifest)
    assert isinstance(unmatched, Clear)
    assert isinstance(expired, Finding)
    assert expired.message == (
        "freshness/first-flight was deferred until 2026-05-20: the defect is still there"
    )
    assert expired.evidence == "deferred by R. Ashdown: parts ordered; judged on 2026-05-21"
    assert expired.do == "put the defect right, or have somebody answer for it again until a new day"
    assert marked(manifest, expired.place) == "2026-05-20"
    assert set_aside(inspect_text(manifest)) == []
    last_day = text("freshness/first-flight", until="2026-05-21")
    assert isinstance(answers(last_day)[1], Clear)
    assert set_aside(inspect_text(last_day)) == [("freshness/first-flight", None)]


def test_too_long_on_both_sides_in_full():
    manifest = text("freshness/first-flight", until="2026-06-21")
    inspected = inspect_text(manifest)
    found = outcome(inspected, "papers/deferral-too-long", None)
    assert isinstance(found, Finding)
    assert found.message == "the deferral of freshness/first-flight runs for 31 days: it sets nothing aside"
    assert found.evidence == (
        "until 2026-06-21, deferred by R. Ashdown: parts ordered; judged on 2026-05-21; at most 30 days"
    )
    assert found.do == (
        "put the defect right, or write 2026-06-20 or a day before it, and look at the defect again by then"
    )
    assert marked(manifest, found.place) == "2026-06-21"
    assert [one.message for one in found.related] == ["the defect"]
    assert inspected.deferred == ()
    last_day = inspect_text(text("freshness/first-flight", until="2026-06-20"))
    assert outcome(last_day, "papers/deferral-too-long", None) == Clear("runs until 2026-06-20; at most 30 days ahead")
    assert [entry.result.rule.id for entry in last_day.deferred] == ["freshness/first-flight"]
    nothing_there = inspect_text(text("failsafe/range-test", until="2027-06-21"))
    assert isinstance(outcome(nothing_there, "papers/deferral-too-long", None), NotApplicable)


@pytest.mark.parametrize(("days", "set_aside", "weakens"), [(31, 1, True), (30, 0, False), (7, 0, False)])
def test_a_policy_sets_how_long_a_deferral_may_run(days, set_aside, weakens):
    policy = f"{{preflint: 1, tolerances: {{longest_deferral_days: {days}}}}}\n"
    inspected = inspect_text(text("freshness/first-flight", until="2026-06-21"), files={"preflint.yaml": policy})
    assert len(inspected.deferred) == set_aside
    told = f"weakens: longest_deferral_days {days} days (usually 30 days)"
    assert (told in inspected.policy) is weakens


def test_a_no_go_is_not_deferred_in_full():
    manifest = text("failsafe/link-loss") + "records:\n  link_loss_test: [{date: 2026-05-20, outputs_stopped: false}]\n"
    unmatched, expired, not_allowed = answers(manifest)
    assert isinstance(not_allowed, Finding)
    assert not_allowed.message == "failsafe/link-loss cannot be deferred: a no-go is put right before flight"
    assert not_allowed.evidence == "deferred until 2026-06-01 by R. Ashdown: parts ordered"
    assert not_allowed.do == "take the deferral out of the list and put the defect right"
    assert marked(manifest, not_allowed.place) == "failsafe/link-loss"
    assert isinstance(unmatched, NotApplicable)
    assert isinstance(expired, NotApplicable)
    inspected = inspect_text(manifest)
    assert inspected.verdict == "no-go"
    assert set_aside(inspected) == []


def test_findings_about_deferrals_are_not_deferred():
    manifest = text("freshness/nothing") + (
        "  - {rule: papers/deferral-unmatched, until: 2026-06-01, by: R. Ashdown, because: tired of it}\n"
    )
    inspected = inspect_text(manifest)
    found = [r.outcome for r in inspected.results if r.rule.id == "papers/deferral-not-allowed"]
    assert [type(o) for o in found] == [NotApplicable, Finding]
    assert set_aside(inspected) == []


def test_results_stay_in_order_of_their_rules():
    ids = [r.rule.id for r in inspect_text(text("freshness/first-flight")).results]
    assert ids == sorted(ids)
