"""The order of events: against dates as text, in any order written, and never in favour of the aircraft."""

import datetime as dt
import json
from dataclasses import replace
from functools import cache
from importlib.resources import files

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from making.manifests import CLUB

from preflint.aircraft.field import Absent, Known
from preflint.aircraft.logbook import LogEntry
from preflint.aircraft.moment import Moment
from preflint.aircraft.records import Records
from preflint.aircraft.words import PARTS
from preflint.engine.freshness import in_order, outdated, touches, what_happened
from preflint.engine.lasting import ENDS, read_lasting
from preflint.engine.rule_module import Staling, builtin_and
from preflint.engine.runner import judge
from preflint.errors import RuleModuleError
from preflint.findings.outcome import Finding
from preflint.findings.result import verdict
from preflint.inspection import inspect_manifest
from preflint.places import Place

HERE = Place("trial.airframe.yaml", 1, 1, 1, 2)
SOFT = settings(derandomize=True, deadline=None, max_examples=60)


def entry(date, kind="replaced", part="motor", at=None, touched=None):
    nothing = Absent("", HERE, "")
    touches = nothing if touched is None else Known(tuple(Known(word, HERE) for word in touched), HERE)
    return LogEntry(
        HERE, Known(Moment.parse(date), HERE), Known(kind, HERE), Known(part, HERE) if part else nothing,
        Known(at, HERE) if at else nothing, touches, nothing, nothing, nothing, nothing, nothing,
    )


DATES = st.one_of(
    st.sampled_from(["2026-05-01", "2026-05-02", "2026-05-03", "2026-06-30"]),
    st.tuples(
        st.sampled_from(["2026-05-01", "2026-05-02", "2026-05-03"]),
        st.sampled_from(["00:00", "09:30", "09:31", "23:59"]),
    ).map(" ".join),
)
ROTORS = st.sampled_from([None, "front-left", "rear-left"])
EVENTS = st.builds(
    entry, DATES, st.sampled_from(["replaced", "moved", "flown", "crashed"]),
    st.sampled_from(["motor", "prop", "compass"]), ROTORS,
)
ROWS = (
    Staling("spin_test", "motor", frozenset({"replaced"}), True),
    Staling("spin_test", "any", frozenset({"crashed"}), True),
)


def expected(date, at, events):
    """In words of text: a day is ten characters, and text of one form sorts as time does."""
    answers = set()
    for event in events:
        when, kind = str(event.date.value), event.kind.value
        where = event.at.value if isinstance(event.at, Known) else None
        motor = kind == "replaced" and event.part.value == "motor" and (None in (at, where) or at == where)
        if not (motor or kind == "crashed"):
            continue
        if when[:10] > date[:10] or (
            when[:10] == date[:10] and len(when) > 10 and len(date) > 10 and when > date
        ):
            answers.add("stale")
        elif when[:10] == date[:10] and (len(when) == 10 or len(date) == 10 or when == date):
            answers.add("order-open")
    return "stale" if "stale" in answers else "order-open" if answers else None


@SOFT
@given(DATES, ROTORS, st.lists(EVENTS, max_size=5))
def test_against_dates_as_text(date, at, events):
    found = outdated("spin_test", entry(date), at, events, ROWS, Moment(dt.date(2026, 5, 21)))
    assert (found.cause if found else None) == expected(date, at, events)
    if found:
        assert found.future == (str(found.event.date.value) > "2026-05-21")


@SOFT
@given(DATES, ROTORS, st.lists(EVENTS, max_size=5), st.randoms(use_true_random=False))
def test_the_order_written_changes_nothing(date, at, events, random):
    record, today = entry(date), Moment(dt.date(2026, 5, 21))
    shuffled = random.sample(events, len(events))
    one = outdated("spin_test", record, at, sorted(events, key=in_order), ROWS, today)
    other = outdated("spin_test", record, at, sorted(shuffled, key=in_order), ROWS, today)
    assert (one and (one.cause, what_happened(one.event))) == (other and (other.cause, what_happened(other.event)))


