"""The table of several aircraft: in full, on narrow screens, and with words that mean harm."""

import re
from dataclasses import replace

import pyte
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from preflint.api import CAUTION, PACK_UNPLUGGED, Job, rule
from preflint.errors import NotRead, Problem
from preflint.findings.outcome import ADVISORY
from preflint.findings.report import Note
from preflint.render.fold import columns
from preflint.render.text import render_text

WHOLE = """\
preflint: 1
aircraft: {name: NAME, owner: OWNER, layout: quad-x, takeoff_mass_g: 2000}
rotors:
  - {at: front-left, spin: cw, fixing: {nut_tightens: ccw}}
  - {at: front-right, spin: ccw, fixing: {nut_tightens: cw}}
  - {at: rear-left, spin: ccw, fixing: {nut_tightens: cw}}
  - {at: rear-right, spin: cw, fixing: {nut_tightens: ccw}}
records:
  spin_test:
    - {date: 2026-05-20, props: removed, seen: {front-left: cw, front-right: ccw, rear-left: ccw, rear-right: cw}}
"""
DUNLIN = WHOLE.replace("NAME", "Dunlin").replace("OWNER", "R. Ashdown")
HEAVY = DUNLIN.replace("Dunlin", "Godwit").replace("2000", "3500")

TABLE = """\
NO-GO             Dotterel, no owner recorded
    Found: front-right: nut tightens ccw; this shaft needs cw
    Next:  Pack unplugged before you touch a prop, a nut or a wire.
           front-right: fit an adapter whose nut tightens cw
NOT READ          b.airframe.yaml
GO WITH CAUTIONS  Godwit, R. Ashdown
    Found: heavy
    Next:  Pack unplugged before you touch a prop, a nut or a wire.
           take something off
GO                Dunlin, R. Ashdown

NOT READ, so not judged
"""


@pytest.fixture
def three(judge, dotterel):
    """A go, a go with cautions and a no-go, in this order."""
    return (
        judge(DUNLIN, file="dunlin.airframe.yaml"),
        judge(HEAVY, file="godwit.airframe.yaml"),
        judge(dotterel, file="dotterel.airframe.yaml"),
    )


def test_worst_first_with_what_each_owner_does_next(three, report) -> None:
    unread = NotRead("b.airframe.yaml", [Problem("there is no such file")])
    assert render_text(report(*three, not_read=(unread,))).startswith(TABLE)


# What is told of Dunlin (go), Godwit (go with cautions) and Dotterel (no-go) besides the row of each.
@pytest.mark.parametrize(("detail", "told", "rows"), [
    (None, [], {"Found", "Next"}),
    ("none", [], set()),
    ("grounded", ["dotterel"], {"Found", "Next"}),
    ("jobs", ["dotterel", "dunlin", "godwit"], set()),
    ("full", ["dotterel", "dunlin", "godwit"], set()),
])
def test_details_on_demand(three, report, detail, told: list[str], rows: set[str]) -> None:
    shown = render_text(report(*three), detail=detail)
    table, _, below = shown.partition("- - -")
    assert sorted(set(re.findall(r"([a-z]+)\.airframe\.yaml\)?\n", below))) == told
    assert set(re.findall(r"^    (Found|Next):", table, re.M)) == rows
    assert [table.count(name) for name in ("Dotterel", "Godwit", "Dunlin")] == [1, 1, 1]
    assert ("rule answers" in shown) == (detail == "full")


def test_what_is_told_below_is_not_told_in_the_table(three, report) -> None:
    shown = render_text(report(*three), detail="grounded")
    assert shown.count("nut tightens ccw") == 1
    assert shown.count("take something off") == 2  # the go with cautions in its row, the no-go on its screen


def test_what_is_grounded_depends_on_the_threshold(three, report) -> None:
    shown = render_text(report(*three), detail="grounded", ground_at=ADVISORY)
    assert [f"({name}.airframe.yaml)\n" in shown for name in ("dunlin", "godwit")] == [False, True]


@pytest.mark.parametrize("detail", ["none", "grounded"])
def test_of_one_aircraft_name_and_verdict_are_told_whatever_the_detail(three, report, detail) -> None:
    shown = render_text(report(three[0]), detail=detail)
    assert shown.startswith("GO  Dunlin, quad-x (dunlin.airframe.yaml)\n\nJudged")


def test_one_aircraft_has_no_table(three, report) -> None:
    assert render_text(report(three[0])).startswith("GO  Dunlin, quad-x (dunlin.airframe.yaml)\n")


def test_a_job_is_wrapped_and_never_cut(three, report) -> None:
    shown = render_text(report(*three), width=40)
    assert (
        "    Next:  Pack unplugged before you\n           touch a prop, a nut or a\n           wire.\n"
        "           front-right: fit an adapter\n           whose nut tightens cw\n"
    ) in shown


@pytest.mark.parametrize("detail", [None, "none", "grounded", "jobs", "full"])
def test_what_broke_down_is_told_whatever_the_detail(judge, report, dotterel, detail) -> None:
    one, other = judge(DUNLIN, broken), judge(dotterel, file="other.airframe.yaml")
    for aircraft in ((one,), (one, other)):
        assert "control/broken: IndexError" in render_text(report(*aircraft), detail=detail)


@rule("control/broken", each="aircraft", severity=CAUTION, job=Job.MECHANICAL, precaution=PACK_UNPLUGGED, source="none")
def broken(aircraft, on):
    """A rule that fails by itself."""
    return [][1]


def test_notes_stand_before_the_counts(three, report) -> None:
    noted = replace(report(three[0]), notes=(Note("no aircraft uses parts/old.yaml"),))
    assert (
        "NOTES about the folder; they ground nothing\n    no aircraft uses parts/old.yaml\n\nJudged on"
        in render_text(noted)
    )


def test_an_interrupted_run_says_so(three, report) -> None:
    assert "INTERRUPTED: what is not told here was not judged." in render_text(
        replace(report(*three), interrupted=True)
    )


@settings(derandomize=True, deadline=None, max_examples=40, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(
    st.text(st.sampled_from("ab \u202e\u9ce5\u0301:#"), min_size=1, max_size=60), st.sampled_from([30, 60, 72, 80, 100])
)
def test_any_names_stay_in_their_columns(judge, report, word: str, width: int) -> None:
    word = word.replace("\u202e", "").strip() or "x"
    text = DUNLIN.replace("Dunlin", f'"{word}"').replace("R. Ashdown", f'"{word}"')
    shown = render_text(report(judge(text), judge(HEAVY)), width)
    lines = shown.splitlines()
    assert all(columns(line) <= width for line in lines)
    screen = pyte.Screen(width, len(lines) + 2)
    screen.set_mode(pyte.modes.LNM)
    pyte.Stream(screen).feed(shown)
    assert (screen.cursor.y, screen.cursor.x) == (len(lines), 0)
    assert not any(line.lstrip().startswith("::") or "##" in line for line in lines)
