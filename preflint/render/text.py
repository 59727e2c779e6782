"""The report as text, for a person: verdict, plan view, findings, what is not proven, the next three jobs."""

from collections.abc import Sequence

from preflint.errors import NotRead
from preflint.findings.report import Report
from preflint.render.aircraft_text import VERDICTS, AircraftText
from preflint.render.page import Page, number


def render_text(report: Report, width: int = 80, ascii_only: bool = False, colour: bool = False) -> str:
    """No line is wider than ``width`` columns (30 or more). Nothing is told by colour alone."""
    page = Page(width, ascii_only, colour)
    for inspected in report.aircraft:
        if page.lines:
            page.divide()
        AircraftText(page, inspected).write()
    if len(report.aircraft) > 1:
        page.divide()
    if report.not_read:
        _not_read(page, report.not_read)
    _end(page, report)
    return page.text()


def _not_read(page: Page, files: Sequence[NotRead]) -> None:
    page.gap()
    page.say("NOT READ, so not judged")
    for item in files:
        page.say(f"{page.quote(item.file)}: {number(len(item.problems), 'problem')}", "    ", "      ")
        for problem in item.problems:
            where = f"{page.at(problem.place)} " if problem.place else ""
            page.say(f"{where}{problem.message}", "      ", "          ")


def _end(page: Page, report: Report) -> None:
    counts = report.counts
    page.gap()
    if len(report.aircraft) > 1:
        for inspected in report.aircraft:
            word = VERDICTS[inspected.verdict]
            page.say(
                page.quote(f"{inspected.aircraft.about.name.value} ({inspected.manifest})"),
                f"{word:<16}  ",
                " " * 18,
                word,
            )
        page.gap()
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
