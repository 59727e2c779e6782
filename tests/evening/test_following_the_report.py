"""Somebody who types what the report shows, to the letter, and nothing else: from a written draft, and after work."""

import re
import shutil
from pathlib import Path

import pytest
from making.benches import LOG, QUAD_PLUS, QUAD_X, somebody
from making.manifests import CLUB
from making.program import run
from making.terminal import HEAD, Person

import preflint


def commands(shown: str) -> list[str]:
    """Those that the report shows, as they are copied."""
    return re.findall(r"^ +> (preflint .*)$", shown, re.MULTILINE)


def goes_by_the_screen(person: Person) -> str:
    """Types the first command of each screen that was not typed yet, a record's before the one that asks; the last."""
    typed: set[str] = set()
    while not (screen := person.inspects()).startswith("GO "):
        assert len(screen.splitlines()) <= 25, screen
        still = [one for one in commands(screen) if one not in typed]
        assert still, screen
        command = next((one for one in still if " record " in one), still[0])
        typed.add(command)
        person.types(command)
    return screen


def test_from_a_written_draft_record_by_record(tmp_path: Path) -> None:
    person = Person(tmp_path, somebody(QUAD_X, 2), in_shell=True)
    run("draft", "--layout", "quad-x", "--name", "Pipit", "--fitted", "none", cwd=tmp_path)
    person.counted.commands += 1
    goes_by_the_screen(person)
    print(HEAD, person.counted.row("written draft, record by record"), sep="\n")
    assert preflint.inspect(person.manifest).verdict == "go"
    assert person.counted.edits == 0


ALL = {
    "Voltage comparison: Readings": ("16.60 16.62", "15.70 15.71", "14.80 14.82"),  # not those of the spring again
    "Current comparison: Readings": ("0 0.0 0.0", "25 2.7 2.7", "40 6.1 6.2", "55 10.2 10.2", "70 13.7 13.8"),
    "Heading check: Readings": (
        "0 0.4", "45 45.9", "90 91.2", "135 135.8", "180 179.9", "225 224.3", "270 269.1", "315 314.0",
    ),
    "Interference run: Readings": "logs/run.csv",
    "Rig": "flight",
    "Damaged": "none",
    "Looked at": "all",
}  # fmt: skip
WORK = {
    "a new prop": {"Kind": "replaced", "Part": "prop", "Position": "front"},
}


@pytest.mark.parametrize("work", WORK)
def test_an_officer_after_work_follows_the_screen_to_go(work: str, tmp_path: Path) -> None:
    """A long manifest of the club, from the folder above it: one entry of work, then only what the one screen tells."""
    (tmp_path / "club").mkdir()
    for name in ("parts", "sites", "logs"):
        shutil.copytree(CLUB / name, tmp_path / "club" / name)
    shutil.copy(CLUB / "preflint.yaml", tmp_path / "club")
    shutil.copy(CLUB / "wheatear.airframe.yaml", tmp_path / "club")
    (tmp_path / "club" / "logs" / "run.csv").write_text(LOG)
    person = Person(tmp_path, {**somebody(QUAD_PLUS, 3), **ALL, **WORK[work]}, in_shell=True)
    entry = person.types("preflint record log club/wheatear.airframe.yaml")
    assert "Next: preflint inspect club/wheatear.airframe.yaml" in entry
    goes_by_the_screen(person)
    print(HEAD, person.counted.row(f"officer: {work}"), sep="\n")
    assert person.counted.edits == 0
