"""Many manifests: the same report on any executor, with notes about the folder."""

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
from making.folders import inspected, manifest, names, said, write
from making.manifests import CLUB

from preflint.errors import UsageError
from preflint.fleet.inspect import CHUNK
from preflint.render.json_report import render_json
from preflint.render.text import render_text


def test_the_same_bytes_on_any_executor(tmp_path: Path) -> None:
    shutil.copytree(CLUB, tmp_path / "club")
    write(tmp_path / "club" / "broken.airframe.yaml", "a: [1, 2")
    here = inspected(tmp_path / "club")
    assert len(here.aircraft) > CHUNK
    with ThreadPoolExecutor(3) as threads, ProcessPoolExecutor(2, get_context("spawn")) as processes:
        for report in (inspected(tmp_path / "club", executor=executor) for executor in (threads, processes)):
            assert "".join(render_json(report)) == "".join(render_json(here))
            assert render_text(report, detail="full") == render_text(here, detail="full")


def test_an_aircraft_travels_with_all_that_is_reported() -> None:
    report = inspected(CLUB / "siskin.airframe.yaml")
    assert "".join(render_json(pickle.loads(pickle.dumps(report)))) == "".join(render_json(report))


def test_what_is_known_of_a_rule_travels() -> None:
    rule = inspected(CLUB / "siskin.airframe.yaml").aircraft[0].results[0].rule
    travelled = pickle.loads(pickle.dumps(rule))
    assert travelled == rule
    assert travelled.precaution.sentences == rule.precaution.sentences


def test_what_was_read_is_known(club: Path) -> None:
    files = {one.manifest: one.files for one in inspected(club).aircraft}
    assert files["one.airframe.yaml"] == ("one.airframe.yaml", "parts/big.yaml", "sites/near.yaml")
    assert files["three.airframe.yaml"] == ("logs/run.csv", "three.airframe.yaml")


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
