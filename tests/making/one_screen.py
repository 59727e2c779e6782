"""What one screen of 24 lines of 80 columns must show of any aircraft; nothing of it is lost on a narrow one."""

import datetime as dt
import re

import pyte

from preflint.api import NO_GO, Finding
from preflint.findings.inspected import Inspected
from preflint.findings.next_jobs import next_jobs
from preflint.findings.report import Report
from preflint.findings.result import Result
from preflint.precautions import Job
from preflint.render.text import render_text

LINES, COLUMNS = 24, 80
DAY = dt.date(2026, 5, 21)
UNDER_LOAD = (Job.THRUST_STAND, Job.LOAD, Job.HOVER)
POLICY = "preflint.yaml sha256:b99b529fb3dea874"


def _screen_of(one: Inspected, width: int = COLUMNS) -> str:
    return render_text(Report(DAY, "preflint 0.1.0", POLICY, (one,), ()), width)


def _in_one_row(text: str) -> str:
    return " ".join(text.split())


def check(one: Inspected) -> None:
    """On one screen, except for a job under load: its hazards stand whole."""
    shown = _screen_of(one)
    lines = shown.splitlines()
    screen = pyte.Screen(COLUMNS, max(LINES, len(lines)))
    screen.set_mode(pyte.modes.LNM)
    pyte.Stream(screen).feed(shown.rstrip("\n"))
    assert [line.rstrip() for line in screen.display[: len(lines)]] == lines
    jobs = next_jobs(one)
    if not any(job.stage in UNDER_LOAD and job.is_between for job in jobs):
        assert len(lines) <= LINES, shown
    _nothing_lost(one, _in_one_row(shown))
    narrow = _screen_of(one, 40)
    assert max(map(len, narrow.splitlines())) <= 40
    _nothing_lost(one, _in_one_row(narrow))


def _nothing_lost(one: Inspected, shown: str) -> None:
    """Every no-go and its job are there, and each job that is there has all its precautions, before it."""
    for result in one.results:
        if isinstance(result.outcome, Finding) and result.rule.severity == NO_GO:
            assert result.outcome.message in shown or _in_one_row(_bare(result)) in shown
    for job in next_jobs(one):
        at = shown.find(f"{_in_one_row(job.do)} ")
        assert at > 0 or job.severity != NO_GO, job.do
        for sentence in job.precaution.sentences if at > 0 else ():
            assert 0 < shown.find(_in_one_row(sentence)) < at, (sentence, shown)


def _bare(result: Result) -> str:
    """The message of a finding as it is said once of several rotors."""
    assert isinstance(result.outcome, Finding)
    return re.sub(rf" (?:of|at) {result.at}\b", "", result.outcome.message)
