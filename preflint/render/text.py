"""The report as text, for a person: a table of several aircraft, each as short or full as asked, what was not read."""

import datetime as dt
from collections.abc import Sequence
from typing import Literal

from preflint.errors import NotRead
from preflint.findings.inspected import Inspected
from preflint.findings.next_jobs import next_jobs
from preflint.findings.outcome import NO_GO, Severity
from preflint.findings.report import Note, Report, is_grounded
from preflint.render.first_hover import say_first_hover
from preflint.render.full import Full
from preflint.render.head import broke_down, head
from preflint.render.jobs import NO_JOB, say_jobs
from preflint.render.page import Page, number
from preflint.render.problems import tell
from preflint.render.remarks import said_missing
from preflint.render.screen import say_screen
from preflint.render.since import say_since
from preflint.render.statistics import say_statistics
from preflint.render.table import table, worst_first

Detail = Literal["full", "jobs", "first-hover", "grounded", "none"]


def render_text(
    report: Report,
    width: int = 80,
    ascii_only: bool = False,
    colour: bool = False,
    detail: Detail | None = None,
    ground_at: Severity = NO_GO,
    statistics: bool = False,
) -> str:
    """No line is wider than ``width`` columns (30 or more). Nothing is told by colour alone.

    One aircraft comes on one screen, several as a table. ``detail`` says what is told instead: ``full`` all there is
    of each, ``jobs`` every job of each in order, ``first-hover`` the card for that of each, ``grounded`` one screen of
    each that is grounded from ``ground_at`` on, ``none`` name and verdict. ``statistics`` adds how often each rule
    found something.
    """
    page = Page(width, ascii_only, colour)
    end, several = page.another(), len(report.aircraft) > 1
    _end(end, report, detail)
    below = [one for one in worst_first(report.aircraft) if _is_told(one, detail, several, ground_at)]
    if several:
        table(page, report, below, rows_only=detail == "none")
    for one in below:
        if page.lines:
            page.divide()
        if detail == "full":
            Full(page, one, report.judged_on).write()
        elif detail == "jobs":
            _jobs(page, one, report.judged_on)
        elif detail == "first-hover":
            say_first_hover(page, one)
        else:
            say_screen(page, one, len(end.lines) + 1)
    if not several and not below:
        for one in report.aircraft:
            head(page, one)
            broke_down(page, one)
    if several and below:
        page.divide()
    if report.not_read:
        _not_read(page, report.not_read)
    if report.notes:
        _notes(page, report.notes)
    if report.compared:
        say_since(page, report.compared)
    if statistics:
        say_statistics(page, report)
    page.gap()
    page.lines += end.lines
    return page.text()


def _is_told(one: Inspected, detail: Detail | None, several: bool, ground_at: Severity) -> bool:
    """Whether more is told of it than its verdict, or its row of the table."""
    if detail == "grounded":
        return is_grounded(one, ground_at)
    return detail in ("full", "jobs", "first-hover") or (detail is None and not several)


def _jobs(page: Page, one: Inspected, today: dt.date) -> None:
    head(page, one)
    broke_down(page, one)
    page.gap()
    jobs = next_jobs(one)
    if any(not job.is_between for job in jobs):
        page.say("A job with (may wait) is one that flight does not need.")
        page.gap()
    if jobs:
        say_jobs(page, one, jobs, today, ask=True)
    else:
        page.say(NO_JOB)


def _not_read(page: Page, files: Sequence[NotRead]) -> None:
    page.gap()
    page.say("NOT READ, so not judged")
    for item in files:
        whose = "".join(f", {page.quote(text)}" for text in item.legible.told)
        page.say(f"{page.quote(item.file)}{whose}: {number(len(item.problems), 'problem')}", "    ", "      ")
        tell(page, item.problems, "      ")


def _notes(page: Page, notes: Sequence[Note]) -> None:
    page.gap()
    page.say("NOTES about the folder; they ground nothing")
    for note in notes:
        where = f"{page.at(note.place)} " if note.place else ""
        page.say(f"{where}{note.message}", "    ", "      ")


def _end(page: Page, report: Report, detail: Detail | None) -> None:
    """The counts where there is more than one aircraft to count, then by what and for which day it was judged."""
    counts = report.counts
    if report.interrupted:
        page.say("INTERRUPTED: what is not told here was not judged.")
    if report.spared:
        page.say("Nothing was judged: no aircraft uses any of the files named.")
    if sentence := said_missing(report):
        page.say(sentence)
    for sentence in report.left_out:
        page.say(sentence)
    if detail == "full" or (counts.manifests_seen, counts.manifests_assessed) != (1, 1):
        page.say(
            f"{number(counts.manifests_seen, 'manifest')} seen, {counts.manifests_assessed} assessed, "
            f"{counts.manifests_not_assessed} not assessed. Aircraft: "
            + ", ".join(f"{count} {verdict}" for verdict, count in counts.verdicts.items()) + "."
        )  # fmt: skip
    if detail == "full":
        given = counts.answers
        page.say(
            f"{number(sum(given.values()), 'rule answer')}: "
            + ", ".join(f"{count} {answer.replace('_', ' ')}" for answer, count in given.items()) + "."
        )  # fmt: skip
    if len(report.aircraft) > 1 and detail is None:
        page.say(
            "Inspect one file for the screen of its aircraft. Add --detail grounded for that of each that stays on "
            "the ground, --detail jobs for every job, --detail full for all there is."
        )
    page.say(f"Judged on {report.judged_on} by {report.tool}, {report.policy or 'no policy'}.")
    page.say("A verdict is no permission: the pilot decides, and local rules come first.")
