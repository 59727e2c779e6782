"""SARIF: what a service needs to show a result on its line, and what must not be in it."""

import json
import re
from dataclasses import replace

import pytest

from preflint.api import ADVISORY, PACK_UNPLUGGED, Finding, Job, rule
from preflint.errors import NotRead, Problem
from preflint.findings.report import Note
from preflint.places import Place
from preflint.render.sarif import render_sarif

from .hostile import ATTACKS, manifest


@rule(
    "control/broken", each="aircraft", severity=ADVISORY, job=Job.MECHANICAL, precaution=PACK_UNPLUGGED,
    source="none",
)  # fmt: skip
def broken(aircraft, on):
    """A rule that fails by itself."""
    return [][1]


@rule(
    "control/linked", each="aircraft", severity=ADVISORY, job=Job.MECHANICAL, precaution="[a](b) <b>",
    source="none",
)  # fmt: skip
def linked(aircraft, on):
    """A rule whose [page](http://evil.example) takes {0}.

    Prose @all.

        a: `1`
    """
    return Finding(place=aircraft.about.name.place, message="[a](b) {0}", evidence="", do="x\\y]")


def run_of(report) -> dict:
    return json.loads("".join(render_sarif(report)))["runs"][0]


def test_a_finding_in_full(judge, report, dotterel) -> None:
    run = run_of(report(judge(dotterel)))
    line = dotterel.splitlines()[4]
    spin, nut = line.index("spin: ccw") + 7, line.index("nut_tightens: ccw") + 15
    found = [r for r in run["results"] if r["ruleId"] == "retention/nut-hand" and r["properties"]["outcome"] == "no-go"]
    assert len(found) == 1
    one = found[0]
    assert run["tool"]["driver"]["rules"][one.pop("ruleIndex")]["id"] == "retention/nut-hand"
    assert re.fullmatch(r"[0-9a-f]{16}:1", one.pop("partialFingerprints")["primaryLocationLineHash"])
    assert one == {
        "ruleId": "retention/nut-hand",
        "kind": "fail",
        "level": "error",
        "message": {
            "text": "Dotterel, front-right: nut tightens ccw; this shaft needs cw. Why: spin ccw seen from above. "
            "First: Pack unplugged before you touch a prop, a nut or a wire. "
            "Then: fit an adapter whose nut tightens cw. See: [spin recorded here](1)."
        },
        "locations": [{"physicalLocation": {
            "artifactLocation": {"uri": "trial.airframe.yaml"},
            "region": {"startLine": 5, "startColumn": nut, "endLine": 5, "endColumn": nut + 3},
        }}],
        "properties": {"outcome": "no-go"},
        "relatedLocations": [{"id": 1, "message": {"text": "spin recorded here"}, "physicalLocation": {
            "artifactLocation": {"uri": "trial.airframe.yaml"},
            "region": {"startLine": 5, "startColumn": spin, "endLine": 5, "endColumn": spin + 3},
        }}],
    }  # fmt: skip


def test_what_flight_needs_and_is_not_proven_is_an_error(judge, report, dotterel) -> None:
    run = run_of(report(judge(dotterel)))
    levels = {(r["properties"]["outcome"], r["level"], r["kind"]) for r in run["results"]}
    assert levels == {("no-go", "error", "fail"), ("not proven", "error", "fail"), ("caution", "warning", "fail"),
                      ("not known", "note", "fail")}  # fmt: skip
    assert "Dotterel, rear-left, rear-right: not proven: " in str(run["results"])


def test_unread_and_failed_are_results_and_the_run_is_not_whole(judge, report, dotterel) -> None:
    unread = NotRead("club/a:b #.airframe.yaml", [Problem("cut short"), Problem("odd", Place("p.yaml", 3, 4, 3, 5))])
    run = run_of(report(judge(dotterel, broken), not_read=(unread,)))
    own = {r["ruleId"]: r for r in run["results"] if r["ruleId"].startswith("preflint/")}
    assert set(own) == {"preflint/not-read", "preflint/broke-down"}
    assert {r["level"] for r in own.values()} == {"error"}
    places = [r["locations"][0]["physicalLocation"] for r in run["results"] if r["ruleId"] == "preflint/not-read"]
    assert places == [
        {"artifactLocation": {"uri": "club/a%3Ab%20%23.airframe.yaml"},
         "region": {"startLine": 1, "startColumn": 1, "endLine": 1, "endColumn": 1}},
        {"artifactLocation": {"uri": "p.yaml"},
         "region": {"startLine": 3, "startColumn": 4, "endLine": 3, "endColumn": 5}},
    ]  # fmt: skip
    assert run["invocations"] == [{"executionSuccessful": False}]
    assert run_of(report(judge(dotterel)))["invocations"] == [{"executionSuccessful": True}]
    assert run_of(report())["invocations"] == [{"executionSuccessful": False}]
    assert run_of(replace(report(), spared=True))["invocations"] == [{"executionSuccessful": True}]
    assert run_of(replace(report(judge(dotterel)), interrupted=True))["invocations"] == [{"executionSuccessful": False}]


