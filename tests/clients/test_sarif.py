"""SARIF as its schema, a validator of its meaning, and an independent reader see it."""

import csv
import json
from pathlib import Path

from .conftest import run

SCHEMA_CHECK = """
import json, sys
from jsonschema import Draft4Validator, Draft202012Validator
schema, report = (json.load(open(name, encoding="utf-8-sig")) for name in sys.argv[1:])
# The older draft's own checker knows no relative references, and lets any through.
check = Draft4Validator(schema, format_checker=Draft202012Validator.FORMAT_CHECKER)
print(json.dumps([[list(error.path), error.message[:300]] for error in check.iter_errors(report)]))
"""

# Not faults: it would have the repository's revision (2003), addresses on the network (2005, 2006, 2012), texts by
# number (2002), copies of the lines (2010, 2011, 2013), and it takes topic/name for a rule and its sub-rule (2009).
EXPECTED = {f"SARIF{n}" for n in (2002, 2003, 2005, 2006, 2009, 2010, 2011, 2012, 2013)}


def schema_errors(clients: Path, report: Path) -> list[object]:
    schema = clients / "node_modules/@microsoft/jest-sarif/lib/schemas/sarif-2.1.0-rtm.5.json"
    found: list[object] = json.loads(run(clients / "venv/bin/python", "-c", SCHEMA_CHECK, schema, report))
    return found


def few(report: Path) -> str:
    """The same file with a few results only."""
    document = json.loads(report.read_text())
    del document["runs"][0]["results"][3:]
    return json.dumps(document)


def findings(clients: Path, report: Path, out: Path) -> set[tuple[str, str]]:
    """Rule and level; read from the validator's file, for its exit code is 0 even where it finds errors."""
    run(
        clients / "node_modules/@microsoft/sarif-multitool-linux/Sarif.Multitool", "validate", report, "--output", out,
        "--log", "ForceOverwrite", "--rule-kind", "Sarif;Ghas", "--level", "Error;Warning;Note",
    )  # fmt: skip
    results = json.loads(out.read_text("utf-8-sig"))["runs"][0]["results"]
    return {(result["ruleId"], result.get("level", "warning")) for result in results}


def test_the_schema_accepts_it_and_would_refuse_a_bad_one(clients: Path, told: dict[str, Path], tmp_path: Path) -> None:
    assert schema_errors(clients, told["sarif"]) == []
    text = few(told["sarif"])
    for good, bad in (('"level": "error"', '"level": "critical"'), ('"uri": "%', '"uri": " %')):
        assert good in text
        (tmp_path / "bad.sarif").write_text(text.replace(good, bad, 1))
        assert len(schema_errors(clients, tmp_path / "bad.sarif")) == 1


def test_the_validator_of_meaning_has_nothing_to_say(clients: Path, told: dict[str, Path], tmp_path: Path) -> None:
    found = findings(clients, told["sarif"], tmp_path / "out.sarif")
    assert {rule for rule, _ in found} <= EXPECTED
    document = json.loads(few(told["sarif"]))
    document["runs"][0]["results"][0]["ruleIndex"] = 9999
    (tmp_path / "bad.sarif").write_text(json.dumps(document))
    assert ("SARIF1009", "error") in findings(clients, tmp_path / "bad.sarif", tmp_path / "out.sarif")


def test_an_independent_reader_reads_the_same(clients: Path, told: dict[str, Path], tmp_path: Path) -> None:
    sarif = clients / "venv/bin/sarif"
    results = json.loads(told["sarif"].read_text())["runs"][0]["results"]
    run(sarif, "csv", "--output", tmp_path / "out.csv", told["sarif"])
    with (tmp_path / "out.csv").open(encoding="utf-8-sig", newline="") as file:
        rows = list(csv.DictReader(file))
    for level in ("error", "warning", "note"):
        assert [r["Severity"] for r in rows].count(level) == [r["level"] for r in results].count(level) > 0
    lines = sorted(r["locations"][0]["physicalLocation"]["region"]["startLine"] for r in results)
    assert sorted(int(r["Line"]) for r in rows) == lines
    errors = sum(r["level"] == "error" for r in results)
    run(sarif, "--check", "error", "summary", told["sarif"], code=errors % 256)
