"""A report beside an earlier one: new, gone and still there by aircraft, rule and rotor; gone is not put right."""

import json
import shutil
from pathlib import Path
from typing import Any

import pytest
from making.folders import DAY
from making.manifests import CLUB
from making.program import run

from preflint.errors import UsageError
from preflint.findings.outcome import CAUTION
from preflint.interface import Format, inspect_many, render_report

NAMES = ("avocet", "siskin", "whimbrel", "knot")


@pytest.fixture
def club(tmp_path: Path) -> Path:
    folder = tmp_path / "club"
    shutil.copytree(CLUB, folder)
    for file in folder.glob("*.airframe.yaml"):
        if file.name.partition(".")[0] not in NAMES:
            file.unlink()
    return folder


def judged(folder: Path, form: Format = "json", earlier: Path | None = None, **options: Any) -> str:
    return render_report(inspect_many(folder, judged_on=DAY, earlier=earlier), form, **options)


def report(folder: Path, earlier: Path | None = None, **options: Any) -> dict[str, Any]:
    told: dict[str, Any] = json.loads(judged(folder, "json", earlier, **options))
    return told


def kept(folder: Path) -> Path:
    file = folder.parent / "earlier.json"
    file.write_text(judged(folder))
    return file


def compared(folder: Path, earlier: Path, **options: Any) -> dict[str, Any]:
    found: dict[str, Any] = report(folder, earlier, **options)["compared"]
    return found


def by_name(told: dict[str, Any]) -> dict[str, dict[str, Any]]:
    return {one["name"]: one for one in told["aircraft"]}


def edit(file: Path, old: str, new: str) -> None:
    text = file.read_text(encoding="utf-8")
    assert old in text
    file.write_text(text.replace(old, new, 1), encoding="utf-8")


def test_lines_that_move_change_nothing(club: Path) -> None:
    earlier = kept(club)
    file = club / "siskin.airframe.yaml"
    file.write_text("# one line\n# and another\n" + file.read_text(encoding="utf-8"), encoding="utf-8")
    told = compared(club, earlier)
    states = {change["state"] for one in told["aircraft"] for change in one["changes"]}
    assert states == {"there"}
    assert told["differently"] == []
    text = judged(club, "text", earlier)
    assert "SINCE the report of 2026-05-21\n    Nothing new and nothing gone: 4 aircraft." in text


def test_what_is_new_at_one_rotor_and_gone_when_taken_back(club: Path) -> None:
    before = kept(club)
    text = (club / "avocet.airframe.yaml").read_text(encoding="utf-8")
    entry = "\n  - {date: 2026-05-20, kind: replaced, part: prop, at: nose-left}"
    edit(club / "avocet.airframe.yaml", "\nlogbook:", f"\nlogbook:{entry}")
    now = report(club, before)
    one = by_name(now["compared"])["Avocet"]
    assert (one["before"], one["verdict"], one["state"]) == ("go", "unproven", "there")
    new = {(c["kind"], c["rule"], c["at"]) for c in one["changes"] if c["state"] == "new"}
    (avocet,) = (told for told in now["aircraft"] if told["name"] == "Avocet")
    needed = {("unproven", u["rule"], u["at"]) for u in avocet["unproven"] if u["needed_for_flight"]}
    assert needed
    assert needed <= new
    assert by_name(now["compared"])["Siskin"]["changes"] != []

    after = kept(club)
    (club / "avocet.airframe.yaml").write_text(text, encoding="utf-8")
    back = by_name(compared(club, after))["Avocet"]
    gone = {(c["kind"], c["rule"], c["at"]): c["now"] for c in back["changes"] if c["state"] == "gone"}
    assert set(gone) == new
    assert set(gone.values()) <= {"clear", "unproven", "not_applicable"}


def test_gone_tells_that_it_is_not_proven_rather_than_right(club: Path) -> None:
    earlier = kept(club)
    found = next(one for one in report(club)["aircraft"] if one["name"] == "Whimbrel")["findings"]
    assert any(f["rule"] == "power_sensing/voltage-scale" for f in found)
    text = (club / "whimbrel.airframe.yaml").read_text(encoding="utf-8")
    file = club / "whimbrel.airframe.yaml"
    lines = text.splitlines(keepends=True)
    start = next(i for i, line in enumerate(lines) if line.strip().startswith("voltage_comparison:"))
    depth = len(lines[start]) - len(lines[start].lstrip())
    end = next(
        i for i, line in enumerate(lines[start + 1 :], start + 1)
        if line.strip() and len(line) - len(line.lstrip()) <= depth
    )  # fmt: skip
    file.write_text("".join(lines[:start] + lines[end:]), encoding="utf-8")
    gone = [c for c in by_name(compared(club, earlier))["Whimbrel"]["changes"] if c["state"] == "gone"]
    assert ("power_sensing/voltage-scale", "unproven") in {(c["rule"], c["now"]) for c in gone}
    text = judged(club, "text", earlier)
    assert "no-go, power_sensing/voltage-scale: not proven now" in text
    assert max(map(len, text.splitlines())) <= 80


def test_aircraft_that_come_go_and_are_not_read(club: Path) -> None:
    earlier = kept(club)
    (club / "avocet.airframe.yaml").write_text("preflint: 1\naircraft: [\n")
    (club / "siskin.airframe.yaml").unlink()
    shutil.copy(CLUB / "curlew.airframe.yaml", club)
    (club / "knot.airframe.yaml").rename(club / "red-knot.airframe.yaml")
    told = by_name(compared(club, earlier))
    assert {name: (one["state"], one["unread"]) for name, one in told.items()} == {
        "Avocet": ("gone", True), "Siskin": ("gone", False), "Curlew": ("new", False),
        "Knot": ("there", False), "Whimbrel": ("there", False),
    }  # fmt: skip
    text = " ".join(judged(club, "text", earlier).split())
    assert "Avocet: not read now, so nothing is known of it; it was go" in text
    assert "Siskin: not judged now; it was no-go" in text
    assert "Curlew: go, not in that report" in text


