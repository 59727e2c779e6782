"""JUnit XML as the schema of the widest used servers, and a reader of such files, see it."""

import json
from pathlib import Path

from .conftest import run

CHECK = """
import sys, xmlschema
print(len([*xmlschema.XMLSchema(sys.argv[1]).iter_errors(sys.argv[2])]))
"""

READ = """
import json, sys
from junitparser import JUnitXml
found = JUnitXml.fromfile(sys.argv[1])
said = [found.tests, found.failures, found.errors]
kinds = {}
for suite in found:
    for case in suite:
        for result in case.result:
            kinds[result.type] = kinds.get(result.type, 0) + 1
properties = {p.name: p.value for p in next(s for s in found if s.name == "preflint").properties()}
found.update_statistics()
print(json.dumps([said, [found.tests, found.failures, found.errors], kinds, properties]))
"""


def test_the_schema_accepts_it_and_would_refuse_a_bad_one(clients: Path, told: dict[str, Path], tmp_path: Path) -> None:
    python, schema = clients / "venv/bin/python", clients / "junit-10.xsd"
    assert run(python, "-c", CHECK, schema, told["junit"]) == "0\n"
    bad = told["junit"].read_text().replace("<testcase name", '<testcase file="x" name', 1)
    (tmp_path / "bad.xml").write_text(bad)
    assert run(python, "-c", CHECK, schema, tmp_path / "bad.xml") != "0\n"


def test_a_reader_counts_as_we_do(clients: Path, told: dict[str, Path]) -> None:
    said, recounted, kinds, properties = json.loads(run(clients / "venv/bin/python", "-c", READ, told["junit"]))
    assert said == recounted
    report = json.loads(told["json"].read_text())
    # A case is what one rule says of one manifest, whatever it was asked about; its worst answer counts.
    no_go = {
        (aircraft["manifest"], one["rule"]) for aircraft in report["aircraft"]
        for one in aircraft["findings"] if one["severity"] == "no-go"
    }  # fmt: skip
    unproven = {
        (aircraft["manifest"], one["rule"]) for aircraft in report["aircraft"]
        for one in aircraft["unproven"] if one["needed_for_flight"]
    }  # fmt: skip
    assert len(report["aircraft"]) < said[0] < report["counts"]["rules"]["run"]
    assert said[2] == kinds["input-unreadable"] == len(report["not_read"]) > 0
    assert kinds["no-go"] == len(no_go) > 0
    assert kinds["unproven"] == len(unproven - no_go) > 0
    assert said[1] == kinds["no-go"] + kinds["unproven"]
    assert properties["manifests_seen"] == str(report["counts"]["manifests_seen"])
