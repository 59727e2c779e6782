"""The policy's schema, and policies, changed files and workers as the program takes them."""

import json
import os
import re
import signal
import subprocess
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import preflint_schemas
import pytest
from jsonschema import Draft202012Validator
from making.manifests import CLUB
from making.program import DAY, PROGRAM, run
from referencing import Registry

SCHEMA = preflint_schemas.policy()
ROOT = Path(__file__).parents[2]
KNOT = (CLUB / "knot.airframe.yaml").read_text(encoding="utf-8")


def groups(schema: Any) -> Iterator[dict[str, Any]]:
    if isinstance(schema, dict):
        if "properties" in schema:
            yield schema
        for key, inner in schema.items():
            if key != "examples":
                yield from groups(inner)


def test_it_is_a_closed_documented_schema_of_draft_2020_12() -> None:
    Draft202012Validator.check_schema(SCHEMA)
    for group in groups(SCHEMA):
        assert group["additionalProperties"] is False
        assert all("description" in inner for inner in group["properties"].values())


def test_its_examples_hold_to_it() -> None:
    for group in groups(SCHEMA):
        for name, inner in group["properties"].items():
            validator = Draft202012Validator({**inner, "$defs": SCHEMA["$defs"]}, registry=Registry())
            for example in inner.get("examples", ()):
                assert [error.message for error in validator.iter_errors(example)] == [], name


@pytest.fixture
def tree(tmp_path: Path) -> Path:
    (tmp_path / "knot.airframe.yaml").write_text(KNOT, encoding="utf-8")
    (tmp_path / "preflint.yaml").write_text("preflint: 1\ntolerances: {start_throttle_spread: 4}\n", encoding="utf-8")
    return tmp_path


def test_every_format_tells_what_a_policy_weakens(tree: Path) -> None:
    said = (
        r"preflint.yaml sha256:[0-9a-f]{16}; weakens: start_throttle_spread 4 % of throttle \(usually 3 % of throttle\)"
    )
    assert re.search(said, " ".join(run("inspect", tree, *DAY).stdout.split()))
    assert re.fullmatch(said, json.loads(run("inspect", tree, *DAY, "--format", "json").stdout)["policy"])


def test_a_policy_on_the_command_line_wins(tree: Path, tmp_path: Path) -> None:
    mine = tmp_path / "mine.yaml"
    mine.write_text("preflint: 1\nlimits: {prop_diameter_in: 8}\n", encoding="utf-8")
    report = json.loads(run("inspect", tree, *DAY, "--policy", mine, "--format", "json").stdout)
    assert report["policy"].startswith("mine.yaml sha256:")
    assert "weakens" not in report["policy"]
    assert {f["rule"] for f in report["aircraft"][0]["findings"]} >= {"club/prop-diameter"}


@pytest.mark.parametrize("name", ["gone.yaml", ".", "link.yaml", "broken.yaml"])
def test_a_named_policy_that_cannot_be_read_is_2(name: str, tree: Path) -> None:
    (tree / "link.yaml").symlink_to(tree / "preflint.yaml")
    (tree / "broken.yaml").write_text("preflint: [", encoding="utf-8")
    done = run("inspect", tree, *DAY, "--policy", tree / name)
    assert (done.returncode, done.stdout) == (2, "")
    assert done.stderr.startswith("preflint: ")
    assert "Traceback" not in done.stderr


def test_the_field_day_of_the_example_club() -> None:
    report = json.loads(run("inspect", CLUB, "--as-of", "field-day", "--format", "json").stdout)
    assert report["judged_on"] == "2026-05-23"


def test_field_day_without_a_policy_is_2(tree: Path) -> None:
    done = run("inspect", tree, "--as-of", "field-day")
    assert (done.returncode, "names a field_day" in done.stderr) == (2, True)


def test_the_club_is_a_table_of_80_columns_worst_first() -> None:
    lines = run("inspect", CLUB, *DAY).stdout.splitlines()
    assert max(map(len, lines)) <= 80
    order = ["NO-GO", "UNPROVEN", "GO WITH CAUTIONS", "GO"]
    verdicts = [verdict for line in lines if (verdict := line.partition("  ")[0]) in order]
    assert verdicts == sorted(verdicts, key=order.index)
    assert len(verdicts) == len(list(CLUB.glob("*.airframe.yaml")))


