"""Every format names the rule modules that were asked, and the packs that were named as flown today."""

import json
from dataclasses import replace
from xml.etree import ElementTree as ET

import pytest

from preflint.findings.report import Report
from preflint.interface import FORMATS, render_report

MODULES = ("preflint_rules", "club_of_strangers")
TOOL = "preflint 0.1.0 (rules: preflint_rules, club_of_strangers)"


@pytest.fixture
def flown(judge, report, dotterel) -> Report:
    one = replace(judge(dotterel), flown_with=("Q77", "Q78"))
    return replace(report(one), tool=TOOL, rule_modules=MODULES)


@pytest.mark.parametrize("form", [form for form in FORMATS if form != "csv"])  # findings alone
def test_each_names_the_rule_modules_and_the_packs(flown: Report, form) -> None:
    told = " ".join(render_report(flown, form).split()).replace("\\", "")
    assert "club_of_strangers" in told
    assert "Q77" in told
    assert "Q78" in told
    without = replace(flown, aircraft=tuple(replace(one, flown_with=()) for one in flown.aircraft))
    assert "Q77" not in render_report(without, form)
    assert "acks flown today" not in render_report(without, form)


@pytest.mark.parametrize("detail", [None, "full", "jobs", "first-hover", "grounded", "none"])
def test_a_text_of_any_detail_names_them(flown: Report, detail) -> None:
    for several in (1, 2):
        told = " ".join(render_report(replace(flown, aircraft=flown.aircraft * several), detail=detail).split())
        assert "club_of_strangers" in told
        assert "Q77 and Q78" in told


def test_each_aircraft_has_its_own(flown: Report) -> None:
    [one] = flown.aircraft
    other = replace(one, manifest="other.airframe.yaml", flown_with=())
    both = replace(flown, aircraft=(one, other))
    properties = json.loads(render_report(both, "sarif"))["runs"][0]["properties"]
    assert properties["flown_with"] == {one.manifest: ["Q77", "Q78"]}
    assert properties["rule_modules"] == list(MODULES)
    assert properties["tool"] == TOOL
    suites = ET.fromstring(render_report(both, "junit")).findall("testsuite")
    found = [{p.get("name"): p.get("value") for p in suite.findall("properties/property")} for suite in suites]
    assert found[0]["rule_modules"] == "preflint_rules, club_of_strangers"
    assert [told.get("flown_with") for told in found] == [None, "Q77, Q78", None]
    document = json.loads(render_report(both, "json"))
    assert document["rule_modules"] == list(MODULES)
    assert [told["flown_with"] for told in document["aircraft"]] == [["Q77", "Q78"], []]


def test_a_label_is_no_mark_up(flown: Report) -> None:
    [one] = flown.aircraft
    told = replace(flown, aircraft=(replace(one, flown_with=("::error::[a](b) <i>\x1b[1m",)),))
    for form in FORMATS:
        text = render_report(told, form)
        assert "\x1b" not in text
        assert "::error::[" not in text
    assert "[a](b)" not in render_report(told, "markdown")
    assert "<i>" not in render_report(told, "junit")
