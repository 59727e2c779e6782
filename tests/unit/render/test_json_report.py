"""The JSON report holds to its schema and tells the numbers of the text."""

import json

from jsonschema import Draft202012Validator
from preflint_schemas import report as report_schema

from preflint.api import ADVISORY, PACK_UNPLUGGED, Finding, Job, figure, rule
from preflint.engine.rule_module import Registry, RuleModule
from preflint.errors import NotRead, Problem
from preflint.inspection import inspect_manifest
from preflint.places import Place
from preflint.render.json_report import render_json

DEFERRED = """\
preflint: 1
aircraft: {name: Dunlin ü, layout: quad-x, takeoff_mass_g: 3100}
rotors:
  - {at: front-left, spin: cw, fixing: {nut_tightens: cw}}
deferred_defects:
  - {rule: mass_and_hover/throttle, until: 2026-06-01, by: R. Ashdown, because: lighter pack ordered}
"""


@rule(
    "control/broken", each="aircraft", severity=ADVISORY, job=Job.MECHANICAL, precaution=PACK_UNPLUGGED, source="none"
)
def broken(aircraft, on):
    """A rule that fails by itself."""
    return [][1]


def read(text: str):
    found = json.loads(text)
    Draft202012Validator(report_schema()).validate(found)
    return found


def test_every_kind_of_answer_holds_to_the_schema(judge, report) -> None:
    failed = NotRead(
        "b.airframe.yaml", [Problem("cut short", Place("b.airframe.yaml", 3, 7, 3, 9, "/a~1b")), Problem("x")]
    )
    text = "".join(render_json(report(judge(DEFERRED, broken), not_read=(failed,))))
    assert text.isascii()
    assert text.endswith("}\n")
    found = read(text)
    one = found["aircraft"][0]
    assert (found["report"], found["judged_on"], found["tool"]) == (1, "2026-05-21", "preflint 0.1.0")
    assert (one["manifest"], one["name"], one["verdict"]) == ("trial.airframe.yaml", "Dunlin ü", "no-go")
    assert one["rules"] == found["counts"]["rules"]
    assert one["rules"]["finding"] == len(one["findings"]) == 2
    assert one["rules"]["unproven"] == len(one["unproven"])
    assert one["rules"]["run"] == sum(n for answer, n in one["rules"].items() if answer != "run")
    assert one["crashed"] == [{"rule": "control/broken", "at": None, "message": "IndexError: list index out of range"}]
    assert found["not_read"][0]["problems"][1] == {"message": "x", "place": None, "line": None}


def test_a_finding_in_full(judge, report) -> None:
    found = read("".join(render_json(report(judge(DEFERRED)))))["aircraft"][0]["findings"][1]
    assert found == {
        "rule": "retention/nut-hand",
        "severity": "no-go",
        "at": "front-left",
        "place": {
            "file": "trial.airframe.yaml", "pointer": "/rotors/0/fixing/nut_tightens",
            "line": 4, "column": 55, "end_line": 4, "end_column": 57,
        },
        "related": [
            {
                "place": {
                    "file": "trial.airframe.yaml", "pointer": "/rotors/0/spin",
                    "line": 4, "column": 28, "end_line": 4, "end_column": 30,
                },
                "message": "spin recorded here",
            }
        ],
        "message": "nut tightens cw; this shaft needs ccw",
        "evidence": "spin cw seen from above",
        "remedy": "fit an adapter whose nut tightens ccw",
        "precaution": PACK_UNPLUGGED,
        "source": "a clause",
    }  # fmt: skip


def test_a_deferral_names_its_finding_and_its_own_entry(judge, report) -> None:
    one = read("".join(render_json(report(judge(DEFERRED)))))["aircraft"][0]
    (entry,) = one["deferred"]
    assert (entry["rule"], entry["at"], entry["until"]) == ("mass_and_hover/throttle", None, "2026-06-01")
    assert (entry["by"], entry["because"]) == ("R. Ashdown", "lighter pack ordered")
    assert entry["place"] == one["findings"][0]["place"]
    assert entry["entry"]["line"] == 6


def test_figures_have_a_value_or_none(judge, report) -> None:
    weight, unbounded = read("".join(render_json(report(judge(DEFERRED)))))["aircraft"][0]["computed"]
    assert (weight["quantity"], weight["unit"], weight["standard_uncertainty"]) == ("weight", "N", None)
    assert abs(weight["value"] - 30.400615) < 1e-9
    assert (unbounded["case"], unbounded["value"], unbounded["standard_uncertainty"]) == ("unbounded", None, 0.5)


def test_jobs_are_in_order_and_complete(judge, report) -> None:
    one = read("".join(render_json(report(judge(DEFERRED)))))["aircraft"][0]
    assert [job["stage"] for job in one["next"]] == ["record", "mechanical", "mechanical", "mechanical", "props-off"]
    waiting = {item["rule"] for item in one["findings"] + one["unproven"]}
    assert {rule for job in one["next"] for rule in job["rules"]} == waiting


def test_a_figure_that_fails_is_named(tmp_path, report) -> None:
    @figure("doomed")
    def doomed(on):
        raise ZeroDivisionError("by nothing")

    path = tmp_path / "trial.airframe.yaml"
    path.write_text("preflint: 1\naircraft: {name: Dunlin, layout: quad-x}\n", encoding="utf-8")
    run = report()
    aircraft = inspect_manifest(path, run.judged_on, Registry.of([RuleModule(1, "trial", (broken,), (doomed,))]))
    crashed = read("".join(render_json(report(aircraft))))["aircraft"][0]["crashed"]
    assert {"figure": "doomed", "at": None, "message": "ZeroDivisionError: by nothing"} in crashed


def test_words_that_ci_services_obey_are_spelled_otherwise_and_read_the_same(judge, report) -> None:
    words = "::error::x ##[command] ##vso[x] \x1b[2J \ud800 \u202e"

    @rule("control/words", each="aircraft", severity=ADVISORY, job=Job.RECORD, precaution=words, source=words)
    def hostile(aircraft, on):
        """Says the words."""
        return Finding(place=aircraft.place, message=words, evidence=words, do=words)

    text = "".join(render_json(report(judge(DEFERRED, hostile))))
    assert "::" not in text
    assert "##" not in text
    assert "\x1b" not in text
    found = next(f for f in read(text)["aircraft"][0]["findings"] if f["rule"] == "control/words")
    assert found["message"] == words


def test_the_same_report_gives_the_same_bytes(judge, report) -> None:
    first, second = ("".join(render_json(report(judge(DEFERRED, broken)))) for _ in range(2))
    assert first == second
