"""The cut-off: full texts, both sides, missing input, and a failure that no crash takes away."""

import pytest
from making.manifests import answer, expect, manifest

from preflint.api import Clear, Finding, Unproven
from preflint.testing import inspect_text, marked

RULE = "failsafe/cut-off"
HOW = (
    "tie the aircraft down, run the motors slowly, use the cut-off and raise the throttle a little; write a "
    "cut_off_test with whether every motor stopped and stayed stopped"
)


def cut(*tests, log=()):
    return manifest(records={"cut_off_test": tests}, logbook=log)


def test_motors_that_run_on_in_full():
    text = cut("date: 2026-05-20, props: removed, motors_stopped: false")
    found = expect(Finding, answer(text, RULE))
    assert found.message == "the cut-off did not stop every motor, or did not keep it stopped"
    assert found.evidence == "cut-off test of 2026-05-20"
    assert found.do == "set the cut-off to stop every output whatever the throttle, then repeat the test"
    assert marked(text, found.place) == "false"
    assert inspect_text(text).verdict == "no-go"


def test_motors_that_stopped():
    text = cut("date: 2026-05-20, props: removed, motors_stopped: true")
    assert answer(text, RULE) == Clear("the cut-off stopped every motor on 2026-05-20")


@pytest.mark.parametrize(("text", "message"), [
    (manifest(), "no cut-off test is recorded"),
    (cut("date: 2026-05-20, props: removed"), "motors_stopped of the cut-off test of 2026-05-20 is not recorded"),
    (cut("date: 2026-05-20, props: fitted, motors_stopped: true"),
     "the cut-off test of 2026-05-20 was made with the props fitted"),
    (cut("date: 2026-05-20, motors_stopped: true"), "props of the cut-off test of 2026-05-20 is not recorded"),
    (cut("date: 2026-05-20, props: removed, motors_stopped: true",
            log=["date: 2026-05-21, kind: settings-changed, part: flight-controller, touches: [arming]"]),
     "the cut-off test of 2026-05-20 is outdated: flight controller settings changed on 2026-05-21"),
])
def test_what_is_open(text, message):
    assert expect(Unproven, answer(text, RULE)).message.endswith(message)


def test_a_change_of_other_settings_leaves_it():
    text = cut("date: 2026-05-20, props: removed, motors_stopped: true",
                  log=["date: 2026-05-21, kind: settings-changed, part: flight-controller, touches: [level]"])
    assert isinstance(answer(text, RULE), Clear)


def test_a_failure_outlives_a_crash_in_full():
    text = cut("date: 2026-05-18, motors_stopped: false", log=["date: 2026-05-19, kind: crashed"])
    found = expect(Finding, answer(text, RULE))
    assert found.message == "the cut-off did not stop every motor, or did not keep it stopped"
    assert found.evidence == (
        "failed on 2026-05-18, and no cut-off test passed since; since then crashed on 2026-05-19; cut-off test of "
        "2026-05-18"
    )
    assert found.do == (
        "repeat the cut-off test; if it fails again: set the cut-off to stop every output whatever the throttle, then "
        "repeat the test"
    )
    assert [(marked(text, r.place), r.message) for r in found.related] == [
        ("{date: 2026-05-19, kind: crashed}", "crashed on 2026-05-19")
    ]


@pytest.mark.parametrize(("props", "kind"), [(", props: removed", Clear), (", props: fitted", Finding), ("", Finding)])
def test_only_one_with_the_props_removed_makes_up_for_a_failed_one(props, kind):
    text = cut("date: 2026-05-18, motors_stopped: false", f"date: 2026-05-20, motors_stopped: true{props}")
    assert isinstance(answer(text, RULE), kind)
