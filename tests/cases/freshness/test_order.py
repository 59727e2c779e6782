"""Entries from the future, current before interference, the first flight: full texts and both sides."""

import pytest
from making.manifests import expect, opening

from preflint.api import Clear, Finding, NotApplicable, Unproven
from preflint.testing import inspect_text, marked, outcome

BARE = opening("Lapwing", more="relies_on: [compass]")
RUN = "columns: [current_a, field_x_ut, field_y_ut, field_z_ut], rows: [[0, 18, 2, 44], [20, 20, 3, 44]]"
COMPARISON = "columns: [indicated_a, reference_a], rows: [[0, 0], [20, 21]]"


def judged(text, rule, judged_on="2026-05-21"):
    return outcome(inspect_text(text, judged_on), rule)


def test_entries_from_the_future_in_full():
    text = BARE + (
        "records:\n  range_test: [{date: 2026-05-22, control_held: true}]\n"
        "logbook:\n  - {date: 2026-06-09, kind: replaced, part: motor, at: rear-left}\n"
    )
    found = expect(Finding, judged(text, "freshness/future-entry"))
    assert found.message == (
        "dated after 2026-05-21, the day judged at: range test of 2026-05-22 (line 4), "
        "motor replaced at rear-left on 2026-06-09 (line 6)"
    )
    assert found.evidence == (
        "work from the future counts as done, a failed test as failed; a good record there proves nothing"
    )
    assert found.do == "correct the date, or take the entry out until it is done"
    assert marked(text, found.place) == "2026-05-22"
    assert [(marked(text, r.place), r.message) for r in found.related] == [
        ("2026-06-09", "motor replaced at rear-left on 2026-06-09")
    ]
    assert isinstance(judged(text, "freshness/future-entry", "2026-06-08"), Finding)
    assert judged(text, "freshness/future-entry", "2026-06-09") == Clear("nothing is dated after 2026-06-09")


def test_a_record_from_the_future_proves_nothing():
    text = BARE + (
        "records:\n  link_loss_test:\n"
        "    - {date: 2026-05-22, props: removed, outputs_stopped: true,\n"
        "       seconds_to_stop: 1, restarted_on_regain: false}\n"
    )
    assert isinstance(judged(text, "failsafe/link-loss"), Unproven)
    assert isinstance(judged(text, "failsafe/link-loss", "2026-05-22"), Clear)


def runs(run, current):
    return (
        BARE
        + f"records:\n  interference_run: [{{date: {run}, {RUN}}}]\n"
        + (f"  current_comparison: [{{date: {current}, {COMPARISON}}}]\n" if current else "")
    )


def test_interference_before_current_in_full():
    # Common practice, no source: interference is measured after the current is calibrated.
    text = runs("2026-04-18", "2026-04-19")
    found = expect(Finding, judged(text, "freshness/current-before-interference"))
    assert found.message == ("the interference run of 2026-04-18 is older than the current comparison of 2026-04-19")
    assert found.evidence == (
        "an interference offset is field per indicated ampere, and the comparison may have changed what one is"
    )
    assert found.do == "log the interference run again, with the current scale that is set now"
    assert marked(text, found.place) == "2026-04-18"
    assert [marked(text, r.place) for r in found.related] == ["2026-04-19"]


@pytest.mark.parametrize(("run", "current", "expected"), [
    ("2026-04-19", "2026-04-18", Clear),
    ("2026-04-18 15:00", "2026-04-18 14:59", Clear),
    ("2026-04-18 14:59", "2026-04-18 15:00", Finding),
    ("2026-04-18", "2026-04-18", Unproven),
    ("2026-04-18 15:00", "2026-04-18", Unproven),
    ("2026-04-18", None, Unproven),
])
def test_current_before_interference(run, current, expected):
    assert isinstance(judged(runs(run, current), "freshness/current-before-interference"), expected)


def scaled(run, current, then, now):
    """As runs, with the scale in force during the run and the one installed."""
    text = runs(run, current).replace("relies_on: [compass]}\n", f"relies_on: [compass]}}\npower_sensing: {now}\n")
    return text.replace(f"date: {run}, columns: [current_a", f"date: {run}, in_force: {then}, columns: [current_a")