@SOFT
@given(DATES, ROTORS, st.lists(EVENTS, max_size=4), EVENTS)
def test_one_more_event_never_freshens(date, at, events, more):
    record, today = entry(date), Moment(dt.date(2026, 5, 21))
    rank = {None: 0, "order-open": 1, "stale": 2}
    before = outdated("spin_test", record, at, events, ROWS, today)
    after = outdated("spin_test", record, at, [*events, more], ROWS, today)
    assert rank[after.cause if after else None] >= rank[before.cause if before else None]


def test_of_work_whose_order_is_open_the_first_is_named():
    """The record has no time of day, so that either may have come before it."""
    first, second = entry("2026-05-02 09:30"), entry("2026-05-02 11:00", "crashed", None)
    found = outdated("spin_test", entry("2026-05-02"), None, [first, second], ROWS, Moment(dt.date(2026, 5, 21)))
    assert (found.cause, found.event) == ("order-open", first)


def test_work_at_an_arm_concerns_both_its_rotors():
    row = Staling("spin_test", "motor", frozenset({"replaced"}), True)
    at_arm = entry("2026-05-01", at="front-left")
    assert touches(at_arm, row, "front-left-upper")
    assert touches(at_arm, row, "front-left-lower")
    assert not touches(at_arm, row, "rear-left-upper")
    assert not touches(entry("2026-05-01", at="front"), row, "front-left")
    assert not touches(entry("2026-05-01", at="front-left-upper"), row, "front-left-lower")


@cache
def club_aircraft():
    registry = builtin_and(())
    read = [inspect_manifest(path, dt.date(2026, 5, 21), registry) for path in sorted(CLUB.glob("*.airframe.yaml"))]
    return registry, tuple(read)


ANY_ENTRY = st.builds(
    entry, st.sampled_from(["2026-05-09", "2026-05-20", "2026-05-20 09:00", "2026-05-21", "2026-06-30"]),
    st.sampled_from(sorted(ENDS)), st.sampled_from(sorted(PARTS)),
)
ORDER = ("no-go", "unproven", "go-with-cautions", "go")


@settings(derandomize=True, deadline=None, max_examples=30)
@given(st.data())
def test_more_work_never_ungrounds_an_aircraft(data):
    registry, read = club_aircraft()
    one = data.draw(st.sampled_from(read))
    work = data.draw(ANY_ENTRY)
    aircraft = replace(one.aircraft, logbook=(*one.aircraft.logbook, work))
    after = verdict(judge(aircraft, dt.date(2026, 5, 21), registry, {}).results)
    if one.verdict in ("no-go", "unproven"):
        assert after in ("no-go", "unproven")
    else:
        assert ORDER.index(after) <= ORDER.index(one.verdict)


@settings(derandomize=True, deadline=None, max_examples=30)
@given(st.data())
def test_the_order_of_the_logbook_changes_no_outcome(data):
    registry, read = club_aircraft()
    one = data.draw(st.sampled_from(read))
    logbook = (*one.aircraft.logbook, *data.draw(st.lists(ANY_ENTRY, max_size=3)))
    shuffled = tuple(data.draw(st.permutations(logbook)))
    before = judge(replace(one.aircraft, logbook=logbook), dt.date(2026, 5, 21), registry, {})
    after = judge(replace(one.aircraft, logbook=shuffled), dt.date(2026, 5, 21), registry, {})
    assert before == after


def test_a_stale_event_is_found_in_an_aircraft_that_was_ready():
    registry, read = club_aircraft()
    ready = next(one for one in read if one.verdict == "go")
    crash = entry("2026-05-21", "crashed", None)
    results = judge(
        replace(ready.aircraft, logbook=(*ready.aircraft.logbook, crash)), dt.date(2026, 5, 21), registry, {}
    ).results
    assert verdict(results) == "unproven"
    assert any(r.rule.id == "freshness/stale-record" and isinstance(r.outcome, Finding) for r in results)


# --- the file ---

FILE = files("preflint_rules").joinpath("freshness/lasting.yaml").read_bytes()


def test_every_kind_of_record_has_its_entry():
    assert set(read_lasting(FILE, "lasting.yaml")) == set(Records.kinds())


def test_parts_and_work_are_those_of_the_logbook():
    entry_schema = json.loads(files("preflint_schemas").joinpath("airframe.schema.json").read_text())[
        "$defs"
    ]["LogEntry"]
    assert set(entry_schema["properties"]["part"]["enum"]) == set(PARTS)
    assert set(entry_schema["properties"]["kind"]["enum"]) == ENDS | {"flown"}


