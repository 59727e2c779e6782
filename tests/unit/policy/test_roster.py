"""The aircraft that a club expects, the oldest preflint that may judge, and whose an unread manifest is."""

import json
from pathlib import Path
from typing import Any

import pytest
from making.folders import inspected, manifest, missed, names, said, write

from preflint.errors import UsageError
from preflint.findings.outcome import CAUTION
from preflint.interface import FORMATS, render_report
from preflint.version import __version__


@pytest.fixture
def club(tmp_path: Path) -> Path:
    folder = tmp_path / "club"
    for name in ("avocet", "curlew"):
        manifest(folder, name)
    return folder


def roster(club: Path, *expected: str) -> None:
    write(club / "preflint.yaml", f"preflint: 1\nroster: [{', '.join(expected)}]\n")


def test_all_are_there_however_they_are_written(club: Path) -> None:
    roster(club, "AVOCET", "' Curlew '")
    report = inspected(club)
    assert (report.missing, said(report)) == ((), [])
    assert "MISSING" not in render_report(report)


def test_missing_ones_stand_at_the_top_of_the_end_and_in_every_format(club: Path) -> None:
    roster(club, "Avocet", "Curlew", "Heron", "Grey Plover")
    report = inspected(club)
    assert report.missing == ("Heron", "Grey Plover")
    lines = render_report(report).splitlines()
    end = lines[len(lines) - lines[::-1].index("") :]
    assert end[0] == "MISSING though on the club's roster, so nothing is known of: Heron, Grey Plover."
    for form in FORMATS:
        for least in (None, CAUTION):
            text = render_report(report, form, **({"least": least} if least else {}))
            assert "Grey Plover" in text, form
    assert json.loads(render_report(report, "json"))["missing"] == ["Heron", "Grey Plover"]


def test_strangers_are_noted_where_they_are_named(club: Path) -> None:
    roster(club, "Avocet")
    (note,) = inspected(club).notes
    assert note.message == '"Curlew" is not on the club\'s roster'
    assert note.place is not None
    assert (note.place.file, note.place.pointer) == ("curlew.airframe.yaml", "/aircraft/name")


def test_only_of_the_whole_folder(club: Path) -> None:
    roster(club, "Avocet", "Heron")
    manifest(club / "far", "dunlin")
    for part in (club / "curlew.airframe.yaml", club / "far"):
        report = inspected(part)
        assert (report.missing, said(report)) == ((), [])
    assert inspected(club.parent).missing == ("Heron",)
    assert inspected(club, changed=[club / "curlew.airframe.yaml"]).missing == ()


def test_a_policy_of_another_folder_expects_nobody(club: Path, tmp_path_factory: pytest.TempPathFactory) -> None:
    other = tmp_path_factory.mktemp("other") / "rules.yaml"
    write(other, "preflint: 1\nroster: [Heron]\n")
    assert inspected(club, policy=other).missing == ()


def test_one_that_cannot_be_read_is_not_missing(club: Path) -> None:
    roster(club, "Avocet", "Curlew", "Heron")
    write(club / "heron.airframe.yaml", "preflint: 1\naircraft: {name: Heron, owner: T. Halloran, layuot: quad-x}\n")
    report = inspected(club)
    assert report.missing == ()
    assert names(report) == ["Avocet", "Curlew"]
    assert set(missed(report)) == {"heron.airframe.yaml"}
    assert "heron.airframe.yaml, Heron, T. Halloran: " in render_report(report)


def test_a_roster_names_each_once(club: Path) -> None:
    roster(club, "Avocet", "Avocet")
    with pytest.raises(UsageError):
        inspected(club)


def unread(club: Path, text: str | bytes) -> list[Any]:
    file = club / "bad.airframe.yaml"
    file.write_bytes(text if isinstance(text, bytes) else text.encode())
    (entry,) = json.loads(render_report(inspected(file), "json"))["not_read"]
    return [entry["name"], entry["owner"], entry["layout"]]


@pytest.mark.parametrize(("text", "legible"), [
    ("preflint: 1\naircraft: {name: Heron, owner: T. Halloran, layout: quad-y}\n", ["Heron", "T. Halloran", "quad-y"]),
    ("preflint: 1\naircraft: {name: Heron, layout: [1], wrong: 1}\n", ["Heron", None, None]),
    ("preflint: 1\naircraft: {name: ' ', owner: 3, layout: quad-x}\n", [None, None, "quad-x"]),
    (f"preflint: 1\naircraft: {{name: {'x' * 201}, layout: quad-x, wrong: 1}}\n", [None, None, "quad-x"]),
    ("preflint: 1\naircraft: [name, Heron]\n", [None, None, None]),
    ("name: Heron\n", [None, None, None]),
    ("- aircraft: {name: Heron}\n", [None, None, None]),
    ("aircraft: {name: Heron, layout: [\n", [None, None, None]),
    ("aircraft: {name: Heron}\n\taircraft: {name: Heron}\n", [None, None, None]),
    (b"\xff\xfeaircraft: {name: Heron}", [None, None, None]),
    ("", [None, None, None]),
])  # fmt: skip
def test_whose_a_manifest_is_that_was_not_judged(club: Path, text: str | bytes, legible: list[Any]) -> None:
    assert unread(club, text) == legible


def test_json_tells_whose_each_is_that_was_judged(club: Path) -> None:
    write(club / "own.airframe.yaml", "preflint: 1\naircraft: {name: Own, owner: S. Okonjo, layout: quad-plus}\n")
    report = inspected(club / "own.airframe.yaml", club / "avocet.airframe.yaml")
    told = {one["name"]: (one["owner"], one["layout"]) for one in json.loads(render_report(report, "json"))["aircraft"]}
    assert told == {"Own": ("S. Okonjo", "quad-plus"), "Avocet": (None, "quad-x")}
    full = render_report(report, detail="full")
    assert "Own, S. Okonjo, quad-plus" in full
    assert "Avocet, no owner recorded, quad-x" in full


def test_an_older_preflint_judges_nothing_and_says_so(club: Path) -> None:
    numbers = [int(number) for number in __version__.split(".")]
    for least in (__version__, ".".join(map(str, numbers[:2])), "0.0.9"):
        write(club / "preflint.yaml", f'preflint: 1\nminimum_version: "{least}"\n')
        assert len(inspected(club).aircraft) == 2
    for newer in (f"{numbers[0]}.{numbers[1]}.{numbers[2] + 1}", f"{numbers[0]}.{numbers[1] + 10}", "10.0"):
        # What it does not know yet is not called wrong: the version comes first.
        write(club / "preflint.yaml", f'preflint: 1\nminimum_version: "{newer}"\nof_later: true\n')
        said = f"this preflint is {__version__}, and the policy asks for {newer} or newer"
        with pytest.raises(UsageError, match=said):
            inspected(club)


@pytest.mark.parametrize("written", ["0.1", "1", '"1"', '"latest"', '"1.0.0.0"', "[1]"])
def test_a_version_is_written_as_one(club: Path, written: str) -> None:
    write(club / "preflint.yaml", f"preflint: 1\nminimum_version: {written}\n")
    with pytest.raises(UsageError, match=r"preflint\.yaml:2:"):
        inspected(club)
