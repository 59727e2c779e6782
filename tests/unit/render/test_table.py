"""The table of several aircraft: in full, on narrow screens, and with words that mean harm."""

from dataclasses import replace

import pyte
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

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
AIRCRAFT      OWNER        VERDICT    WORST FINDING         NEXT JOB
------------  -----------  ---------  --------------------  --------------------
Dotterel      -            NO-GO      front-right: nut      fit an adapter whose
                                      tightens ccw; this    nut tightens cw
                                      shaft needs cw
b.airframe.y  -            NOT READ   there is no such      put the file right
aml                                   file
Godwit        R. Ashdown   GO WITH    heavy                 take something off
                           CAUTIONS
Dunlin        R. Ashdown   GO         -                     -

"""


@pytest.fixture
def three(judge, dotterel):
    """A go, a go with cautions and a no-go, in this order."""
    return (
        judge(DUNLIN, file="dunlin.airframe.yaml"),
        judge(HEAVY, file="godwit.airframe.yaml"),
        judge(dotterel, file="dotterel.airframe.yaml"),
    )


def test_worst_first_in_full(three, report) -> None:
    unread = NotRead("b.airframe.yaml", [Problem("there is no such file")])
    assert render_text(report(*three, not_read=(unread,)), detail="none").startswith(TABLE)


@pytest.mark.parametrize(("detail", "told"), [
    ("all", [True, True, True]),
    ("grounded", [False, False, True]),
    (None, [False, False, True]),
    ("none", [False] * 3),
])
def test_details_on_demand(three, report, detail, told: list[bool]) -> None:
    shown = render_text(report(*three), detail=detail)
    assert [f"  {name}.airframe.yaml\n" in shown for name in ("dunlin", "godwit", "dotterel")] == told


def test_what_is_grounded_depends_on_the_threshold(three, report) -> None:
    shown = render_text(report(*three), ground_at=ADVISORY)
    assert [f"  {name}.airframe.yaml\n" in shown for name in ("dunlin", "godwit")] == [False, True]


def test_one_aircraft_has_no_table(three, report) -> None:
    assert render_text(report(three[0])).startswith("GO  Dunlin, quad-x\n")


def test_a_narrow_screen_gets_one_below_the_other(three, report) -> None:
    assert render_text(report(*three), width=40, detail="none").startswith(
        "Dotterel, -: NO-GO\n    found: front-right: nut tightens\n      ccw; this shaft needs cw\n"
        "    next: fit an adapter whose nut"
    )


def test_notes_stand_before_the_counts(three, report) -> None:
    noted = replace(report(three[0]), notes=(Note("no aircraft uses parts/old.yaml"),))
    assert (
        "NOTES about the folder; they ground nothing\n    no aircraft uses parts/old.yaml\n\n1 manifest seen"
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
    shown = render_text(report(judge(text), judge(HEAVY)), width, detail="none")
    lines = shown.splitlines()
    assert all(columns(line) <= width for line in lines)
    screen = pyte.Screen(width, len(lines) + 2)
    screen.set_mode(pyte.modes.LNM)
    pyte.Stream(screen).feed(shown)
    assert (screen.cursor.y, screen.cursor.x) == (len(lines), 0)
    assert not any(line.lstrip().startswith("::") or "##" in line for line in lines)
