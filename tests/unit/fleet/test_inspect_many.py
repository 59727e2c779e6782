"""Many manifests: the same report on any executor, chosen by what changed, with notes about the folder."""

import datetime as dt
import os
import pickle
import shutil
import signal
from collections.abc import Callable
from concurrent.futures import Executor, Future, ProcessPoolExecutor, ThreadPoolExecutor
from multiprocessing import get_context
from pathlib import Path
from typing import Any

import pytest
from making.manifests import CLUB

from preflint.errors import NotRead, UsageError
from preflint.findings.report import Report
from preflint.fleet.changed import read_names
from preflint.fleet.inspect import CHUNK, inspect_many
from preflint.render.json_report import render_json
from preflint.render.text import render_text

DAY = dt.date(2026, 5, 21)
SMALL = "preflint: 1\naircraft: {{name: {name}, layout: quad-x}}\n{more}\n"


@pytest.fixture
def club(tmp_path: Path) -> Path:
    """A tree of three: two share a motor and a site, the third names neither."""
    write(tmp_path / "preflint.yaml", "preflint: 1\nfield_day: {date: 2026-05-23, site: sites/far.yaml}\n")
    for name in ("one", "two"):
        manifest(tmp_path, name, "site: sites/near.yaml\nevery_rotor: {motor: parts/big.yaml}")
    manifest(tmp_path, "three", "records: {interference_run: [{date: 2026-05-01, field_is: raw, file: logs/run.csv}]}")
    write(tmp_path / "parts/big.yaml", "shaft_mm: 4.0\n")
    write(tmp_path / "sites/near.yaml", "latitude_deg: 54.4\nlongitude_deg: -2.9\n")
    write(tmp_path / "sites/far.yaml", "latitude_deg: -33.9\nlongitude_deg: 18.4\n")
    header = "time_s,throttle_percent,current_a,field_x_ut,field_y_ut,field_z_ut\n"
    write(tmp_path / "logs/run.csv", header + "0,0,0.2,18,0,45\n1,50,9,18,0,45\n")
    return tmp_path


def write(path: Path, text: str) -> None:
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(text, encoding="utf-8")


def manifest(folder: Path, name: str, more: str = "") -> Path:
    path = folder / f"{name}.airframe.yaml"
    write(path, SMALL.format(name=name.title(), more=more))
    return path


def inspected(*paths: Path, **options: Any) -> Report:
    return inspect_many(paths, **{"judged_on": DAY, **options})


def names(report: Report) -> list[str]:
    return [one.aircraft.about.name.value for one in report.aircraft]


def said(report: Report) -> list[str]:
    return [note.message for note in report.notes]


def test_the_same_bytes_on_any_executor(tmp_path: Path) -> None:
    shutil.copytree(CLUB, tmp_path / "club")
    write(tmp_path / "club" / "broken.airframe.yaml", "a: [1, 2")
    here = inspected(tmp_path / "club")
    assert len(here.aircraft) > CHUNK
    with ThreadPoolExecutor(3) as threads, ProcessPoolExecutor(2, get_context("spawn")) as processes:
        for report in (inspected(tmp_path / "club", executor=executor) for executor in (threads, processes)):
            assert render_json(report) == render_json(here)
            assert render_text(report, detail="all") == render_text(here, detail="all")


def test_an_aircraft_travels_with_all_that_is_reported() -> None:
    report = inspected(CLUB / "siskin.airframe.yaml")
    assert render_json(pickle.loads(pickle.dumps(report))) == render_json(report)


def test_what_is_known_of_a_rule_travels() -> None:
    rule = inspected(CLUB / "siskin.airframe.yaml").aircraft[0].results[0].rule
    travelled = pickle.loads(pickle.dumps(rule))
    assert travelled == rule
    assert travelled.precaution.sentences == rule.precaution.sentences


