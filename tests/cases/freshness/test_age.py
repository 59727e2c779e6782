"""Records that grew old with nothing done to the aircraft."""

import pytest
from making.manifests import expect, opening
from preflint_rules.freshness.stale import AGE

from preflint.api import Clear, Finding, NotApplicable
from preflint.testing import inspect_text, marked, outcome

BARE = opening("Lapwing")


def _age(text):
    (found,) = [r.outcome for r in inspect_text(text).results if r.rule.id == "freshness/age"]
    return found


def test_age_on_both_sides_of_the_limit():
    text = BARE + "records:\n  range_test: [{date: 2025-05-20, distance_m: 60, control_held: true}]\n"
    outcome = expect(Finding, _age(text))
    assert outcome.message == "the range test of 2025-05-20 is 366 days old"
    assert outcome.evidence == "at most 365 days are allowed for a range test"
    assert outcome.do == (
        "repeat the range test: put the aircraft about 1 m above the ground, walk away with the transmitter and note "
        "how far control is complete"
    )
    assert marked(text, outcome.place) == "2025-05-20"
    assert _age(text.replace("2025-05-20", "2025-05-21")) == Clear("365 days old; at most 365")


@pytest.mark.parametrize(("record", "message", "evidence"), [
    ("range_test: [{date: OLD, control_held: true}]", "the range test of OLD is DAYS", "a range test"),
    ("output_test: [{date: OLD, turned: {rear-left: rear-left}}]", "the output test of OLD is DAYS",
     "an output test"),
    ("six_positions: [{date: OLD, columns: [accel_x_m_s2, accel_y_m_s2, accel_z_m_s2], rows: [[0, 0, 9.8]]}]",
     "the six positions of OLD are DAYS", "six positions"),
    ("cell_voltages: [{date: OLD, cells_v: [4.1, 4.1]}]", "the cell voltages of OLD are DAYS", "cell voltages"),
])
def test_the_record_is_named_as_people_say_it(record, message, evidence):
    found = expect(Finding, _age(BARE + f"records:\n  {record}\n".replace("OLD", "2025-05-20")))
    assert found.message == message.replace("OLD", "2025-05-20").replace("DAYS", "366 days old")
    assert found.evidence == f"at most 365 days are allowed for {evidence}"


def test_every_limit_of_age_is_named_as_people_say_it():
    for kind, limit in AGE.items():
        named = {
            "cut_off_test": "cut-off test", "link_loss_test": "link-loss test", "walk_round": "walk-round",
            "after_flight_look": "after-flight look",
        }.get(kind, kind.replace("_", " "))  # fmt: skip
        article = "" if named.endswith("s") else "an " if named[0] in "aeiou" else "a "
        assert limit.meaning == f"how old {article}{named} may get with nothing done to the aircraft"


def test_age_says_nothing_about_what_is_stale_anyway():
    text = (
        BARE
        + "records:\n  range_test: [{date: 2020-05-20, control_held: true}]\n"
        + "logbook:\n  - {date: 2026-05-09, kind: replaced, part: antenna}\n"
    )
    assert _age(text) == NotApplicable("it is stale, or may be, by what was done since")
    text = text.replace("2026-05-09", "2020-05-20")
    assert _age(text) == NotApplicable("it is stale, or may be, by what was done since")


def test_what_counts_on_its_own_day_only_grows_no_older():
    """A pack looked at yesterday: nobody asks about that look; of today it is."""
    text = BARE + "packs: [{label: A1}]\nrecords:\n  pack_check: [{date: 2026-05-20, pack: A1, rocks_on_flat: false}]\n"
    assert _age(text) == NotApplicable("it counted on its own day only")
    assert _age(text.replace("05-20", "05-21")) == Clear("0 days old; at most 0")


def test_an_earlier_record_of_the_kind_is_left_to_the_later():
    held = "distance_m: 60, control_held: true"
    text = BARE + f"records:\n  range_test: [{{date: 2025-01-20, {held}}}, {{date: 2026-01-20, {held}}}]\n"
    told = [r.outcome for r in inspect_text(text).results if r.rule.id == "freshness/age"]
    assert told == [NotApplicable("a later record of the kind counts"), Clear("121 days old; at most 365")]


def test_a_club_may_let_it_count_for_longer():
    text = BARE + "packs: [{label: A1}]\nrecords:\n  pack_check: [{date: 2026-05-20, pack: A1, rocks_on_flat: false}]\n"
    told = inspect_text(text, files={"preflint.yaml": "{preflint: 1, record_ages: {pack_check: 2}}\n"})
    assert outcome(told, "freshness/age") == Clear("1 day old; at most 2")
