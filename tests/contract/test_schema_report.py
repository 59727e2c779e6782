"""The report's schema, and whether real reports keep to it."""

import copy
import datetime as dt
import json
import sys
from collections.abc import Iterable
from pathlib import Path
from typing import Any

import preflint_schemas
import pytest
from jsonschema import Draft202012Validator
from making.manifests import CLUB
from referencing import Registry

from preflint.fleet.inspect import inspect_many
from preflint.render.json_report import render_json

SCHEMA = preflint_schemas.report()
LAPWING = Path(__file__).with_name("lapwing.airframe.yaml").read_text()

FAILING_RULES = '''
from preflint.api import CAUTION, PACK_UNPLUGGED, Finding, Job, RuleModule, figure, rule

@rule("demo/fails", each="rotor", severity=CAUTION, job=Job.RECORD, precaution=PACK_UNPLUGGED, source="x")
def fails(rotor, on):
    """Fails by itself. It does not check anything."""
    return 1 / 0

@rule("demo/always", each="aircraft", severity=CAUTION, job=Job.RECORD, precaution=PACK_UNPLUGGED, source="x")
def always(aircraft, on):
    """Finds something. It does not check anything."""
    return Finding(place=aircraft.about.name.place, message="a name", evidence="written", do="none needed")

@figure("demo/broken")
def broken(on):
    raise ValueError("no figure")

MODULE = RuleModule(api=1, name="demo", rules=(fails, always), figures=(broken,))
'''


def errors(report: Any) -> list[str]:
    validator = Draft202012Validator(SCHEMA, registry=Registry())
    return [f"{error.json_path}: {error.message}" for error in validator.iter_errors(report)]


def report_of(folder: Path, rules: Iterable[str] = ()) -> Any:
    return json.loads("".join(render_json(inspect_many([folder], judged_on=dt.date(2026, 5, 21), rules=tuple(rules)))))


def test_it_is_a_schema_of_draft_2020_12() -> None:
    assert SCHEMA["$schema"] == "https://json-schema.org/draft/2020-12/schema"
    Draft202012Validator.check_schema(SCHEMA)


def test_every_object_is_closed_and_documented() -> None:
    for name, group in {"": SCHEMA, **SCHEMA["$defs"]}.items():
        if "properties" in group:
            assert group["additionalProperties"] is False, name
            assert all(schema["description"] for schema in group["properties"].values()), name


def test_the_report_on_the_examples_keeps_to_it() -> None:
    report = report_of(CLUB)
    assert errors(report) == []
    assert report["aircraft"]


def test_a_report_with_everything_in_it_keeps_to_it(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "rules").mkdir()
    (tmp_path / "rules" / "failing_rules.py").write_text(FAILING_RULES)
    monkeypatch.syspath_prepend(str(tmp_path / "rules"))
    monkeypatch.delitem(sys.modules, "failing_rules", raising=False)
    deferred = LAPWING.replace("vibration/harmonic, at: rear-left,", "demo/always,")
    without_files = deferred.replace(
        "file: logs/lapwing-2026-04-18.csv",
        ("columns: [current_a, field_x_ut, field_y_ut, field_z_ut], rows: [[0, 20, 5, 40], [9, 22, 5, 41]]"),
    )
    (tmp_path / "lapwing.airframe.yaml").write_text(without_files)
    (tmp_path / "bad.airframe.yaml").write_text("preflint: 1\naircraft: {name: Bad, layuot: quad-x}\n")
    (tmp_path / "empty.airframe.yaml").write_bytes(b"")
    report = report_of(tmp_path, ["failing_rules"])
    assert errors(report) == []
    assert [item["file"] for item in report["not_read"]] == ["bad.airframe.yaml", "empty.airframe.yaml"]
    aircraft = report["aircraft"][0]
    filled = ("findings", "unproven", "computed", "next", "crashed", "deferred")
    assert [key for key in filled if not aircraft[key]] == []
    failed = {item.get("rule") or item["figure"] for item in aircraft["crashed"]}
    assert failed == {"demo/fails", "demo/broken"}


def test_it_refuses_what_a_report_must_not_be() -> None:
    report = report_of(CLUB / "siskin.airframe.yaml")
    assert errors(report) == []
    finding = report["aircraft"][0]["findings"][0]
    for key in finding:
        broken = copy.deepcopy(report)
        del broken["aircraft"][0]["findings"][0][key]
        assert errors(broken), key
    for key, value in {"severity": "safe", "place": None, "message": "", "rule": "E101", "extra": 1}.items():
        broken = copy.deepcopy(report)
        broken["aircraft"][0]["findings"][0][key] = value
        assert errors(broken), key
    for key in report:
        assert errors({name: value for name, value in report.items() if name != key}), key
