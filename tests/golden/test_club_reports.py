"""Reports of the club's aircraft, word for word: a change of wording is seen as a change of these files.

To renew them, with --as-of 2026-05-21 each: preflint inspect examples/club/NAME.airframe.yaml
--output tests/golden/NAME-screen.txt, the same with --detail full --output tests/golden/NAME.txt, and
preflint inspect examples/club --output tests/golden/club.txt. In the folder tests: python -m making.clear NAME >
golden/NAME-clear.txt, and python -m making.silence > golden/asked.txt (half a minute; tests/cases/whole_aircraft
compares it). What changes there must have a reason.
"""

import datetime as dt
from pathlib import Path

import pytest
from making.clear import clear

from preflint.fleet.inspect import inspect_many
from preflint.render.text import Detail, render_text

HERE = Path(__file__).parent
CLUB = Path("examples", "club")  # as it is typed
DAY = dt.date(2026, 5, 21)


@pytest.fixture(autouse=True)
def at_the_top(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(HERE.parents[1])


def as_it_was(path: Path, detail: Detail | None, golden: str) -> None:
    text = render_text(inspect_many([path], judged_on=DAY), detail=detail)
    assert text == (HERE / golden).read_text(encoding="utf-8")
    assert max(map(len, text.splitlines())) <= 80


@pytest.mark.parametrize("name", ["knot", "redshank", "siskin"])
def test_the_full_report_is_as_it_was(name: str) -> None:
    as_it_was(CLUB / f"{name}.airframe.yaml", "full", f"{name}.txt")


@pytest.mark.parametrize("name", ["knot", "redshank", "siskin"])
def test_the_screen_is_as_it_was(name: str) -> None:
    as_it_was(CLUB / f"{name}.airframe.yaml", None, f"{name}-screen.txt")


def test_the_table_of_the_club_is_as_it_was() -> None:
    as_it_was(CLUB, None, "club.txt")


@pytest.mark.parametrize("name", ["avocet", "tern"])
def test_what_lies_behind_a_go_is_as_it_was(name: str) -> None:
    assert clear(name) == (HERE / f"{name}-clear.txt").read_text(encoding="utf-8")