def test_what_was_read_is_known(club: Path) -> None:
    files = {one.manifest: one.files for one in inspected(club).aircraft}
    assert files["one.airframe.yaml"] == ("one.airframe.yaml", "parts/big.yaml", "sites/near.yaml")
    assert files["three.airframe.yaml"] == ("logs/run.csv", "three.airframe.yaml")


@pytest.mark.parametrize(("changed", "judged"), [
    (["parts/big.yaml"], ["One", "Two"]),
    (["sites/near.yaml"], ["One", "Two"]),
    (["logs/run.csv"], ["Three"]),
    (["two.airframe.yaml"], ["Two"]),
    (["preflint.yaml"], ["One", "Three", "Two"]),
    (["sites/far.yaml"], ["One", "Three", "Two"]),
    (["two.airframe.yaml", "logs/run.csv"], ["Three", "Two"]),
])
def test_every_aircraft_that_uses_a_changed_file_is_judged(club: Path, changed: list[str], judged: list[str]) -> None:
    report = inspected(club, changed=[club / name for name in changed])
    assert (names(report), said(report), report.spared) == (judged, [], False)


def test_a_name_that_no_aircraft_uses_is_said(club: Path) -> None:
    report = inspected(club, changed=[club / "README.md"])
    assert (names(report), report.spared) == ([], True)
    assert said(report) == [f"{club}/README.md changed, and no aircraft here uses it"]


def test_a_part_that_is_gone_concerns_those_that_name_it(club: Path) -> None:
    (club / "parts/big.yaml").unlink()
    report = inspected(club, changed=[club / "parts/big.yaml"])
    assert [error.file for error in report.not_read] == ["one.airframe.yaml", "two.airframe.yaml"]


def test_a_policy_that_is_gone_concerns_all_below_it(club: Path) -> None:
    (club / "preflint.yaml").unlink()
    assert names(inspected(club, changed=[club / "preflint.yaml"])) == ["One", "Three", "Two"]


def test_a_manifest_that_cannot_be_read_may_use_any_shared_file(club: Path) -> None:
    write(club / "broken.airframe.yaml", "a: [1, 2")
    assert [error.file for error in inspected(club, changed=[club / "logs/run.csv"]).not_read] == [
        "broken.airframe.yaml"
    ]
    assert inspected(club, changed=[club / "one.airframe.yaml"]).not_read == ()


def test_the_policy_named_by_the_user_counts_as_used(club: Path, tmp_path: Path) -> None:
    strict = tmp_path / "strict.yaml"
    write(strict, "preflint: 1\nlimits: {arm_mm: 100}\n")
    report = inspected(club, changed=[strict], policy=strict)
    assert names(report) == ["One", "Three", "Two"]
    assert report.policy
    assert report.policy.startswith("strict.yaml sha256:")
    assert {"club/arm-length"} == {r.rule.id for one in report.aircraft for r in one.results if r.rule.topic == "club"}


@pytest.mark.parametrize(("data", "read"), [
    (b"a.yaml\nb c.yaml\r\n\n", ["a.yaml", "b c.yaml"]),
    (b"a\nb\0c\0", ["a\nb", "c"]),
    (b"\xff.yaml\n", ["\udcff.yaml"]),
])
def test_names_by_line_and_by_nul(data: bytes, read: list[str]) -> None:
    assert read_names(data, "-") == [Path(name) for name in read]


@pytest.mark.parametrize(
    ("data", "why"), [(b"", "empty"), (b"\n\n", "empty"), (b"\0", "empty"), (b'"caf\\303\\251.yaml"\n', "in quotes")]
)
def test_lists_that_are_no_lists(data: bytes, why: str) -> None:
    with pytest.raises(NotRead, match=why):
        read_names(data, "-")


def test_field_day_takes_day_and_site_from_the_policy(club: Path) -> None:
    ordinary, report = inspected(club), inspected(club, judged_on=None)
    assert report.judged_on == dt.date(2026, 5, 23)
    for one in report.aircraft:
        assert one.aircraft.site.latitude_deg.value == -33.9
        assert one.aircraft.site.latitude_deg.place.file == "sites/far.yaml"
    assert ordinary.aircraft[0].aircraft.site.latitude_deg.value == 54.4


