"""A table of all aircraft of a report, worst first: who flies, who does not, and what each owner does next."""

from typing import get_args

from preflint.aircraft.field import Known
from preflint.errors import NotRead
from preflint.findings.inspected import Inspected
from preflint.findings.next_jobs import next_one
from preflint.findings.outcome import Finding, Unproven
from preflint.findings.report import Report
from preflint.findings.result import Verdict
from preflint.render.aircraft_text import VERDICTS
from preflint.render.entries import walk_round
from preflint.render.escape import printable
from preflint.render.fold import columns, fold
from preflint.render.page import Page

_HEAD = ("AIRCRAFT", "OWNER", "VERDICT", "WORST FINDING", "NEXT JOB")
_SHARES = (12, 11, 9, 20, 20)  # of 72 columns, with four gaps of two
_GAP = 2
_NARROWEST = 72
_LINES = 3

NOT_READ = "NOT READ"
_ORDER: tuple[Verdict, ...] = get_args(Verdict)


def table(page: Page, report: Report) -> None:
    """What was not read stands after the no-go: nothing is known about it. Details follow elsewhere."""
    rows = {verdict: [_row(page, one) for one in report.aircraft if one.verdict == verdict] for verdict in _ORDER}
    unread = [_unread(page, item) for item in report.not_read]
    ordered = rows["no-go"] + unread + rows["unproven"] + rows["go-with-cautions"] + rows["go"]
    if page.width < _NARROWEST:
        for cells in ordered:
            _stacked(page, cells)
        return
    widths = _widths(page.width)
    _line(page, _HEAD, widths)
    page.lines.append("  ".join("-" * width for width in widths))
    for cells in ordered:
        _line(page, cells, widths)


def worst(one: Inspected) -> str:
    """The worst finding in words; of an unproven aircraft what is not proven; "" where there is neither."""
    for result in walk_round(one, one.results) if one.verdict == "unproven" else ():
        if isinstance(result.outcome, Unproven) and result.rule.needed_for_flight:
            return f"not proven: {result.outcome.message}"
    found = [r for r in walk_round(one, one.results) if isinstance(r.outcome, Finding)]
    if found:
        leading = max(found, key=lambda r: r.rule.severity)
        assert isinstance(leading.outcome, Finding)
        return f"{leading.at}: {leading.outcome.message}" if leading.at else leading.outcome.message
    return ""


def next_job(one: Inspected) -> str:
    """The next job in words; "" where none is open."""
    job = next_one(one)
    return job.do if job else ""


def _row(page: Page, one: Inspected) -> tuple[str, ...]:
    owner = one.aircraft.about.owner
    who = page.quote(owner.value) if isinstance(owner, Known) else "-"
    said = [printable(text, page.ascii_only, ours=True) or "-" for text in (worst(one), next_job(one))]
    return page.quote(one.aircraft.about.name.value), who, VERDICTS[one.verdict], *said


def _unread(page: Page, item: NotRead) -> tuple[str, ...]:
    problem = printable(item.problems[0].message, page.ascii_only, ours=True) if item.problems else "-"
    return page.quote(item.file), "-", NOT_READ, problem, "put the file right"


def _widths(width: int) -> list[int]:
    spare = width - _NARROWEST - _GAP * (len(_SHARES) - 1)
    widths = list(_SHARES)
    for i in (3, 4, 3, 4):
        widths[i] += spare // 4
    return widths


def _line(page: Page, cells: tuple[str, ...], widths: list[int]) -> None:
    folded = [_cell(text, width) for text, width in zip(cells, widths, strict=True)]
    for i in range(max(map(len, folded))):
        parts = [cell[i] if i < len(cell) else "" for cell in folded]
        line = (" " * _GAP).join(
            part + " " * (width - columns(part)) for part, width in zip(parts, widths, strict=True)
        )
        page.lines.append(line.rstrip())


def _cell(text: str, width: int) -> list[str]:
    lines = fold(text, width)
    if len(lines) > _LINES:
        lines = [*lines[: _LINES - 1], fold(lines[_LINES - 1], width - 4)[0] + " ..."]
    return lines


def _stacked(page: Page, cells: tuple[str, ...]) -> None:
    name, owner, verdict, finding, job = cells
    page.say(f"{name}, {owner}: {verdict}")
    page.say(f"found: {finding}", "    ", "      ")
    page.say(f"next: {job}", "    ", "      ")
