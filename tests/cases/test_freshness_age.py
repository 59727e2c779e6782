"""Records that grew old with nothing done to the aircraft."""

from preflint.api import Clear, Finding, NotApplicable
from preflint.testing import inspect_text, marked

BARE = "preflint: 1\naircraft: {name: Lapwing, layout: quad-x}\n"


def _age(text):
    (found,) = [r.outcome for r in inspect_text(text).results if r.rule.id == "freshness/age"]
    return found


def test_age_on_both_sides_of_the_limit():
    text = BARE + "records:\n  range_test: [{date: 2025-05-20, distance_m: 60, control_held: true}]\n"
    outcome = _age(text)
    assert isinstance(outcome, Finding)
    assert outcome.message == "the range test of 2025-05-20 is 366 days old"
    assert outcome.evidence == "at most 365 days are allowed for a range test"
    assert outcome.remedy == (
        "repeat the range test: walk away with the transmitter and note how far control is complete"
    )
    assert marked(text, outcome.place) == "2025-05-20"
    assert _age(text.replace("2025-05-20", "2025-05-21")) == Clear("365 days old; at most 365")


def test_age_says_nothing_about_what_is_stale_anyway():
    text = (
        BARE
        + "records:\n  range_test: [{date: 2020-05-20, control_held: true}]\n"
        + "logbook:\n  - {date: 2026-05-09, kind: replaced, part: antenna}\n"
    )
    assert _age(text) == NotApplicable("it is stale, or may be, by what was done since")
    text = text.replace("2026-05-09", "2020-05-20")
    assert _age(text) == NotApplicable("it is stale, or may be, by what was done since")
