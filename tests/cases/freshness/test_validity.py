"""What a record proves ends with its validity, by age alone; what a test showed to be wrong does not."""

import pytest
from making.manifests import CLUB, FILES, GO, answer, expect, manifest

from preflint.api import Clear, Finding, Unproven
from preflint.testing import inspect_text, marked, open_questions, outcome

STOPPED = "props: removed, outputs_stopped: true, seconds_to_stop: 0.8, restarted_on_regain: false"
RAN_ON = STOPPED.replace("outputs_stopped: true", "outputs_stopped: false")


def link_tests(*days, shown=STOPPED):
    return manifest(records={"link_loss_test": [f"date: {day}, {shown}" for day in days]})


def club(name):
    return (CLUB / f"{name}.airframe.yaml").read_text(encoding="utf-8")


def test_what_flight_needs_ends_on_the_day_after_its_validity_in_full():
    text = link_tests("2025-05-20")
    found = expect(Unproven, answer(text, "failsafe/link-loss"))
    assert found.cause == "stale"
    assert found.message == "the link-loss test of 2025-05-20 is 366 days old, and at most 365 count"
    assert found.do.startswith("tie the aircraft down, run the motors slowly")
    assert marked(text, found.place) == "2025-05-20"
    assert isinstance(answer(link_tests("2025-05-21"), "failsafe/link-loss"), Clear)


@pytest.mark.parametrize("name", GO)
def test_no_aircraft_is_go_on_records_of_long_ago(name):
    inspected = inspect_text(club(name), "2036-05-21", files=FILES)
    assert inspected.verdict == "unproven"
    old = {rule for rule, _, told in open_questions(inspected) if told.cause == "stale" and "days old" in told.message}
    assert old >= {"failsafe/link-loss", "rotation/spin-seen", "rotation/output-order", "power_sensing/voltage-scale"}


def test_one_day_is_more_than_the_day_itself():
    policy = {"preflint.yaml": "{preflint: 1, record_ages: {link_loss_test: 1}}\n"}
    for day, message in (
        ("2026-05-20", None),
        ("2026-05-19", "the link-loss test of 2026-05-19 is 2 days old, and at most 1 count"),
    ):
        told = outcome(inspect_text(link_tests(day), files=policy), "failsafe/link-loss", None)
        assert getattr(told, "message", None) == message


@pytest.mark.parametrize(("days", "kind", "weakens"), [
    (20, Clear, ""),
    (19, Unproven, ""),
    (365, Clear, ""),
    (366, Clear, "link_loss_test_age 366 days (usually 365 days)"),
])
def test_a_policy_moves_the_validity_both_ways_and_longer_is_told(days, kind, weakens):
    policy = {"preflint.yaml": f"{{preflint: 1, record_ages: {{link_loss_test: {days}}}}}\n"}
    inspected = inspect_text(link_tests("2026-05-01"), files=policy)
    assert isinstance(outcome(inspected, "failsafe/link-loss", None), kind)
    assert inspected.policy.partition("; weakens: ")[2] == weakens


def test_a_longer_validity_lets_an_old_record_speak():
    text, policy = link_tests("2025-05-20"), {"preflint.yaml": "{preflint: 1, record_ages: {link_loss_test: 366}}\n"}
    assert isinstance(outcome(inspect_text(text, files=policy), "failsafe/link-loss", None), Clear)


def test_an_old_nut_test_tells_no_hand():
    def judged(day):
        nut = {"nut_test": f"date: {day}, at: rear-left, motor_turned: ccw, nut: runs-on"}
        text = manifest(rotors={"rear-left": "spin: ccw, fixing: {kind: nut}"}, records=nut)
        return answer(text, "retention/nut-hand", "rear-left")

    assert isinstance(judged("2025-05-21"), Clear)
    found = expect(Unproven, judged("2025-05-20"))
    assert found.cause == "stale"
    assert found.message == "the nut test of 2025-05-20 is 366 days old, and at most 365 count"


def test_old_pulls_of_bells_are_asked_for_again():
    pulls = [f"date: 2025-05-20, at: {at}, moved: false" for at in ("front-left", "front-right", "rear-left")]
    text = manifest(records={"bell_pull": [*pulls, "date: 2025-05-21, at: rear-right, moved: false"]})
    found = expect(Unproven, answer(text, "retention/bells-pulled"))
    assert (found.cause, found.message) == (
        "stale", "too old to count: the bell pull of front-left, front-right, rear-left"
    )
    assert isinstance(answer(text.replace("05-20", "05-21"), "retention/bells-pulled"), Clear)


