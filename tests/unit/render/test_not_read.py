"""Files that were not read, and what is said where nothing was judged."""

from preflint.errors import NotRead, Problem
from preflint.places import Place
from preflint.render.text import render_text


def test_files_that_were_not_read_are_told_with_places(judge, report, dotterel) -> None:
    place = Place("b.airframe.yaml", 3, 7, 3, 9)
    failed = NotRead("b.airframe.yaml", [Problem('12:30 is no text here: write "12:30"', place), Problem("cut short")])
    shown = render_text(report(judge(dotterel), not_read=(failed,)))
    assert "NOT READ, so not judged\n    b.airframe.yaml: 2 problems\n" in shown
    assert '      b.airframe.yaml:3:7 12:30 is no text here: write "12:30"\n      cut short\n' in shown
    assert "2 manifests seen, 1 assessed, 1 not assessed." in shown


def test_no_aircraft_at_all_is_render_text(report) -> None:
    shown = render_text(report(not_read=(NotRead("nest", [Problem("no manifest found")]),)))
    assert "nest: 1 problem" in shown
    assert "1 manifest seen, 0 assessed, 1 not assessed." in shown
