"""Files of several folders in one report: no two of one name, each leads to its file, each manifest counts once."""

import csv
import json
import re
from pathlib import Path
from urllib.parse import unquote

import pytest
from making.folders import inspected, manifest, names, said, write

from preflint.findings.report import Report
from preflint.interface import render_report
from preflint.render.sheet.pages import pages

BAD_MOTOR = "every_rotor: {motor: parts/motor.yaml, spin: cw}"


@pytest.fixture
def two(tmp_path: Path) -> Path:
    """Two folders without a policy; both hold kestrel.airframe.yaml and parts/motor.yaml."""
    for folder, shaft in (("a", "4.0"), ("b", "5.0")):
        manifest(tmp_path / folder, "kestrel", BAD_MOTOR)
        write(tmp_path / folder / "parts/motor.yaml", f"shaft_mm: {shaft}\nkv_rpm_per_v: 900\n")
        write(tmp_path / folder / "parts/unused.yaml", "shaft_mm: 1.0\n")
    return tmp_path


def places(report: Report) -> set[str]:
    """Every file that the JSON report names at a place."""
    return set(re.findall(r'"file": "([^"]+)"', render_report(report, "json")))


def test_two_folders_are_named_from_the_one_that_holds_both(two: Path) -> None:
    report = inspected(two / "a", two / "b")
    assert [one.manifest for one in report.aircraft] == ["a/kestrel.airframe.yaml", "b/kestrel.airframe.yaml"]
    assert [one.files for one in report.aircraft] == [
        (f"{folder}/kestrel.airframe.yaml", f"{folder}/parts/motor.yaml") for folder in "ab"
    ]
    assert {"a/kestrel.airframe.yaml", "b/kestrel.airframe.yaml"} <= places(report)
    assert all((two / file).is_file() for file in places(report))
    assert said(report)[-2:] == ["no aircraft uses a/parts/unused.yaml", "no aircraft uses b/parts/unused.yaml"]


def test_every_format_tells_them_apart(two: Path) -> None:
    report = inspected(two / "a", two / "b")
    run = json.loads(render_report(report, "sarif"))["runs"][0]
    physical = [
        found["physicalLocation"]["artifactLocation"]["uri"]
        for result in run["results"] for found in (*result["locations"], *result.get("relatedLocations", ()))
    ]  # fmt: skip
    assert {uri.partition("/")[0] for uri in physical} == {"a", "b"}
    assert all((two / unquote(uri)).is_file() for uri in physical)
    rows = list(csv.DictReader(render_report(report, "csv").splitlines()))
    assert {row["file"].partition("/")[0] for row in rows if row["file"]} == {"a", "b"}
    for form, pattern in (("annotations", r"file=([^,]+)"), ("lines", r"(?m)^([^:]+):\d+:\d+: "),
                          ("junit", r'testsuite name="([^"]+/[^"]+)"')):  # fmt: skip
        found = set(re.findall(pattern, render_report(report, form)))
        assert {"a/kestrel.airframe.yaml", "b/kestrel.airframe.yaml"} & found, form
        assert all((two / file).is_file() for file in found), form
    text = render_report(report, "text", detail="full")
    assert "a/kestrel.airframe.yaml" in text
    assert "b/kestrel.airframe.yaml" in text
    assert {"a-kestrel.html", "b-kestrel.html"} < set(pages(report))


def test_what_cannot_be_read_is_named_so_too(two: Path) -> None:
    write(two / "a/broken.airframe.yaml", "a: [1, 2")
    write(two / "b/kite.airframe.yml", "")
    (two / "b/parts/motor.yaml").unlink()
    report = inspected(two / "a", two / "b")
    files = {error.file: error.problems[0].message for error in report.not_read}
    assert set(files) == {"a/broken.airframe.yaml", "b/kestrel.airframe.yaml", "b/kite.airframe.yml"}
    assert files["b/kestrel.airframe.yaml"].startswith("b/parts/motor.yaml: there is no such file")


def test_one_policy_names_all_from_its_folder(two: Path) -> None:
    write(two / "preflint.yaml", "preflint: 1\nexclude: [b/old/]\n")
    manifest(two / "b/old", "kite")
    report = inspected(two / "b")
    assert [one.manifest for one in report.aircraft] == ["b/kestrel.airframe.yaml"]
    assert report.policy
    assert report.policy.startswith("preflint.yaml ")


