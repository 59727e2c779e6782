"""Loss of link and range: full texts, both sides, missing input."""

import pytest
from making.manifests import answer, expect, opening

from preflint.api import Clear, Finding, Unproven
from preflint.testing import marked

BARE = opening("Lapwing")
HOW = (
    "props removed, aircraft tied down: run the motors slowly, switch the transmitter off, time until the last motor "
    "rests, switch it on again with the throttle closed, and write a link_loss_test"
)


def loss(values, props="removed"):
    return BARE + f"records:\n  link_loss_test:\n    - {{date: 2026-05-20, props: {props}, {values}}}\n"


def judged(text, rule="failsafe/link-loss"):
    return answer(text, rule)


def test_outputs_run_on_in_full():
    text = loss("outputs_stopped: false")
    found = expect(Finding, judged(text))
    assert found.message == "not every output stopped when the link was lost"
    assert found.evidence == ("link-loss test of 2026-05-20; outputs are to stop within 2 s and to stay stopped")
    assert found.do == (
        "set the receiver, or the flight controller, to stop every output on loss of link; "
        "then repeat the test with props removed"
    )
    assert marked(text, found.place) == "false"


def test_everything_wrong_in_full():
    text = loss("outputs_stopped: true, seconds_to_stop: 5.5, restarted_on_regain: true", "fitted")
    found = expect(Finding, judged(text))
    assert found.message == (
        "the motors ran on for 5.5 s after the link was lost; a motor started again by itself when the link came back"
    )
    assert found.evidence == (
        "link-loss test of 2026-05-20; outputs are to stop within 2 s and to stay stopped; "
        "the props were fitted: repeat it with props removed"
    )
    assert found.do == (
        "let loss of link stop the outputs sooner: within 2 s on the ground; set the flight controller to need arming "
        "again after loss of link; then repeat the test with props removed"
    )
    assert marked(text, found.place) == "5.5"
    assert [marked(text, r.place) for r in found.related] == ["true"]


@pytest.mark.parametrize(("seconds", "expected"), [("0.8", Clear), ("2", Clear), ("2.1", Finding)])
def test_both_sides_of_the_limit(seconds, expected):
    text = loss(f"outputs_stopped: true, seconds_to_stop: {seconds}, restarted_on_regain: false")
    told = expect(expected, judged(text))
    if seconds == "0.8":
        assert told == Clear("every output stopped 0.8 s after loss of link and stayed stopped; at most 2 s")


@pytest.mark.parametrize(("seconds", "expected"), [("0", Unproven), ("0.09", Unproven), ("0.1", Clear)])
def test_a_time_that_nobody_takes(seconds, expected):
    text = loss(f"outputs_stopped: true, seconds_to_stop: {seconds}, restarted_on_regain: false")
    told = expect(expected, judged(text))
    if expected is Unproven:
        assert (told.cause, told.message, told.do) == (
            "uncertain",
            f"the motors are said to rest {seconds} s after the link was lost: nobody times that",
            f"time it: {HOW}",
        )
        assert marked(text, told.place) == seconds


def test_a_time_that_nobody_takes_hides_no_finding():
    text = loss("outputs_stopped: true, seconds_to_stop: 0, restarted_on_regain: true")
    assert isinstance(judged(text), Finding)


@pytest.mark.parametrize(("values", "missing"), [
    ("seconds_to_stop: 1, restarted_on_regain: false", "outputs_stopped"),
    ("outputs_stopped: true, restarted_on_regain: false", "seconds_to_stop"),
    ("outputs_stopped: true, seconds_to_stop: 1", "restarted_on_regain"),
])
def test_input_missing(values, missing):
    told = expect(Unproven, judged(loss(values)))
    assert (told.cause, told.message) == ("absent", f"{missing} of the link loss test of 2026-05-20 is not recorded")


def test_no_test_at_all():
    told = expect(Unproven, judged(BARE))
    assert (told.cause, told.message, told.do) == ("absent", "no link loss test is recorded", HOW)


def test_made_with_the_props_fitted_in_full():
    text = loss("outputs_stopped: true, seconds_to_stop: 1, restarted_on_regain: false", "fitted")
    told = expect(Unproven, judged(text))
    assert told.message == "the link-loss test of 2026-05-20 was made with the props fitted"
    assert told.do == f"repeat it with props removed: {HOW}"
    assert marked(text, told.place) == "fitted"


def test_range_in_full():
    text = BARE + (
        "records:\n  range_test: [{date: 2026-05-20, distance_m: 18, reduced_power: true, control_held: false}]\n"
    )
    found = expect(Finding, judged(text, "failsafe/range-test"))
    assert found.message == "control did not hold at 18 m in the range test"
    assert found.evidence == "range test of 2026-05-20 at 18 m, at reduced power"
    assert found.do == (
        "look at the antennas, their plugs and where they lie, away from carbon and power leads; then "
        "repeat the range test"
    )
    assert marked(text, found.place) == "false"
    held = text.replace("control_held: false", "control_held: true")
    assert judged(held, "failsafe/range-test") == Clear("control held at 18 m, at reduced power on 2026-05-20")


def test_range_missing():
    absent = expect(Unproven, judged(BARE, "failsafe/range-test"))
    assert absent.message == "no range test is recorded"
    silent = expect(
        Unproven, judged(BARE + "records:\n  range_test: [{date: 2026-05-20, distance_m: 18}]\n", "failsafe/range-test")
    )
    assert silent.message == "control_held of the range test of 2026-05-20 is not recorded"
