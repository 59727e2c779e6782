"""Saved settings and changes that no record speaks for: full texts, both sides, missing input."""

import pytest
from making.manifests import answer, expect, manifest

from preflint.api import Clear, Finding, NotApplicable
from preflint.testing import inspect_text, marked

UNLOGGED, OTHER = "freshness/unlogged-change", "freshness/other-settings"
ONE, TWO, THREE = "9f86d081884c7d65", "60303ae22b998861", "fd61a03af4f77d87"


def saved(*pairs, log=()):
    return manifest(records={"saved_settings": [f"date: {day}, sha256: {sha}" for day, sha in pairs]}, logbook=log)


def test_a_change_without_an_entry_in_full():
    text = saved(("2026-05-10", ONE), ("2026-05-17", TWO))
    found = expect(Finding, answer(text, UNLOGGED))
    assert (found.message, found.evidence, found.do) == (
        "settings changed between 2026-05-10 and 2026-05-17: no entry tells",
        "SHA-256 9f86d081884c and 60303ae22b99",
        "compare the two files; write in the logbook what was changed and what it touches",
    )
    assert marked(text, found.place) == TWO
    assert [(marked(text, one.place), one.message) for one in found.related] == [(ONE, "saved on 2026-05-10")]
    told = next(r for r in inspect_text(text).results if r.rule.id == UNLOGGED)
    assert (told.rule.severity.name, told.precaution) == ("CAUTION", "")


CHANGED = "kind: settings-changed, part: flight-controller, touches: [failsafe]"


@pytest.mark.parametrize(("entry", "tells"), [
    (f"date: 2026-05-12, {CHANGED}", True),
    ("date: 2026-05-12, kind: settings-changed, part: flight-controller, touches: []", True),
    ("date: 2026-05-12, kind: settings-changed, part: flight-controller, touches: [other]", True),
    ("date: 2026-05-12, kind: firmware, part: flight-controller", True),
    ("date: 2026-05-12, kind: reset, part: flight-controller", True),
    ("date: 2026-05-12, kind: replaced, part: flight-controller", True),
    ("date: 2026-05-12, kind: replaced, part: motor", False),
    ("date: 2026-05-12, kind: flown", False),
    (f"date: 2026-05-10, {CHANGED}", True),  # on one day without times it can lie between
    (f"date: 2026-05-17, {CHANGED}", True),
    (f"date: 2026-05-09, {CHANGED}", False),
    (f"date: 2026-05-18, {CHANGED}", False),
])
def test_which_entry_tells_of_it(entry, tells):
    text = saved(("2026-05-10", ONE), ("2026-05-17", TWO), log=[entry])
    assert isinstance(answer(text, UNLOGGED), Clear if tells else Finding)


@pytest.mark.parametrize(("first", "entry", "second", "tells"), [
    ("2026-05-10 10:00", "2026-05-10 11:00", "2026-05-10 12:00", True),
    ("2026-05-10 10:00", "2026-05-10 09:00", "2026-05-10 12:00", False),
    ("2026-05-10 10:00", "2026-05-10 13:00", "2026-05-10 12:00", False),
])
def test_times_of_one_day(first, entry, second, tells):
    text = saved((first, ONE), (second, TWO), log=[f"date: {entry}, {CHANGED}"])
    assert isinstance(answer(text, UNLOGGED), Clear if tells else Finding)


def test_the_latest_change_is_told_and_an_older_one_stays_a_finding():
    text = saved(("2026-05-01", ONE), ("2026-05-10", TWO), ("2026-05-17", TWO))
    assert expect(Finding, answer(text, UNLOGGED)).message.startswith("settings changed between 2026-05-01")
    text = saved(("2026-05-01", ONE), ("2026-05-10", TWO), ("2026-05-17", THREE))
    assert expect(Finding, answer(text, UNLOGGED)).message.startswith("settings changed between 2026-05-10")


@pytest.mark.parametrize(("first", "second"), [(ONE, ONE), (ONE, ONE.upper()), (ONE, ONE[:8]), (ONE + "0" * 48, ONE)])
def test_as_far_as_both_are_written(first, second):
    told = answer(saved(("2026-05-10", first), ("2026-05-17", second)), UNLOGGED)
    assert told == Clear("2 times saved, every change of them is in the logbook")


def test_the_order_written_does_not_count_and_the_future_does_not():
    back = saved(("2026-05-17", TWO), ("2026-05-10", ONE))
    assert expect(Finding, answer(back, UNLOGGED)).message.startswith("settings changed between 2026-05-10 and")
    ahead = saved(("2026-05-10", ONE), ("2026-05-22", TWO))
    assert isinstance(answer(ahead, UNLOGGED), NotApplicable)


def test_where_there_is_nothing_to_compare():
    for text in (manifest(), saved(("2026-05-10", ONE))):
        assert answer(text, UNLOGGED) == NotApplicable("the settings were not saved twice")


CHANGE = "kind: settings-changed, part: flight-controller, touches: [other]"


def test_other_settings_in_full():
    text = manifest(logbook=f"date: 2026-05-10, {CHANGE}, note: return speed")
    found = expect(Finding, answer(text, OTHER))
    assert (found.message, found.evidence, found.do) == (
        "other settings were changed on 2026-05-10: no test shows what they do",
        "changed in the last 30 days; the note of the entry may say what",
        "know what was changed before you fly; try it low and near",
    )
    assert marked(text, found.place) == "2026-05-10"


@pytest.mark.parametrize(("day", "kind"), [
    ("2026-05-21", Finding), ("2026-04-21", Finding), ("2026-04-20", Clear), ("2026-06-01", Finding),
])
def test_it_is_told_for_thirty_days(day, kind):
    assert isinstance(answer(manifest(logbook=f"date: {day}, {CHANGE}"), OTHER), kind)


@pytest.mark.parametrize("touches", ["touches: []", "touches: [level]", ""])
def test_no_change_of_others_is_none(touches):
    entry = f"date: 2026-05-20, kind: settings-changed, part: flight-controller, {touches}"
    text = manifest(logbook=entry.rstrip(", "))
    assert isinstance(answer(text, OTHER), NotApplicable)


def test_other_settings_end_no_record():
    test = {"cut_off_test": "date: 2026-05-10, props: removed, motors_stopped: true"}
    told = answer(manifest(records=test, logbook=f"date: 2026-05-11, {CHANGE}"), "failsafe/cut-off")
    assert isinstance(told, Clear)
