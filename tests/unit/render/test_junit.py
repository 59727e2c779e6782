"""JUnit XML: what passes, fails, is skipped or an error; and that it is XML whatever was read."""

import datetime as dt
from xml.etree import ElementTree as ET

import pytest

from preflint.api import ADVISORY, CAUTION, NO_GO, PACK_UNPLUGGED, Clear, Job, NotApplicable, need, records, rule
from preflint.engine.rule_module import Registry, RuleModule
from preflint.errors import NotRead, Problem
from preflint.inspection import inspect_manifest
from preflint.places import Place
from preflint.render.junit import render_junit

from .hostile import ATTACKS, manifest


@rule(
    "control/broken", each="aircraft", severity=ADVISORY, job=Job.MECHANICAL, precaution=PACK_UNPLUGGED,
    source="none",
)  # fmt: skip
def broken(aircraft, on):
    """A rule that fails by itself."""
    raise ValueError("a \x00 and \x1b in it")


@rule(
    "control/never", each="aircraft", severity=NO_GO, job=Job.MECHANICAL, precaution=PACK_UNPLUGGED,
    source="none", needed_for_flight=True, shown_by=records.NutTest,
)  # fmt: skip
def never(aircraft, on):
    """A rule whose question never arises."""
    return NotApplicable("nothing of the kind")


@rule(
    "control/told-of", each="rotor", severity=NO_GO, job=Job.MECHANICAL, precaution=PACK_UNPLUGGED,
    source="none",
)  # fmt: skip
def told_of(rotor, on):
    """A rule that one rotor may leave open."""
    return Clear(need(rotor.nut_points).value)


def suites(text: str) -> dict[str, ET.Element]:
    return {suite.get("name", ""): suite for suite in ET.fromstring(text)}


def kinds(suite: ET.Element) -> dict[str, tuple[str, str | None]]:
    """Each case by name: its only child's tag and type, or passed."""
    return {
        case.get("name", ""): next(((child.tag, child.get("type")) for child in case), ("passed", None))
        for case in suite.findall("testcase")
    }


def test_every_answer_has_its_kind_of_case(judge, report, dotterel) -> None:
    suite = suites("".join(render_junit(report(judge(dotterel, broken)), NO_GO)))["trial.airframe.yaml"]
    found = kinds(suite)
    assert found["retention/nut-hand"] == ("failure", "no-go")  # of four rotors one is wrong, and two are open
    assert found["rotation/spin-seen"] == ("failure", "unproven")
    assert found["papers/owner"] == ("skipped", "not-assessed")
    assert found["interference/offset"] == ("skipped", "not-applicable")
    assert found["mass_and_hover/throttle"] == ("system-out", None)
    assert found["control/broken"] == ("error", "rule-crashed")
    assert (suite.get("failures"), suite.get("errors"), suite.get("skipped")) == ("2", "1", "3")
    failure = next(c for c in suite if c.get("name") == "retention/nut-hand")[0]
    column = dotterel.splitlines()[4].index("nut_tightens: ccw") + 15
    assert failure.get("message") == (
        f"trial.airframe.yaml:5:{column}: Dotterel, front-right: nut tightens ccw; this shaft needs cw"
    )
    told = (failure.text or "").splitlines()
    assert [line for line in told[4:] if ": not proven: " in line] == [
        f"trial.airframe.yaml:{line}:5: Dotterel, {at}: not proven: {at}.fixing.nut_tightens is not recorded"
        for line, at in ((6, "rear-left"), (7, "rear-right"))
    ]
    assert told[:4] == [
        f"See: trial.airframe.yaml:5:{dotterel.splitlines()[4].index('spin: ccw') + 7} spin recorded here",
        "Why: spin ccw seen from above", "First: Pack unplugged before you touch a prop, a nut or a wire.",
        "Then: fit an adapter whose nut tightens cw",
    ]


def test_the_threshold_moves_what_fails(judge, report, dotterel) -> None:
    one = report(judge(dotterel))
    for severity, kind in ((NO_GO, ("system-out", None)), (CAUTION, ("failure", "caution")),
                           (ADVISORY, ("failure", "caution"))):  # fmt: skip
        found = kinds(suites("".join(render_junit(one, severity)))["trial.airframe.yaml"])
        assert found["mass_and_hover/throttle"] == kind


def test_a_deferred_finding_is_skipped_with_its_reason_at_any_threshold(judge, report) -> None:
    suite = suites("".join(render_junit(report(judge(manifest("R. Ashdown"))), ADVISORY)))["trial.airframe.yaml"]
    [skipped] = [case[0] for case in suite.findall("testcase") if case.get("name") == "mass_and_hover/throttle"]
    assert (skipped.tag, skipped.get("type")) == ("skipped", "deferred")
    assert "Until: 2026-06-01, deferred by R. Ashdown: R. Ashdown" in (skipped.text or "")


def test_an_unread_file_has_a_suite_with_one_error(report) -> None:
    item = NotRead("x.airframe.yaml", [Problem("cut short", Place("parts/p.yaml", 3, 7, 3, 9)), Problem("odd")])
    root = ET.fromstring("".join(render_junit(report(not_read=(item,)), NO_GO)))
    assert (root.get("tests"), root.get("errors"), root.get("failures")) == ("1", "1", "0")
    [error] = root.findall("testsuite[@name='x.airframe.yaml']/testcase[@name='preflint/not-read']/error")
    assert error.attrib == {"type": "input-unreadable", "message": "parts/p.yaml:3:7: cut short"}
    assert error.text == "x.airframe.yaml:1:1: odd"


def test_an_aircraft_of_which_nothing_was_asked_fails(tmp_path, report) -> None:
    path = tmp_path / "bare.airframe.yaml"
    path.write_text("preflint: 1\naircraft: {name: Bare, layout: quad-x}\n")
    one = inspect_manifest(path, dt.date(2026, 5, 21), Registry.of([RuleModule(1, "trial", (never,))]))
    found = kinds(suites("".join(render_junit(report(one), NO_GO)))["bare.airframe.yaml"])
    assert found == {"control/never": ("skipped", "not-applicable"),
                     "preflint/nothing-answered": ("failure", "unproven")}  # fmt: skip


def test_a_rotor_of_which_nothing_is_known_keeps_the_others_from_passing(judge, report, dotterel) -> None:
    found = kinds(suites("".join(render_junit(report(judge(dotterel, told_of)), NO_GO)))["trial.airframe.yaml"])
    assert found["control/told-of"] == ("skipped", "not-assessed")
    some = dotterel.replace("spin: cw", "nut_points: up, spin: cw")
    found = kinds(suites("".join(render_junit(report(judge(some, told_of)), NO_GO)))["trial.airframe.yaml"])
    assert found["control/told-of"] == ("skipped", "not-assessed")
    named = dotterel.replace("spin: cw", "nut_points: up, spin: cw").replace("spin: ccw", "nut_points: up, spin: ccw")
    found = kinds(suites("".join(render_junit(report(judge(named, told_of)), NO_GO)))["trial.airframe.yaml"])
    assert found["control/told-of"] == ("passed", None)


@pytest.mark.parametrize("attack", ATTACKS)
def test_it_is_xml_whatever_was_read_and_no_command(judge, report, attack: str) -> None:
    told = report(judge(manifest(ATTACKS[attack]), broken), not_read=(NotRead("\x1b\udcff", ()),))
    text = "".join(render_junit(told, NO_GO))
    ET.fromstring(text.encode("utf-8"))
    assert "::" not in text
    assert "##" not in text
    assert not [c for c in text if not (c.isprintable() or c == "\n")]
