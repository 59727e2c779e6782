"""A table of all aircraft of a report, worst first: who flies, who does not, and what each owner does next."""

from collections.abc import Iterable, Sequence
from typing import get_args

from preflint.aircraft.field import Known
from preflint.errors import NotRead
from preflint.findings.inspected import Inspected
from preflint.findings.ladder import ladder
from preflint.findings.outcome import Finding, Unproven
from preflint.findings.report import Report
from preflint.findings.result import Verdict
from preflint.render.entries import walk_round, where
from preflint.render.head import broke_down, with_pack
from preflint.render.jobs import between, first_of, state
from preflint.render.ladder import not_shown
from preflint.render.page import VERDICTS, Page
from preflint.render.told import Told

NOT_READ = "NOT READ"
_ORDER: tuple[Verdict, ...] = get_args(Verdict)
_INDENT = "    "


def worst_first(aircraft: Iterable[Inspected]) -> list[Inspected]:
    """By verdict; those of one verdict as they come."""
    return sorted(aircraft, key=lambda one: _ORDER.index(one.verdict))


def table(page: Page, report: Report, below: Sequence[Inspected], rows_only: bool) -> None:
    """A row for each: verdict, name and owner; below it the worst finding and the next job, if any.

    What was not read stands after the no-go: nothing is known about it. Of those told ``below`` there is only the row.
    """
    words = [*(VERDICTS[one.verdict] for one in report.aircraft), *(NOT_READ for _ in report.not_read)]
    width, told = max(map(len, words), default=0), Told()
    ordered = worst_first(report.aircraft)
    no_go = report.counts.verdicts["no-go"]
    for one in ordered[:no_go]:
        _row(page, one, width, told, one in below, rows_only)
    for item in report.not_read:
        _unread(page, item, width)
    for one in ordered[no_go:]:
        _row(page, one, width, told, one in below, rows_only)


def worst(one: Inspected) -> str:
    """The worst finding in words; of an unproven aircraft what is not proven; "" where there is neither."""
    open_ = (r for r in one.results if isinstance(r.outcome, Unproven) and r.rule.needed_for_flight)
    for result in walk_round(one, open_) if one.verdict == "unproven" else ():
        assert isinstance(result.outcome, Unproven)
        return f"not proven: {result.outcome.message}"
    found = walk_round(one, (r for r in one.results if isinstance(r.outcome, Finding)))
    if found:
        leading = max(found, key=lambda r: r.rule.severity)
        assert isinstance(leading.outcome, Finding)
        return f"{leading.at}: {leading.outcome.message}" if leading.at else leading.outcome.message
    return ""


def _row(page: Page, one: Inspected, width: int, told: Told, below: bool, rows_only: bool) -> None:
    about, word = one.about, VERDICTS[one.verdict]
    who = page.quote(about.owner.value) if isinstance(about.owner, Known) else "no owner recorded"
    name = page.quote(about.name.value)
    page.say(f"{name}, {who}{with_pack(page, one)}", f"{word:<{width}}  ", " " * (width + 2), word)
    if not below:
        broke_down(page, one)
    if below or rows_only:
        return
    if one.verdict == "unproven" and (lacking := not_shown(ladder(one))):
        page.say(lacking, f"{_INDENT}Lacks: ", " " * 11)
    elif said := worst(one):
        page.say(said, f"{_INDENT}Found: ", " " * 11)
    for job in first_of(between(one), 1)[:1]:
        page.say(told.say(" ".join(state(job)), f"for {name}"), f"{_INDENT}Next:  ", " " * 11)
        page.say(f"{where(one, job.at)}{job.do}", " " * 11)


def _unread(page: Page, item: NotRead, width: int) -> None:
    page.say(page.quote(item.file), f"{NOT_READ:<{width}}  ", " " * (width + 2))