@pytest.mark.parametrize("current", ["2026-04-19", "2026-04-18"])
def test_a_later_comparison_after_which_nothing_was_set_anew(current):
    same = scaled("2026-04-18", current, "{sensor_mv_per_a: 26.4}", "{sensor_mv_per_a: 26.4, zero_mv: 500}")
    assert judged(same, "freshness/current-before-interference") == Clear(
        f"interference run 2026-04-18, current comparison {current}; sensor_mv_per_a 26.4 was in force during the run "
        "and is installed now"
    )
    for then, now in (
        ("{sensor_mv_per_a: 26.4}", "{sensor_mv_per_a: 26.5}"),
        ("{sensor_mv_per_a: 26.4}", "{zero_mv: 512}"),
        ("{zero_mv: 512}", "{sensor_mv_per_a: 26.4}"),
    ):
        told = judged(scaled("2026-04-18", current, then, now), "freshness/current-before-interference")
        assert isinstance(told, Finding if current == "2026-04-19" else Unproven)


def test_a_scale_set_anew_is_told_with_its_ratio():
    text = scaled("2026-04-18", "2026-04-19", "{sensor_mv_per_a: 26.4}", "{sensor_mv_per_a: 25.08}")
    # Fewer millivolts for an ampere show more amperes for one field: 25.08 / 26.4 = 0.95 of it for each.
    assert judged(text, "freshness/current-before-interference").evidence == (
        "an interference offset is field per indicated ampere, and sensor_mv_per_a was 26.4 during the run and is "
        "25.08 now: the offset that the run asks for becomes 0.95 times what it was"
    )


def test_without_power_sensing_there_is_no_current_to_calibrate():
    text = runs("2026-04-18", None).replace("relies_on: [compass]}\n", "relies_on: [compass]}\npower_sensing: none\n")
    assert judged(text, "freshness/current-before-interference") == NotApplicable("no power sensing is fitted")


def test_volts_need_not_come_before_amperes():
    volts = "  voltage_comparison: [{date: 2026-05-01, columns: [indicated_v, reference_v], rows: [[16.0, 16.1]]}]\n"
    text = runs("2026-04-19", "2026-04-18") + volts
    assert isinstance(judged(text, "freshness/current-before-interference"), Clear)


def test_current_before_interference_open_and_absent():
    same_day = judged(runs("2026-04-18", "2026-04-18"), "freshness/current-before-interference")
    assert (same_day.cause, same_day.message) == (
        "order-open", "which came first on 2026-04-18, the interference run or the current comparison?",
    )
    alone = judged(runs("2026-04-18", None), "freshness/current-before-interference")
    assert (alone.cause, alone.message) == (
        "absent", "no current comparison is recorded that the interference run could come after",
    )
    assert judged(BARE, "freshness/current-before-interference") == NotApplicable("no interference run is recorded")
    without = runs("2026-04-18", "2026-04-19").replace("relies_on: [compass]", "relies_on: []")
    assert isinstance(judged(without, "freshness/current-before-interference"), NotApplicable)


REMEDY = (
    "look at every prop: motor of its own hand, domed side up, nut tight; hover low and short; land if a motor is "
    "hot or it drifts; feel every nut and motor; write an after_flight_look"
)


def test_maiden_flight_in_full():
    found = expect(Finding, judged(BARE, "freshness/first-flight"))
    assert (found.message, found.evidence, found.do) == (
        "this is a maiden flight: no flight is in the logbook and no hover on record", "no entry `flown`, no hover",
        REMEDY,
    )
    assert marked(BARE, found.place) == "aircraft"


def test_first_flight_after_work_in_full():
    text = BARE + (
        "logbook:\n  - {date: 2026-05-01, kind: flown}\n"
        "  - {date: 2026-05-09, kind: replaced, part: motor, at: rear-left}\n"
        "  - {date: 2026-05-08, kind: firmware, part: esc}\n"
    )
    found = expect(Finding, judged(text, "freshness/first-flight"))
    assert found.message == (
        "this is the first flight after work: motor replaced at rear-left on 2026-05-09 and 1 more"
    )
    assert found.do == REMEDY
    assert found.evidence == (
        "last flown on 2026-05-01; since then new firmware in the esc on 2026-05-08 (line 6), motor replaced at "
        "rear-left on 2026-05-09 (line 5)"
    )
    assert marked(text, found.place) == "2026-05-09"


def looked(day):
    return f"records:\n  after_flight_look: [{{date: {day}, motors: {{others: warm}}, nuts_moved: []}}]\n"