def test_two_of_one_name_are_told_apart_by_their_files(club: Path) -> None:
    shutil.copy(club / "siskin.airframe.yaml", club / "second.airframe.yaml")
    earlier = kept(club)
    told = compared(club, earlier)["aircraft"]
    assert [one["manifest"] for one in told if one["name"] == "Siskin"] == [
        "second.airframe.yaml", "siskin.airframe.yaml"
    ]  # fmt: skip
    assert {one["state"] for one in told} == {"there"}


def test_another_policy_or_pack_is_said(club: Path) -> None:
    earlier = kept(club)
    edit(club / "preflint.yaml", "preflint: 1", "preflint: 1  # changed")
    (said,) = compared(club, earlier)["differently"]
    assert said.startswith("it was judged by preflint.yaml sha256:")


def test_a_narrowed_report_narrows_what_is_compared(club: Path) -> None:
    earlier = kept(club)
    told = compared(club, earlier, verdicts="go")["aircraft"]
    assert [one["name"] for one in told] == ["Avocet"]
    severities = {
        c["severity"] for one in compared(club, earlier, least=CAUTION)["aircraft"] for c in one["changes"]
    }
    assert "no-go" in severities
    assert "advisory" not in severities


WHOLE: dict[str, Any] = {
    "report": 1, "judged_on": "2026-05-21", "tool": "preflint", "policy": None, "not_read": [], "aircraft": []
}  # fmt: skip
AIRCRAFT: dict[str, Any] = {
    "manifest": "a.airframe.yaml", "name": "A", "verdict": "go", "findings": [], "unproven": []
}  # fmt: skip


def aircraft(**more: Any) -> str:
    return json.dumps({**WHOLE, "aircraft": [{**AIRCRAFT, **more}]})


def test_the_least_that_is_compared(club: Path) -> None:
    file = club.parent / "small.json"
    file.write_text(aircraft())
    assert by_name(compared(club, file))["A"]["state"] == "gone"


@pytest.mark.parametrize(("text", "said"), [
    ("", "line 1 is no JSON"),
    ("preflint: 1\n", "line 1 is no JSON"),
    ("[]", "it does not say report: 1"),
    ('{"version": "2.1.0", "runs": []}', "it does not say report: 1"),
    (json.dumps({**WHOLE, "report": 2}), "it is of version 2"),
    (json.dumps({**WHOLE, "report": True}), "it is of version True"),
    (json.dumps({**WHOLE, "judged_on": "today"}), "judged_on is no day"),
    (json.dumps({**WHOLE, "judged_on": 3}), "judged_on is no text"),
    (json.dumps({**WHOLE, "policy": []}), "policy is no text"),
    (json.dumps({**WHOLE, "aircraft": {}}), "aircraft is no list"),
    (json.dumps({**WHOLE, "aircraft": [1]}), "an entry of aircraft is no object"),
    (json.dumps({**WHOLE, "not_read": [{}]}), "file is no text"),
    (json.dumps({**WHOLE, "left_out": ["Left out: 3."]}), "this report leaves something out"),
    (aircraft(verdict="safe"), "safe is no verdict"),
    (aircraft(name=""), "name is no text"),
    (aircraft(findings=[{"rule": "a/b", "severity": "bad", "message": "x"}]), "bad is no severity"),
    (aircraft(findings=[{"rule": [], "severity": "no-go", "message": "x"}]), "rule is no text"),
    (aircraft(unproven=[{"rule": "a/b", "needed_for_flight": True, "at": 3, "message": "x"}]), "at is no text"),
    (aircraft(flown_with=[1]), "a label under flown_with is no text"),
    ("[" * 100_000, "it is nested too deeply"),
    ("9" * 10_000, "it holds what JSON does not"),
    ("\udcff", "it holds what JSON does not"),
])  # fmt: skip
def test_what_is_no_report_of_ours_is_a_wrong_option(club: Path, text: str, said: str) -> None:
    file = club.parent / "other.json"
    file.write_bytes(text.encode("utf-8", "surrogateescape"))
    with pytest.raises(UsageError) as error:
        inspect_many(club, judged_on=DAY, earlier=file)
    assert str(error.value).startswith(f"--compare {file}: ")
    assert said in str(error.value)


def test_a_file_that_is_missing_too_large_or_no_file(club: Path) -> None:
    huge = club.parent / "huge.json"
    with open(huge, "wb") as file:
        file.truncate((64 << 20) + 5)
    for path, said in (
        (club / "missing.json", "there is no such file"),
        (club, "this is not a regular file"),
        (huge, "at most 67108864 are read"),
    ):
        with pytest.raises(UsageError, match=said):
            inspect_many(club, judged_on=DAY, earlier=path)


def test_the_program_compares_and_refuses(club: Path) -> None:
    earlier = kept(club)
    told = run("inspect", club, "--as-of", "2026-05-21", "--compare", earlier, "--detail", "none")
    assert told.returncode == 1
    assert "SINCE the report of 2026-05-21\n    Nothing new and nothing gone: 4 aircraft." in told.stdout
    refused = run("inspect", club, "--compare", club / "preflint.yaml")
    assert (refused.returncode, refused.stdout) == (2, "")
    assert "this is no JSON report of preflint: line 1 is no JSON" in " ".join(refused.stderr.split())
