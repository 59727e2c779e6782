"""From nothing to each rung at a terminal, question by question, counted: commands, answers, lines."""

import json
import re
from collections.abc import Mapping
from pathlib import Path

import pytest
from making.benches import HEXA_X, LOG, QUAD_X, X8, somebody
from making.program import run
from making.terminal import HEAD, Answer, Person

SESSIONS: Mapping[str, Mapping[str, Answer]] = {
    "quad, all sensed": {**QUAD_X, "Name": "Tern", "Fitted": "power compass barometer"},
    "quad, nothing sensed": {**QUAD_X, "Name": "Pipit", "Fitted": "none"},
    "hexa, satellite": {**HEXA_X, "Name": "Heron", "Fitted": "satellite"},
    "quad, comes home": {**QUAD_X, "Name": "Dunlin", "Fitted": "compass satellite", "On loss of link": "comes-home"},
    "x8 coaxial": {**X8, "Name": "Gannet", "Fitted": "none", "Kind": "screws"},
}
GOALS = {"bench-look": 25, "meter": 20, "load": 25}


def rungs(person: Person) -> dict[str, tuple[int, int]]:
    """Shown and needed things of each rung."""
    done = run("inspect", person.manifest.name, "--format", "json", cwd=person.folder)
    [aircraft] = json.loads(done.stdout)["aircraft"]
    return {step["rung"]: (len(step["shown"]), len(step["needed"])) for step in aircraft["ladder"]}


def verdict(person: Person) -> str:
    done = run("inspect", person.manifest.name, "--format", "json", cwd=person.folder)
    [aircraft] = json.loads(done.stdout)["aircraft"]
    return str(aircraft["verdict"])


@pytest.mark.parametrize("session", SESSIONS)
def test_each_rung_is_a_few_answers_away(session: str, tmp_path: Path) -> None:
    (tmp_path / "logs").mkdir()
    (tmp_path / "logs" / "run.csv").write_text(LOG)
    print(HEAD)
    command = "preflint draft --ask"
    for rung in GOALS:
        person = Person(tmp_path, somebody(SESSIONS[session], 1))
        person.types(command)
        screen = person.inspects()
        told = rungs(person)
        print(person.counted.row(f"{session}: {rung}"))
        assert person.counted.answers <= GOALS[rung]
        assert (person.counted.commands, person.counted.edits, person.counted.refused) == (2, 0, 0)
        assert person.counted.longest <= 80
        assert told[rung][0] == told[rung][1]
        if all(shown == needed for shown, needed in told.values()):
            break
        command = f"preflint draft --ask {person.manifest.name}"
    assert screen.startswith("GO ")
    assert verdict(person) == "go"


HELD: Mapping[str, Mapping[str, Answer]] = {
    "collet": {"Grips": "5", "Shaft diameter": "5"},
    "set-screw": {"Flat on the shaft": "yes", "Grips": "5", "Shaft diameter": "5"},
    "screws": {},
    "clip": {"Latched": "yes"},
    "threaded-hub": {},
}


@pytest.mark.parametrize("held_by", HELD)
def test_however_the_props_are_held_the_rung_is_reached(held_by: str, tmp_path: Path) -> None:
    person = Person(
        tmp_path, somebody({**QUAD_X, "Name": "Pipit", "Fitted": "none", "Kind": held_by}, 1, **HELD[held_by])
    )
    person.types("preflint draft --ask")
    print(HEAD, person.counted.row(held_by), sep="\n")
    shown, needed = rungs(person)["bench-look"]
    assert shown == needed > 0
    assert person.counted.answers <= 25


def test_a_wrong_prop_is_told_by_the_first_screen(tmp_path: Path) -> None:
    """Threaded nuts of either hand, as each motor needs; the prop at rear-left is of the other hand."""
    wrong: dict[str, Answer] = {"Name": "Knot", "Fitted": "none", "Hand": "cw ccw cw cw", "Kind": "nut"}
    person = Person(tmp_path, somebody({**QUAD_X, **wrong}, 1))
    person.types("preflint draft --ask")
    screen = person.inspects()
    print(HEAD, person.counted.row("quad, nuts of two hands, a wrong prop"), sep="\n")
    assert screen.startswith("NO-GO")
    [told] = re.findall(r"^NO-GO     .*(?:\n {10}.*)*", screen, re.MULTILINE)
    assert "rear-left" in told
    assert "prop" in told
    assert len(screen.splitlines()) <= 24