# What a change of settings was written to touch, and whether it ends a spin test (whose row names outputs and spin).
@pytest.mark.parametrize(("touched", "ends"), [
    (None, True), ([], False), (["sticks"], False), (["spin"], True), (["sticks", "outputs"], True),
])
def test_a_change_of_settings_ends_what_it_touches(touched, ends):
    row = Staling("spin_test", "esc", frozenset({"settings-changed"}), True, frozenset({"outputs", "spin"}))
    change = entry("2026-05-02", "settings-changed", "esc", touched=touched)
    assert touches(change, row, None) == ends
    elsewhere = entry("2026-05-02", "settings-changed", "controller", touched=touched)
    assert touches(elsewhere, row, None) == (ends and touched is not None)  # only where it is written what was
    of_a_club = replace(row, settings=None)  # names no settings: whatever was touched ends it
    assert touches(change, of_a_club, None) == (touched != [])


def test_every_row_names_work():
    lasting = read_lasting(FILE, "lasting.yaml")
    assert all(row.work and row.record == kind for kind, entry in lasting.items() for row in entry.rows)


@pytest.mark.parametrize(("old", "new", "message"), [
    ("    motor: [fitted", "    motr: [fitted", "19: spin_test: motr is no part"),
    ("    motor: [fitted", "    motor: [mended", "19: spin_test, motor: mended is no kind of work"),
    ("    motor: [fitted", "    motor: [flown", "19: spin_test, motor: flown is no kind of work"),
    ("spin_test:", "spun_test:", "17: no entry for the record kind spin_test"),
    ("  good_for_days: 365", "  good_for_days: -1", "26: good_for_days is a whole number of days; 0 is the "),
    ("  good_for_days: 365", "  good_for_days: true", "26: good_for_days is a whole number of days; 0 is the "),
    ("  good_for_days: 365\n", "", "18: spin_test needs exactly good_for_days, stale_after"),
    ("  good_for_days: 365\n", "  repeat: look\n  good_for_days: 365\n", "18: spin_test needs exactly"),
    ("    anything: [crashed]", "    anything: crashed",
     "24: spin_test, anything: a list of kinds of work is needed"),
    ("    motor: [fitted", "    motor: [fitted", None),
    ("  settings: [outputs, spin]", "  settings: [lights]", "25: spin_test, settings: a list of voltage-scale, "),
    ("  settings: [outputs, spin]\n", "", "18: spin_test: settings are named where, and only where, "),
    ("spin_test:\n", "spin_test: &x\n  <<: 1\n", "18: "),
])
def test_a_malformed_file_stops_the_run(old, new, message):
    text = FILE.decode().replace(old, new, 1)
    if message is None:
        assert read_lasting(text.encode(), "lasting.yaml")
        return
    with pytest.raises(RuleModuleError) as error:
        read_lasting(text.encode(), "lasting.yaml")
    assert str(error.value).startswith(f"lasting.yaml:{message}")


def test_nothing_needs_a_reason():
    start = FILE.decode().index("  stale_after:\n    motor")
    end = FILE.decode().index("  good_for_days")
    text = FILE.decode()[:start] + "  stale_after: nothing\n" + FILE.decode()[end:]
    with pytest.raises(RuleModuleError, match="nothing ends spin_test: write because"):
        read_lasting(text.encode(), "lasting.yaml")
    with_reason = text.replace("stale_after: nothing\n", "stale_after: nothing\n  because: it is carved in stone\n", 1)
    assert read_lasting(with_reason.encode(), "lasting.yaml")["spin_test"].rows == ()


def test_what_is_no_kind_and_what_holds_no_parts() -> None:
    text = FILE.decode()
    with pytest.raises(RuleModuleError, match="flown_test is no kind of record"):
        read_lasting(f"{text}\nflown_test:\n  good_for_days: 3\n  stale_after: nothing\n".encode(), "lasting.yaml")
    start, end = text.index("  stale_after:\n    motor"), text.index("  good_for_days")
    with pytest.raises(RuleModuleError, match="stale_after holds parts with kinds of work, or: nothing"):
        read_lasting(f"{text[:start]}  stale_after: never\n{text[end:]}".encode(), "lasting.yaml")