def test_field_day_without_one_is_wrong_use(club: Path, tmp_path: Path) -> None:
    write(club / "preflint.yaml", "preflint: 1\n")
    with pytest.raises(UsageError, match=r"no policy over .* names a field_day with its date"):
        inspected(club, judged_on=None)


def test_two_field_days_are_wrong_use(tmp_path: Path) -> None:
    for name, day in (("a", "2026-05-23"), ("b", "2026-05-24")):
        write(tmp_path / name / "preflint.yaml", f"preflint: 1\nfield_day: {{date: {day}}}\n")
        manifest(tmp_path / name, name)
    with pytest.raises(UsageError, match="the policies name different days"):
        inspected(tmp_path, judged_on=None)


def test_unused_shared_files_are_noted(club: Path) -> None:
    write(club / "parts/old.yaml", "shaft_mm: 3.0\n")
    write(club / "sites/deep/moor.yaml", "latitude_deg: 54\n")
    assert said(inspected(club)) == ["no aircraft uses parts/old.yaml", "no aircraft uses sites/deep/moor.yaml"]
    assert said(inspected(club / "one.airframe.yaml")) == []


def test_nothing_is_called_unused_while_an_aircraft_is_unread(club: Path) -> None:
    write(club / "parts/old.yaml", "shaft_mm: 3.0\n")
    write(club / "broken.airframe.yaml", "a: [1, 2")
    assert said(inspected(club)) == []


def test_two_parts_of_one_name_are_noted(club: Path) -> None:
    write(club / "parts/new/big.yaml", "shaft_mm: 5.0\n")
    manifest(club, "four", "every_rotor: {motor: parts/new/big.yaml}")
    assert said(inspected(club)) == [
        "parts/new/big.yaml has the name of parts/big.yaml; one is easily taken for the other"
    ]


def test_two_aircraft_of_one_name_are_noted(club: Path) -> None:
    shutil.copy(club / "one.airframe.yaml", club / "oner.airframe.yaml")
    (note,) = inspected(club).notes
    assert (
        note.message == 'two aircraft are named "One": this one and that of one.airframe.yaml; give each its own name'
    )
    assert note.place
    assert (note.place.file, note.place.line) == ("oner.airframe.yaml", 2)


def test_a_manifest_named_twice_is_judged_once(club: Path) -> None:
    assert names(inspected(club, club / "one.airframe.yaml", club / "parts" / ".." / "one.airframe.yaml")) == [
        "One", "Three", "Two",
    ]


def test_interrupted_in_the_middle_what_was_done_is_told(club: Path) -> None:
    def progress(done: int, total: int) -> None:
        if done == 2:
            os.kill(os.getpid(), signal.SIGINT)

    report = inspected(club, progress=progress)
    assert report.interrupted
    assert (names(report), [error.file for error in report.not_read]) == (["One", "Three"], ["two.airframe.yaml"])
    assert report.not_read[0].problems[0].message == "the run was interrupted before it was judged"


class Dying(Executor):
    """Judges the first chunk in a process and kills the process of the second."""

    def __init__(self) -> None:
        self.pool = ProcessPoolExecutor(1, get_context("spawn"))
        self.chunks = 0

    def submit(self, function: Callable[..., Any], /, *arguments: Any, **named: Any) -> Future[Any]:
        self.chunks += 1
        if self.chunks == 1:
            done = self.pool.submit(function, *arguments, **named)
            done.result()
            return done
        return self.pool.submit(os._exit, 1)


def test_a_worker_that_dies_loses_no_manifest() -> None:
    executor = Dying()
    report = inspected(CLUB, executor=executor)
    executor.pool.shutdown()
    assert len(report.aircraft) == CHUNK
    assert len(report.aircraft) + len(report.not_read) == len(list(CLUB.glob("*.airframe.yaml")))
    assert {error.problems[0].message for error in report.not_read} == {
        "the process that was to judge it ended before it answered"
    }