def test_two_processes_give_the_bytes_of_one() -> None:
    one, two = (run("inspect", CLUB, *DAY, "--format", "json", "--jobs", jobs) for jobs in (1, 2))
    assert (one.stdout, one.returncode) == (two.stdout, two.returncode)
    assert one.returncode == 1


@pytest.mark.parametrize(("given", "code", "judged"), [
    ("parts/fenwick-2814.yaml\n", 1, ["Pipit", "Plover", "Sandpiper", "Shoveler", "Whimbrel"]),
    ("parts/fenwick-2814.yaml\0", 1, ["Pipit", "Plover", "Sandpiper", "Shoveler", "Whimbrel"]),
    ("wheatear.airframe.yaml\n", 0, ["Wheatear"]),
    ("README.md\n", 0, []),
    ("", 3, None),
    ('"caf\\303\\251.yaml"\n', 3, None),
])
def test_changed_files_from_standard_input(given: str, code: int, judged: list[str] | None) -> None:
    done = run("inspect", "--files-from", "-", *DAY, "--format", "json", given=given, cwd=CLUB)
    assert done.returncode == code
    if judged is None:
        assert done.stdout == ""
        assert done.stderr.startswith("preflint: -:\n    ")
    else:
        assert [one["name"] for one in json.loads(done.stdout)["aircraft"]] == judged


def test_names_that_nobody_uses_are_told_and_that_nothing_was_judged() -> None:
    shown = run("inspect", "--files-from", "-", *DAY, given="README.md\n", cwd=CLUB).stdout
    assert "README.md changed, and no aircraft here uses it" in shown
    assert "Nothing was judged: no aircraft uses any of the files named." in shown


def test_changed_files_without_any_aircraft_are_3(tmp_path: Path) -> None:
    assert run("inspect", "--files-from", "-", *DAY, given="README.md\n", cwd=tmp_path).returncode == 3


@pytest.mark.parametrize("name", ["gone.txt", "."])
def test_a_list_that_cannot_be_read_is_3(name: str, tree: Path) -> None:
    done = run("inspect", "--files-from", tree / name, *DAY)
    assert (done.returncode, "Traceback" in done.stderr) == (3, False)


def test_a_cluster_without_its_extra_or_with_jobs_is_2(tree: Path) -> None:
    assert run("inspect", tree, "--cluster", "tcp://127.0.0.1:9", "--jobs", "2").returncode == 2


SLOW = '''
import os, sys, time
from preflint.api import *
@rule("slow/waits", each="aircraft", severity=ADVISORY, job=Job.RECORD, precaution="none", source="none")
def waits(aircraft, on):
    """Waits at the second aircraft. It does not check anything."""
    if aircraft.about.name.value == "Second":
        open(os.environ["WAITING"], "w").close()
        for _ in range(600):  # a signal that comes just before a sleep ends no sleep
            time.sleep(0.1)
    return Clear("waited")
MODULE = RuleModule(api=1, name="slow", rules=(waits,))
'''


def test_interrupted_in_mid_fleet_is_130_and_tells_what_was_done(tmp_path: Path) -> None:
    for name in ("first", "second", "third"):
        (tmp_path / f"{name}.airframe.yaml").write_text(
            KNOT.replace("name: Knot", f"name: {name.title()}"), encoding="utf-8"
        )
    (tmp_path / "slow_rules.py").write_text(SLOW)
    waiting = tmp_path / "waiting"
    with subprocess.Popen(
        [str(PROGRAM), "inspect", str(tmp_path), *DAY, "--rules", "slow_rules", "--format", "json"],
        stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True,
        env={**os.environ, "PYTHONPATH": str(tmp_path), "WAITING": str(waiting)},
        preexec_fn=lambda: signal.signal(signal.SIGINT, signal.default_int_handler),
    ) as process:  # fmt: skip
        while not waiting.exists():
            assert process.poll() is None
        process.send_signal(signal.SIGINT)
        shown, complained = process.communicate(timeout=60)
    report = json.loads(shown)
    assert (process.returncode, "Traceback" in complained) == (130, False)
    assert [one["name"] for one in report["aircraft"]] == ["First"]
    assert [item["file"] for item in report["not_read"]] == ["second.airframe.yaml", "third.airframe.yaml"]
