"""Jobs on paper: the command and the lines of the record that each asks for, as they can be pasted."""

import datetime as dt
import re

import pytest
import yaml

from preflint.aircraft.moment import Moment
from preflint.aircraft.records import KINDS
from preflint.api import CAUTION, PACK_UNPLUGGED, Clear, Finding, Job, name, rule
from preflint.render.page import Page
from preflint.render.text import render_text
from preflint.testing import inspect_text
from preflint.writing.facts import Facts
from preflint.writing.template import template

DAY = dt.date(2026, 5, 21)
QUAD = """\
preflint: 1
aircraft: {name: Dunlin, layout: quad-x}
rotors: [{at: front-left, spin: cw}, {at: front-right, spin: ccw}, {at: rear-left, spin: ccw}]
"""
PULLED = QUAD + "records:\n  bell_pull:\n    - {date: 2026-05-01, at: rear-right, moved: false}\n"


def asking(kind: str, *at: str):
    """A rule that asks for a record of the kind, at these rotors."""

    @rule("paint/trial", each="rotor", severity=CAUTION, job=Job.MECHANICAL, precaution=PACK_UNPLUGGED, source="none")
    def trial(rotor, on):
        """Asks."""
        if name(rotor) not in at:
            return Clear("fine")
        return Finding(place=rotor.place, message="m", evidence="", do="do it", record=kind)

    return trial


def test_a_job_names_its_kind_of_record_on_the_screen(judge, report) -> None:
    shown = render_text(report(judge(QUAD, asking("bell_pull", "front-left"), file="dunlin 2.airframe.yaml")))
    assert "\n    > preflint record bell_pull 'dunlin 2.airframe.yaml'\n" in shown
    assert "moved:" not in shown


def test_a_file_name_cannot_add_a_command(judge, report) -> None:
    shown = render_text(report(judge(QUAD, asking("bell_pull", "front-left"), file="$(reboot);x.airframe.yaml")))
    assert "> preflint record bell_pull '$(reboot);x.airframe.yaml'\n" in shown


@pytest.mark.parametrize("detail", ["jobs", "full"])
def test_the_lines_are_those_of_the_rotors_of_the_job(judge, report, detail) -> None:
    shown = render_text(report(judge(QUAD, asking("bell_pull", "front-left", "rear-left"))), detail=detail)
    assert (
        "    > preflint record bell_pull trial.airframe.yaml\n"
        "      or these lines below records:\n"
        "  bell_pull:\n"
        "    - {date: 2026-05-21, at: front-left, moved: true|false}\n"
        "    - {date: 2026-05-21, at: rear-left, moved: true|false}\n"
    ) in shown


def test_a_key_that_the_manifest_has_is_not_given_twice(judge, report) -> None:
    shown = render_text(report(judge(PULLED, asking("bell_pull", "rear-left"))), detail="jobs")
    lines = re.search(r"or these lines below bell_pull:\n((?:    - .*\n)+)", shown)
    assert lines
    filled = PULLED + lines[1].replace("true|false", "false")
    assert len(inspect_text(filled).aircraft.records.bell_pull) == 2


def test_lines_of_one_kind_are_printed_once(judge, report) -> None:
    shown = render_text(report(judge(QUAD, asking("tilt_test", "front-left"), again)), detail="jobs")
    assert shown.count("> preflint record tilt_test") == 2
    assert shown.count("  tilt_test:\n") == 1


@rule("paint/again", each="aircraft", severity=CAUTION, job=Job.MECHANICAL, precaution=PACK_UNPLUGGED, source="none")
def again(aircraft, on):
    """Asks for it, too."""
    return Finding(place=aircraft.place, message="m", evidence="", do="do it again", record="tilt_test")


def test_what_flight_does_not_need_says_so_among_all_jobs(judge, report) -> None:
    shown = " ".join(render_text(report(judge(QUAD)), detail="jobs").split())
    assert "A job with (may wait) is one that flight does not need." in shown
    assert re.search(r"\d\. [^.]*\(may wait\)", shown)
    assert "seen from above (may wait)" not in shown


@pytest.mark.parametrize("width", [40, 60, 80, 100])
@pytest.mark.parametrize("kind", sorted(KINDS))
def test_lines_broken_for_a_narrow_terminal_are_the_same_yaml(judge, kind: str, width: int) -> None:
    lines = template(kind, Facts.of(judge(QUAD).aircraft, Moment(DAY)))
    page = Page(width, False, False)
    page.paste(lines)
    assert all(len(line) <= width or " " not in line.strip() for line in page.lines)
    assert yaml.load("\n".join(page.lines), yaml.CBaseLoader) == yaml.load("\n".join(lines), yaml.CBaseLoader)

