"""Bells pulled by hand: what moved, what was never pulled, and what was done since."""

import pytest
from making.manifests import answer, manifest

from preflint.api import Clear, Finding, NotApplicable, Unproven
from preflint.testing import inspect_text, marked, outcome

PULL, ASK = "retention/bell-pull", "retention/bells-pulled"
ALL = ("front-left", "front-right", "rear-left", "rear-right")
HOW = (
    "hold the arm and pull each bell along its shaft, away from the arm; write a bell_pull "
    "for each with what it did"
)
NOT_PULLED = NotApplicable("not pulled: retention/bells-pulled asks for it")
STALE = NotApplicable("the bell pull no longer speaks: retention/bells-pulled asks for another")


def pulls(made, log=()):
    entries = [f"date: {date}, at: {at}, moved: {moved}" for date, at, moved in made]
    return manifest(records={"bell_pull": entries}, logbook=log)


def pulled(*made, log=(), at="front-left", rule=PULL):
    return answer(pulls(made, log), rule, at)


def test_a_bell_that_moved():
    text = pulls([("2026-04-18", "front-left", "true")])
    found = answer(text, PULL, "front-left")
    assert found == Finding(
        place=found.place, message="the bell moved along the shaft when it was pulled on 2026-04-18",
        evidence="bell_pull moved true",
        do="refit the clip or screw that holds the shaft in the motor, or replace the motor; then pull again "
        "and record it",
        record="bell_pull",
    )
    assert (found.place.line, marked(text, found.place)) == (5, "true")


def test_a_bell_that_stayed():
    assert pulled(("2026-04-18", "front-left", "false")) == Clear("bell pull of 2026-04-18: firm")


def test_bells_that_nobody_pulled_are_asked_for_once():
    inspected = inspect_text(pulls([]))
    assert all(outcome(inspected, PULL, at) == NOT_PULLED for at in ALL)
    asked = outcome(inspected, ASK)
    assert asked == Unproven(
        place=asked.place, message="no bell pull is recorded of front-left, front-right, rear-left, rear-right", do=HOW,
        record="bell_pull",
    )


def test_one_bell_that_nobody_pulled():
    text = pulls([("2026-04-18", at, "false") for at in ALL[1:]])
    asked = answer(text, ASK)
    assert asked.message == "no bell pull is recorded of front-left"
    assert marked(text, asked.place) == "records"


def test_all_bells_pulled():
    text = pulls([("2026-04-18", at, "false") for at in ALL])
    assert answer(text, ASK) == Clear("every motor's bell was pulled since it was last worked on")


def test_a_firm_pull_of_the_future_does_not_count_and_one_that_moved_does():
    firm, moved = (pulls([("2026-04-18", "front-left", told)]) for told in ("false", "true"))
    assert outcome(inspect_text(firm, "2026-04-17"), PULL, "front-left") == NOT_PULLED
    assert isinstance(outcome(inspect_text(moved, "2026-04-17"), PULL, "front-left"), Finding)


@pytest.mark.parametrize(("judged_on", "expected"), [("2027-04-18", Clear), ("2027-04-19", NotApplicable)])
def test_a_pull_that_is_older_than_its_validity_says_nothing(judged_on, expected):
    """365 days, as the file of what lasts has it; retention/bells-pulled asks for another."""
    text = pulls([("2026-04-18", at, "false") for at in ALL])
    inspected = inspect_text(text, judged_on)
    assert all(isinstance(outcome(inspected, PULL, at), expected) for at in ALL)
    assert isinstance(outcome(inspected, ASK), Clear) is (expected is Clear)


def test_a_pull_before_a_hard_landing_asks_for_another():
    log = ["date: 2026-05-01, kind: hard-landing"]
    text = pulls([("2026-04-18", at, "false") for at in ALL], log)
    inspected = inspect_text(text)
    assert all(outcome(inspected, PULL, at) == STALE for at in ALL)
    asked = outcome(inspected, ASK)
    assert (asked.cause, asked.place.line) == ("stale", 5)
    assert asked.message == (
        "older than work done since: the bell pull of front-left, front-right, rear-left, rear-right"
    )
    assert [(other.place.line, other.message) for other in asked.related] == [
        (10, f"{at}: hard landing on 2026-05-01") for at in ALL
    ]


def test_what_is_missing_and_what_is_old_are_said_together():
    log = ["date: 2026-05-01, kind: replaced, part: motor, at: front-right"]
    asked = pulled(*[("2026-04-18", at, "false") for at in ALL[1:]], log=log, at=None, rule=ASK)
    assert (asked.cause, asked.message) == (
        "absent", "no bell pull is recorded of front-left; older than work done since: the bell pull of front-right",
    )


@pytest.mark.parametrize(("entry", "expected"), [
    ("date: 2026-05-01, kind: hard-landing", Finding),
    ("date: 2026-05-01, kind: crashed", Finding),
    ("date: 2026-05-01, kind: moved, part: motor, at: front-left", Finding),
    ("date: 2026-05-01, kind: replaced, part: motor, at: rear-left", Finding),
    ("date: 2026-04-18, kind: replaced, part: motor, at: front-left", Finding),  # which came first is open
    ("date: 2026-05-30, kind: replaced, part: motor, at: front-left", Finding),  # not done yet
    ("date: 2026-05-01, kind: replaced, part: motor, at: front-left", Finding),
    ("date: 2026-05-01, kind: fitted, part: motor, at: front-left", Finding),
])
def test_a_bell_that_moved_counts_until_a_later_pull(entry, expected):
    assert isinstance(pulled(("2026-04-18", "front-left", "true"), log=[entry]), expected)


@pytest.mark.parametrize(("made", "expected"), [
    ([("2026-04-18", "true"), ("2026-04-20", "false")], Clear),
    ([("2026-04-20", "true"), ("2026-04-18", "false")], Finding),
    ([("2026-04-18", "true"), ("2026-04-18", "false")], Finding),  # the order is open
    ([("2026-04-18 10:00", "true"), ("2026-04-18", "false")], Finding),
    ([("2026-04-18 10:00", "true"), ("2026-04-18 11:00", "false")], Clear),
])
def test_the_latest_pull_counts_and_an_open_order_is_not_assumed_in_favour(made, expected):
    assert isinstance(pulled(*[(date, "front-left", moved) for date, moved in made]), expected)
