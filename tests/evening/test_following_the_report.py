"""Somebody who types what the report shows, to the letter, and nothing else: from a written draft, and after work."""

import json
import re
import shlex
import shutil
from pathlib import Path

import pytest
from making.benches import QUAD_X, somebody
from making.manifests import CLUB
from making.program import run
from making.terminal import HEAD, Person


def commands(shown: str) -> list[str]:
    """Those that the report shows, as they are copied."""
    return re.findall(r"^ +> (preflint .*)$", shown, re.MULTILINE)


def verdict(person: Person) -> str:
    done = run("inspect", person.manifest.name, "--format", "json", cwd=person.folder)
    [aircraft] = json.loads(done.stdout)["aircraft"]
    return str(aircraft["verdict"])


def test_from_a_written_draft_record_by_record(tmp_path: Path) -> None:
    """What is a record by its own command, as the list of all jobs has them; the fields by the one that asks."""
    person = Person(tmp_path, somebody(QUAD_X, 1))
    run("draft", "--layout", "quad-x", "--name", "Pipit", "--fitted", "none", cwd=tmp_path)
    person.counted.commands += 1
    typed: set[str] = set()
    while person.inspects().startswith("UNPROVEN"):
        listed = run("inspect", person.manifest.name, "--detail", "jobs", cwd=tmp_path).stdout
        needed = re.sub(r"(?m)^ *\d+\. (?:(?!^ *\d+\. )[\s\S])*?\(flight does\s+not\s+need\s+it\)[\s\S]*?(?=^ *\d+\. |^\S|\Z)", "", listed)
        open_ = [one for one in dict.fromkeys(commands(needed)) if one not in typed]
        assert open_, listed
        command = next((one for one in open_ if " record " in one), open_[0])
        typed.add(command)
        person.types(command)
    print(HEAD, person.counted.row("written draft, record by record"), sep="\n")
    assert verdict(person) == "go"
    assert person.counted.edits == 0
    assert sum(" record " in one for one in typed) >= 5


def test_an_officer_after_work_follows_the_screen_to_go(tmp_path: Path) -> None:
    """A long manifest of the club below its folder; one entry of work, then only what the one screen tells."""
    club = tmp_path / "club"
    shutil.copytree(CLUB, club)
    person = Person(club, somebody(QUAD_X, 3, **{"Interference run: Readings": "logs/redshank-2026-05-16.csv"}))
    print(club)