def test_two_policies_keep_their_folders(two: Path) -> None:
    for folder in "ab":
        write(two / folder / "preflint.yaml", "preflint: 1\nexclude: [old/]\nfield_day: {date: 2026-05-23}\n")
        manifest(two / folder / "old", "kite")
    manifest(two / "a", "slash", "every_rotor: {motor: /parts/motor.yaml}")
    report = inspected(two)
    assert [one.manifest for one in report.aircraft] == [
        "a/kestrel.airframe.yaml", "a/slash.airframe.yaml", "b/kestrel.airframe.yaml",
    ]  # fmt: skip
    assert report.aircraft[1].files == ("a/parts/motor.yaml", "a/slash.airframe.yaml")
    assert re.fullmatch(r"a/preflint\.yaml sha256:\w+; b/preflint\.yaml sha256:\w+", report.policy or "")


def test_without_a_policy_a_folder_searched_names_what_lies_deeper(two: Path) -> None:
    assert [one.manifest for one in inspected(two).aircraft] == ["a/kestrel.airframe.yaml", "b/kestrel.airframe.yaml"]
    assert [one.manifest for one in inspected(two / "a").aircraft] == ["kestrel.airframe.yaml"]
    assert [one.manifest for one in inspected(two / "a/kestrel.airframe.yaml").aircraft] == ["kestrel.airframe.yaml"]


def test_nothing_leads_from_one_folder_into_the_other(two: Path) -> None:
    manifest(two / "a", "kestrel", "every_rotor: {motor: ../b/parts/motor.yaml}")
    (error,) = inspected(two / "a", two / "b").not_read
    assert error.file == "a/kestrel.airframe.yaml"
    assert error.problems[0].message == '"../b/parts/motor.yaml" leads out of the folder that may be read'


@pytest.mark.parametrize("spelled", [
    ["a", "a"], ["a/kestrel.airframe.yaml", "a"], ["a", "a/kestrel.airframe.yaml"], ["a", "./a/../a"], ["a", "{}/a"],
    ["{}/a/kestrel.airframe.yaml", "a/kestrel.airframe.yaml"], ["short/a", "a"], ["short/a/kestrel.airframe.yaml", "a"],
])  # fmt: skip
def test_each_manifest_counts_once_however_it_is_named(
    two: Path, monkeypatch: pytest.MonkeyPatch, spelled: list[str]
) -> None:
    (two / "short").symlink_to(two)
    monkeypatch.chdir(two)
    report = inspected(*(Path(path.format(two)) for path in spelled))
    assert (names(report), report.not_read) == (["Kestrel"], ())
    counts = report.counts
    assert (counts.manifests_seen, counts.manifests_assessed, counts.manifests_not_assessed) == (1, 1, 0)


def test_what_is_not_read_counts_once_however_it_is_named(two: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    write(two / "a/kite.airframe.yml", "")
    write(two / "a/broken.airframe.yaml", "a: [1, 2")
    (two / "a/link.airframe.yaml").symlink_to("kestrel.airframe.yaml")
    (two / "empty").mkdir()
    monkeypatch.chdir(two)
    every = [Path("a"), two / "a", Path("empty"), two / "empty", Path("gone"), two / "gone"]
    report = inspected(*every, two / "a/broken.airframe.yaml", two / "a/link.airframe.yaml")
    assert (len(report.aircraft), report.counts.manifests_not_assessed) == (1, 5)
    assert sorted(Path(error.file).name for error in report.not_read) == [
        "broken.airframe.yaml", "empty", "gone", "kite.airframe.yml", "link.airframe.yaml",
    ]  # fmt: skip


def test_a_manifest_named_outright_is_not_excluded_in_whatever_words(
    two: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    write(two / "preflint.yaml", "preflint: 1\nexclude: [a/]\n")
    monkeypatch.chdir(two)
    report = inspected(Path("."), two / "a/kestrel.airframe.yaml")
    assert [one.manifest for one in report.aircraft] == ["a/kestrel.airframe.yaml", "b/kestrel.airframe.yaml"]
    assert not any("exclude" in note for note in said(report))
