"""Loss of link and range: full texts, both sides, missing input."""

import pytest
from making.manifests import answer, expect, manifest, opening

from preflint.api import Clear, Finding, Unproven
from preflint.testing import marked

BARE = opening("Lapwing")
HOW = (
    "tie the aircraft down, run the motors slowly and switch the transmitter off; time until the last motor rests; "
    "close the throttle and switch the transmitter on again; write a link_loss_test"
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
        "then repeat the test"
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
        "the props were fitted"
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


@pytest.mark.parametrize(("props", "kind"), [("props: removed, ", Clear), ("props: fitted, ", Finding), ("", Finding)])
def test_only_one_with_the_props_removed_makes_up_for_a_failed_one(props, kind):
    text = loss("outputs_stopped: false") + (
        f"    - {{date: 2026-05-21, {props}outputs_stopped: true, seconds_to_stop: 1, restarted_on_regain: false}}\n"
    )
    told = expect(kind, judged(text))
    if kind is Finding:
        assert told.message == (
            "not every output stopped when the link was lost"
        )


def test_props_not_said():
    text = loss("outputs_stopped: true, seconds_to_stop: 1, restarted_on_regain: false").replace("props: removed, ", "")
    told = expect(Unproven, judged(text))
    assert (told.cause, told.message) == ("absent", "props of the link-loss test of 2026-05-20 is not recorded")


@pytest.mark.parametrize(("values", "missing"), [
    ("seconds_to_stop: 1, restarted_on_regain: false", "outputs_stopped"),
    ("outputs_stopped: true, restarted_on_regain: false", "seconds_to_stop"),
    ("outputs_stopped: true, seconds_to_stop: 1", "restarted_on_regain"),
])
def test_input_missing(values, missing):
    told = expect(Unproven, judged(loss(values)))
    assert (told.cause, told.message) == ("absent", f"{missing} of the link-loss test of 2026-05-20 is not recorded")


def test_no_test_at_all():
    told = expect(Unproven, judged(BARE))
    assert (told.cause, told.message, told.do) == ("absent", "no link-loss test is recorded", HOW)


def test_made_with_the_props_fitted_in_full():
    text = loss("outputs_stopped: true, seconds_to_stop: 1, restarted_on_regain: false", "fitted")
    told = expect(Unproven, judged(text))
    assert told.message == "the link-loss test of 2026-05-20 was made with the props fitted"
    assert told.do == f"repeat it with props removed: {HOW}"
    assert marked(text, told.place) == "fitted"


def ranged(*tests, log=()):
    return manifest(records={"range_test": [f"date: {test}" for test in tests]}, logbook=log)


RANGE = "failsafe/range-test"
LOST = "2026-05-18, distance_m: 18, reduced_power: true, control_held: false"


def test_range_in_full():
    text = ranged(LOST)
    found = expect(Finding, judged(text, RANGE))
    assert found.message == "control did not hold at 18 m in the range test"
    assert found.evidence == "range test of 2026-05-18 at 18 m, at reduced power"
    assert found.do == (
        "look at the antennas and their plugs; lay the antennas away from carbon and power leads; then "
        "repeat the range test, to 18 m or farther at reduced power"
    )
    assert marked(text, found.place) == "false"
    held = text.replace("control_held: false", "control_held: true")
    assert judged(held, RANGE) == Clear("control held at 18 m, at reduced power on 2026-05-18")


def test_a_nearer_one_does_not_make_up_for_a_lost_one_in_full():
    text = ranged(LOST, "2026-05-20, distance_m: 1, reduced_power: true, control_held: true")
    found = expect(Finding, judged(text, RANGE))
    assert found.message == (
        "control did not hold at 18 m in the range test"
    )
    assert found.evidence == (
        "failed on 2026-05-18, and no range test passed since; range test of 2026-05-18 at 18 m, at reduced power"
    )
    assert found.do == (
        "repeat the range test; if it fails again: look at the antennas and their plugs; lay the antennas away from "
        "carbon and power leads; then repeat the range test, to 18 m or farther at reduced power"
    )
    assert marked(text, found.place) == "false"


@pytest.mark.parametrize(("lost", "held", "kind"), [
    ("distance_m: 18, control_held: false", "distance_m: 18", Clear),
    ("distance_m: 18, control_held: false", "distance_m: 17.9", Finding),
    ("distance_m: 18, control_held: false", "distance_m: 18, reduced_power: true", Clear),
    ("distance_m: 18, reduced_power: true, control_held: false", "distance_m: 40", Finding),
    ("distance_m: 18, reduced_power: true, control_held: false", "distance_m: 40, reduced_power: false", Finding),
    ("distance_m: 18, reduced_power: true, control_held: false", "distance_m: 40, reduced_power: true", Clear),
    ("distance_m: 2, control_held: false", "distance_m: 10", Clear),
    ("distance_m: 2, control_held: false", "distance_m: 9.9", Finding),
    ("control_held: false", "distance_m: 10", Clear),
    ("control_held: false", "distance_m: 9.9", Finding),
    ("distance_m: 18, control_held: false", "reduced_power: true", Finding),
])
def test_what_makes_up_for_a_lost_one(lost, held, kind):
    text = ranged(f"2026-05-18, {lost}", f"2026-05-20, {held}, control_held: true")
    assert isinstance(judged(text, RANGE), kind)


def test_each_lost_one_asks_for_its_own_distance():
    far = "2026-05-10, distance_m: 40, control_held: false"
    near = "2026-05-12, distance_m: 18, control_held: false"
    found = judged(ranged(far, near, "2026-05-14, distance_m: 20, control_held: true"), RANGE)
    assert expect(Finding, found).message == "control did not hold at 40 m in the range test"
    both = ranged(far, near, "2026-05-14, distance_m: 60, control_held: true", "2026-05-16, distance_m: 30, "
                  "control_held: true")  # fmt: skip
    assert judged(both, RANGE) == Clear("control held at 30 m on 2026-05-16")
    ahead = ranged("2026-05-10, distance_m: 40, control_held: true", "2026-06-01, distance_m: 30, control_held: false")
    assert "after 2026-05-21, the day judged at" in expect(Finding, judged(ahead, RANGE)).evidence


@pytest.mark.parametrize(("distance", "kind"), [("9.9", Unproven), ("10", Clear)])
def test_both_sides_of_the_floor(distance, kind):
    text = ranged(f"2026-05-20, distance_m: {distance}, control_held: true")
    told = expect(kind, judged(text, RANGE))
    if kind is Unproven:
        assert told.message == "control held at 9.9 m, which is too near to tell anything"
        assert told.do == "repeat the range test as far as the maker of the transmitter asks for, 10 m at least"
        assert told.evidence == "range test of 2026-05-20 at 9.9 m; nearer than 10 m any link holds"
        assert marked(text, told.place) == "9.9"


@pytest.mark.parametrize(("text", "message"), [
    (manifest(), "no range test is recorded"),
    (ranged("2026-05-20, distance_m: 18"), "control_held of the range test of 2026-05-20 is not recorded"),
    (ranged("2026-05-20, control_held: true"), "distance_m of the range test of 2026-05-20 is not recorded"),
])
def test_range_missing(text, message):
    assert expect(Unproven, judged(text, RANGE)).message == message