def test_a_stale_record_that_flight_does_not_wait_for_is_history():
    rows = "[[200, 1.2, 16.4], [420, 3.1, 16.2], [700, 6.4, 15.9], [960, 10.0, 15.6], [1300, 17.0, 15.2]]"
    stand = f"{{date: 2025-12-01, at: front, columns: [thrust_g, current_a, voltage_v], rows: {rows}}}"
    work = "logbook:\n  - {date: 2026-01-05, kind: replaced, part: esc, at: front}\n"
    text = club("wheatear").replace("records:\n", f"records:\n  thrust_stand: [{stand}]\n", 1)
    text = text.replace("logbook:\n", work, 1)
    inspected = inspect_text(text, files=FILES)
    stale = [r for r in inspected.results if r.rule.id == "freshness/stale-record" and isinstance(r.outcome, Finding)]
    assert [r.outcome.message.partition(" (line")[0] for r in stale] == [
        "the thrust stand of 2025-12-01 is outdated for front: esc replaced at front on 2026-01-05"
    ]
    assert inspected.verdict == "go"


def test_a_failed_test_stays_failed_however_old():
    found = expect(Finding, answer(link_tests("1996-05-20", shown=RAN_ON), "failsafe/link-loss"))
    assert found.message.startswith("not every output stopped when the link was lost")


@pytest.mark.parametrize("also", [(), ("2026-05-20",), ("2026-05-20", "2026-07-01")])
def test_a_failed_test_dated_after_the_day_judged_at_has_failed(also):
    tests = [f"date: 2026-06-09, {RAN_ON}", *(f"date: {day}, {STOPPED}" for day in also)]
    text = manifest(records={"link_loss_test": tests})
    found = expect(Finding, answer(text, "failsafe/link-loss"))
    assert found.message == "not every output stopped when the link was lost"
    assert found.evidence.endswith("; dated 2026-06-09, after 2026-05-21, the day judged at: failed all the same")
    assert isinstance(answer(text, "failsafe/link-loss", judged_on="2026-06-09"), Finding)


def test_a_good_test_dated_after_the_day_judged_at_proves_nothing():
    assert expect(Unproven, answer(link_tests("2026-05-22"), "failsafe/link-loss")).cause == "absent"
    assert isinstance(answer(link_tests("2026-05-21"), "failsafe/link-loss"), Clear)


def test_a_nut_that_ran_off_on_a_day_to_come_is_of_the_wrong_hand():
    def judged(nut):
        tests = [
            "date: 2026-05-20, at: rear-left, motor_turned: ccw, nut: runs-on",
            f"date: 2026-06-09, at: rear-left, motor_turned: ccw, nut: {nut}",
        ]
        text = manifest(rotors={"rear-left": "spin: ccw, fixing: {kind: nut}"}, records={"nut_test": tests})
        return answer(text, "retention/nut-hand", "rear-left")

    assert isinstance(judged("runs-on"), Clear)
    assert "nut test of 2026-06-09" in expect(Finding, judged("runs-off")).evidence


@pytest.mark.parametrize(("day", "ahead"), [("2026-05-20", False), ("2026-05-21", False), ("2026-05-22", True)])
def test_a_test_that_failed_on_the_day_judged_at_is_of_no_day_to_come(day, ahead):
    found = expect(Finding, answer(link_tests(day, shown=RAN_ON), "failsafe/link-loss", judged_on="2026-05-21"))
    assert (f"dated {day}, after 2026-05-21, the day judged at: failed all the same" in found.evidence) is ahead


@pytest.mark.parametrize(("day", "kind"), [("2026-05-20", Clear), ("2026-05-21", Clear), ("2026-05-22", Finding)])
def test_one_that_passed_on_the_day_judged_at_takes_an_earlier_failure_away(day, kind):
    kept = [f"date: 2026-05-19, {RAN_ON}", f"date: {day}, {STOPPED}"]
    expect(kind, answer(manifest(records={"link_loss_test": kept}), "failsafe/link-loss", judged_on="2026-05-21"))