@pytest.mark.parametrize(("work", "look", "reminds"), [
    ("2026-05-09", "2026-05-10", False),
    ("2026-05-10", "2026-05-09", True),
    ("2026-05-09", "2026-05-09", True),
    ("2026-05-09 10:00", "2026-05-09 11:00", False),
    ("2026-05-09 11:00", "2026-05-09 10:00", True),
    ("2026-05-09", "2026-05-22", True),  # a look from the future was not taken
    ("2026-05-22", "2026-05-20", True),  # work from the future counts as done
])
def test_first_flight(work, look, reminds):
    text = BARE + looked(look) + f"logbook:\n  - {{date: {work}, kind: replaced, part: motor}}\n"
    assert isinstance(judged(text, "freshness/first-flight"), Finding) == reminds


@pytest.mark.parametrize("flown", ["2026-05-10", "2026-05-09 11:00"])
def test_having_flown_is_not_having_looked_in_full(flown):
    work = "  - {date: 2026-05-09 10:00, kind: replaced, part: motor}\n"
    text = BARE + f"logbook:\n{work}  - {{date: {flown}, kind: flown}}\n"
    found = expect(Finding, judged(text, "freshness/first-flight"))
    assert (found.message, found.do, found.record) == (
        f"no look after the flight of {flown} is recorded",
        "feel every motor and every nut after the next flight; write an after_flight_look", "after_flight_look",
    )
    assert found.evidence == (
        "what is wrong after work shows in the first minutes of flight: a hot motor, a nut that walks"
    )
    assert marked(text, found.place) == flown
    assert isinstance(judged(text + looked("2026-05-11"), "freshness/first-flight"), Clear)


def test_a_look_after_a_run_in_ties_is_no_look_after_a_flight():
    text = BARE + looked("2026-05-11").replace("motors:", "after: tied-down, motors:")
    found = expect(Finding, judged(text, "freshness/first-flight"))
    assert found.message.startswith("this is a maiden flight")
    flown = text + "logbook: [{date: 2026-05-12, kind: flown}]\n"
    assert expect(Finding, judged(flown, "freshness/first-flight")).message.startswith("no look after the flight")


def test_storage_is_no_work():
    text = BARE + looked("2026-05-01") + "logbook:\n  - {date: 2026-05-09, kind: stored}\n"
    assert judged(text, "freshness/first-flight") == Clear(
        "looked at on 2026-05-01 after a flight, after all work in the logbook"
    )


INVERTED = (
    "records:\n  after_flight_look: [{date: 2026-05-10, motors: {others: warm}, nuts_moved: []}]\n"
    "  current_comparison:\n"
    "    - {date: DATE, route: ROUTE, columns: [indicated_a, reference_a], rows: [[0, 0], [20, 21]]}\n"
)


@pytest.mark.parametrize(("date", "route", "reminds"), [
    ("2026-05-11", "inverted-load", True),
    ("2026-05-09", "inverted-load", False),
    ("2026-05-10", "inverted-load", True),  # which came first is open
    ("2026-05-11", "restrained", False),
    ("2026-05-11", "hover-log", False),
])
def test_every_nut_was_off_for_the_inverted_rig(date, route, reminds):
    text = BARE + INVERTED.replace("DATE", date).replace("ROUTE", route)
    found = judged(text, "freshness/first-flight")
    assert isinstance(found, Finding) == reminds
    if reminds:
        assert found.message == f"this is the first flight after work: props in the inverted rig on {date}"


TABLE = "columns: [indicated_a, reference_a], rows: [[0, 0], [20, 21]]"


@pytest.mark.parametrize("flight", [
    "hover: [{date: 2026-05-10, mean_current_a: 11}]",
    f"current_comparison: [{{date: 2026-05-10, route: hover-log, {TABLE}}}]",
])
def test_who_hovered_has_flown(flight):
    text = BARE + f"records:\n  {flight}\nlogbook:\n  - {{date: 2026-05-09, kind: replaced, part: motor}}\n"
    found = expect(Finding, judged(text, "freshness/first-flight"))
    assert found.message == "no look after the flight of 2026-05-10 is recorded"
    later = text.replace("2026-05-09", "2026-05-11")
    after = expect(Finding, judged(later, "freshness/first-flight"))
    assert after.message == "this is the first flight after work: motor replaced on 2026-05-11"


def test_after_a_crash_it_says_so():
    text = BARE + "logbook:\n  - {date: 2026-05-01, kind: flown}\n  - {date: 2026-05-09, kind: crashed}\n"
    found = expect(Finding, judged(text, "freshness/first-flight"))
    assert found.message == "this is the first flight after a mishap: crashed on 2026-05-09"