@pytest.mark.parametrize(("file", "uri"), [
    ("a b.yaml", "a%20b.yaml"), ("::error::x.yaml", "%3A%3Aerror%3A%3Ax.yaml"), ("50%.yaml", "50%25.yaml"),
    ("/tmp/x.yaml", "tmp/x.yaml"), ("./a/../b.yaml", "b.yaml"), ("x\udcff.yaml", "x%FF.yaml"),
    ("ü.yaml", "%C3%BC.yaml"),
])  # fmt: skip
def test_addresses_are_relative_and_percent_encoded(report, file: str, uri: str) -> None:
    result = run_of(report(not_read=(NotRead(file, [Problem("x")]),)))["results"][0]
    assert result["locations"][0]["physicalLocation"]["artifactLocation"]["uri"] == uri


def test_fingerprints_survive_moved_lines_and_differ_between_aircraft(judge, report, dotterel) -> None:
    def marks(text: str) -> list[str]:
        return [r["partialFingerprints"]["primaryLocationLineHash"] for r in run_of(report(judge(text)))["results"]]

    before, after = marks(dotterel), marks("# one line more\n\n" + dotterel)
    assert before == after
    assert len(set(before)) == len(before) == 5
    assert not set(before) & set(marks(dotterel.replace("Dotterel", "Whinchat")))


def test_every_rule_that_was_asked_is_described_in_full(judge, report, dotterel) -> None:
    rules = run_of(report(judge(dotterel, linked)))["tool"]["driver"]["rules"]
    assert [r["id"] for r in rules] == sorted(r["id"] for r in rules)
    assert {"papers/owner", "interference/offset", "preflint/not-read"} <= {r["id"] for r in rules}
    for one in rules:
        assert one["shortDescription"]["text"]
        assert 0 < len(one["fullDescription"]["text"]) <= 1024
        assert one["help"]["text"]
        assert one["help"]["markdown"]
        assert one["properties"].keys() == {"tags", "precision", "problem.severity"}
    page = next(r for r in rules if r["id"] == "control/linked")
    assert page["name"] == "ControlLinked"
    assert page["help"]["text"].startswith(
        "A rule whose [page] (http://evil.example) takes { 0}.\n\nProse @all.\n\n    a:"
    )
    assert page["help"]["markdown"] == (
        "A rule whose \\[page\\]\\(http\\://evil\\.example\\) takes \\{0\\}\\.\n\nProse `@`all\\.\n\n"
        "```yaml\na: `1`\n```\n\n**Precaution:** \\[a\\]\\(b\\) \\<b\\>\n\n**Source:** none"
    )


def test_a_deferred_finding_stays_visible_as_a_note(judge, report) -> None:
    run = run_of(report(judge(manifest("R. Ashdown"))))
    [put_off] = [r for r in run["results"] if "suppressions" in r]
    assert put_off["level"] == "note"
    assert put_off["suppressions"] == [{
        "kind": "inSource", "status": "accepted", "justification": "2026-06-01, deferred by R. Ashdown: R. Ashdown",
    }]  # fmt: skip
    assert "deferred: heavy. Until: 2026-06-01" in put_off["message"]["text"]


@pytest.mark.parametrize("attack", ATTACKS)
def test_no_text_that_was_read_makes_a_link_an_argument_or_a_command(judge, report, attack: str) -> None:
    text = "".join(render_sarif(report(judge(manifest(ATTACKS[attack]), linked))))
    assert text.isascii()
    assert "::" not in text
    assert "##" not in text
    messages = [r["message"]["text"] for r in json.loads(text)["runs"][0]["results"]]
    for message in messages:
        assert re.findall(r"\]\((?!\d+\))", message) == []
        assert not re.search(r"\{\d", message)


def test_no_time_and_no_place_of_the_machine(judge, report, dotterel, tmp_path) -> None:
    text = "".join(render_sarif(report(judge(dotterel))))
    assert str(tmp_path) not in text
    assert not re.search("Time|hostname|commandLine|workingDirectory|security-severity", text)
    assert '"columnKind": "unicodeCodePoints"' in text


def test_what_is_said_of_the_folder_is_a_note(report) -> None:
    run = run_of(replace(report(), notes=(Note("no aircraft uses parts/x.yaml", Place("parts/x.yaml", 1, 1, 1, 1)),)))
    assert [(r["ruleId"], r["level"], r["message"]["text"]) for r in run["results"]] == [
        ("preflint/folder", "note", "no aircraft uses parts/x.yaml.")
    ]
