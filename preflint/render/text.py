"""The report as text, for a person: a table of several aircraft, each in full, what was not read, the counts."""

from collections.abc import Sequence
from typing import Literal

from preflint.errors import NotRead
from preflint.findings.inspected import Inspected
from preflint.findings.outcome import NO_GO, Severity
from preflint.findings.report import Note, Report, is_grounded
from preflint.render.aircraft_text import AircraftText
from preflint.render.page import Page, number
from preflint.render.problems import tell
from preflint.render.table import table

Detail = Literal["all", "grounded", "none"]


def render_text(
    report: Report,
    width: int = 80,
    ascii_only: bool = False,
    colour: bool = False,
    detail: Detail | None = None,
    ground_at: Severity = NO_GO,
) -> str:
    """No line is wider than ``width`` columns (30 or more). Nothing is told by colour alone.

    Several aircraft come as a table first. ``detail`` says which are told in full below it: where it is None,
    the one if there is but one, else those that are grounded from ``ground_at`` on.
    """
    page = Page(width, ascii_only, colour)
    several = len(report.aircraft) > 1
    if several:
        table(page, report)
    for inspected in report.aircraft:
        if _in_full(inspected, detail or ("grounded" if several else "all"), ground_at):
            if page.lines:
                page.divide()
            AircraftText(page, inspected).write()
    if several:
        page.divide()
    if report.not_read:
        _not_read(page, report.not_read)
    if report.notes:
        _notes(page, report.notes)
    _end(page, report)
    return page.text()


def _in_full(inspected: Inspected, detail: Detail, ground_at: Severity) -> bool:
    return detail == "all" or (detail == "grounded" and is_grounded(inspected, ground_at))


def _not_read(page: Page, files: Sequence[NotRead]) -> None:
    page.gap()
    page.say("NOT READ, so not judged")
    for item in files:
        page.say(f"{page.quote(item.file)}: {number(len(item.problems), 'problem')}", "    ", "      ")
        tell(page, item.problems, "      ")


def _notes(page: Page, notes: Sequence[Note]) -> None:
    page.gap()
    page.say("NOTES about the folder; they ground nothing")
    for note in notes:
        where = f"{page.at(note.place)} " if note.place else ""
        page.say(f"{where}{note.message}", "    ", "      ")


def _end(page: Page, report: Report) -> None:
    counts = report.counts
    page.gap()
    if report.interrupted:
        page.say("INTERRUPTED: what is not told here was not judged.")
    if report.spared:
        page.say("Nothing was judged: no aircraft uses any of the files named.")
    page.say(
        f"{number(counts.manifests_seen, 'manifest')} seen, {counts.manifests_assessed} assessed, "
        f"{counts.manifests_not_assessed} not assessed. Aircraft: "
        + ", ".join(f"{count} {verdict}" for verdict, count in counts.verdicts.items()) + "."
    )  # fmt: skip
    given = counts.answers
    page.say(
        f"{number(sum(given.values()), 'rule answer')}: "
        + ", ".join(f"{count} {answer.replace('_', ' ')}" for answer, count in given.items()) + "."
    )  # fmt: skip
    page.say(f"Judged on {report.judged_on} by {report.tool}, {report.policy or 'no policy'}.")
    page.say("A verdict is no permission: the pilot decides, and local rules come first.")
