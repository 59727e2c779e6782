"""All pages of a field sheet, by the names of their files. Self-contained: no script, nothing fetched."""

from collections.abc import Sequence

from preflint.findings.inspected import Inspected
from preflint.findings.ladder import ladder
from preflint.findings.outcome import NO_GO, Severity
from preflint.findings.report import Report
from preflint.render.entries import failed, not_needed
from preflint.render.jobs import NO_JOB, between
from preflint.render.ladder import how_far
from preflint.render.page import VERDICTS
from preflint.render.remarks import said_missing
from preflint.render.sheet.cards import gate_card, hover_card
from preflint.render.sheet.club import is_of, owners, rows, sites
from preflint.render.sheet.environment import locked, refuse_without_jinja, render, style
from preflint.render.sheet.names import INDEX, LETTERS, page_names
from preflint.render.sheet.pictures import Picture, pictures
from preflint.render.sheet.told import NO_OWNER, findings, is_job, lacking, order_of_work, owner
from preflint.render.table import worst_first


def pages(report: Report, ground_at: Severity = NO_GO) -> dict[str, str]:
    """The club's page, the letters and a page for each aircraft, as text by file name.

    The sheet of one aircraft has its plots, too, which need matplotlib; those of a whole club would take minutes, and
    megabytes. Raises UsageError where Jinja2 is not installed.
    """
    refuse_without_jinja()
    ordered = worst_first(report.aircraft)
    names = page_names(one.manifest for one in ordered)
    made = {INDEX: _club(report, ordered, names, ground_at), LETTERS: _letters(report, ordered, names)}
    for one, name in zip(ordered, names, strict=True):
        made[name] = aircraft_page(report, one, pictures(one, with_plots=len(ordered) == 1))
    return made


def aircraft_page(report: Report, one: Inspected, drawn: Sequence[Picture] = ()) -> str:
    """All there is to tell of one aircraft, with the cards to take along."""
    return _page(
        "aircraft.html", style(),
        report=report, one=one, verdict=VERDICTS[one.verdict], owner=owner(one) or NO_OWNER, pictures=drawn,
        findings=findings(one), lacking=lacking(one), steps=(steps := ladder(one)), how_far=how_far(steps),
        not_needed={
            topic.replace("_", " "): list(dict.fromkeys(r.rule.name.replace("-", " ") for r in results))
            for topic, results in not_needed(one).items()
        },
        broken=failed(one), stages=order_of_work(one, report.judged_on), no_job=NO_JOB,
        gate=gate_card(one), hover=hover_card(one), index=INDEX,
    )  # fmt: skip


def _club(report: Report, ordered: Sequence[Inspected], names: Sequence[str], ground_at: Severity) -> str:
    told, known = rows(ordered, names, ground_at), owners(map(owner, ordered))
    verdicts = [verdict for verdict in VERDICTS if any(one.verdict == verdict for one in ordered)]
    sets = (("owner", range(len(known))), ("verdict", verdicts))
    hidden = "\n".join(  # on a screen alone: paper has every row
        f"  main:has(#{what}-{key}:checked) .row:not(.{what}-{key}) {{ display: none }}"
        for what, keys in sets
        for key in keys
    )
    return _page(
        "index.html", f"{style()}@media screen {{\n{hidden}\n}}\n",
        report=report, rows=told, owners=[named or NO_OWNER for named in known], verdicts=verdicts,
        words=VERDICTS, sites=sites(report), missing=said_missing(report),
        letters=LETTERS, grounded=sum(row.grounded for row in told),
    )  # fmt: skip


def _letters(report: Report, ordered: Sequence[Inspected], names: Sequence[str]) -> str:
    pages_of = list(zip(ordered, names, strict=True))
    unread = [item for item in report.not_read if item.legible.owner]
    everybody = owners([*map(owner, ordered), *(item.legible.owner for item in unread)])
    letters = [
        (
            named,
            [item for item in pages_of if is_of(owner(item[0]), named)],
            [item for item in unread if is_of(item.legible.owner, named)],
        )
        for named in everybody
    ]
    return _page(
        "letters.html", style(),
        report=report, letters=letters, words=VERDICTS, findings=findings, lacking=lacking,
        index=INDEX, no_job=NO_JOB, is_job=is_job,
        work_of=lambda one: order_of_work(one, report.judged_on, between(one)),
    )  # fmt: skip


def _page(template: str, styled: str, **told: object) -> str:
    from markupsafe import Markup

    return render(template, style=Markup(styled), locked=locked(styled), **told)
