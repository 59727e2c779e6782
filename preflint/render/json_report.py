"""The report as JSON, for programs: version 1, described by the report schema."""

from collections.abc import Iterator, Mapping
from math import isfinite
from typing import Any

from preflint.aircraft.field import Known
from preflint.errors import NotRead
from preflint.findings.compared import Compared
from preflint.findings.deferral import Deferred
from preflint.findings.inspected import Inspected
from preflint.findings.ladder import Step, ladder
from preflint.findings.next_jobs import NextJob, next_jobs
from preflint.findings.outcome import Crashed, Finding, Related, Unproven
from preflint.findings.report import Report, answers
from preflint.findings.result import Figure, Result
from preflint.places import Place
from preflint.render.pieces import encoded

VERSION = 1


def render_json(report: Report) -> Iterator[str]:
    """ASCII only, keys in a fixed order, one line break at the end. The same report gives the same bytes.

    It comes in pieces, aircraft by aircraft.
    """
    for piece in encoded(_report(report)):
        # Log readers of CI services take `##[`, `##name[` and `::name::` for commands; this is the same JSON.
        yield piece.replace("##", "#\\u0023").replace("::", ":\\u003a")
    yield "\n"


def _report(report: Report) -> dict[str, Any]:
    counts = report.counts
    return {
        "report": VERSION,
        "judged_on": report.judged_on.isoformat(),
        "tool": report.tool,
        "rule_modules": list(report.rule_modules),
        "policy": report.policy,
        "not_read": [_not_read(item) for item in report.not_read],
        "counts": {
            "manifests_seen": counts.manifests_seen,
            "manifests_assessed": counts.manifests_assessed,
            "manifests_not_assessed": counts.manifests_not_assessed,
            "rules": _rules(counts.answers),
            "verdicts": dict(counts.verdicts),
        },
        "left_out": list(report.left_out),
        "missing": list(report.missing),
        "aircraft": map(_aircraft, report.aircraft),
        "notes": [
            {"message": note.message, "place": _place(note.place) if note.place else None} for note in report.notes
        ],
        "compared": _compared(report.compared) if report.compared else None,
    }


def _compared(compared: Compared) -> dict[str, Any]:
    return {
        "judged_on": compared.judged_on,
        "differently": list(compared.differently),
        "aircraft": [
            {
                "manifest": one.manifest, "name": one.name, "state": one.state, "before": one.before,
                "verdict": one.verdict, "unread": one.unread,
                "changes": [
                    {
                        "state": change.state, "kind": change.kind, "rule": change.rule, "at": change.at,
                        "severity": change.severity or None, "message": change.message, "now": change.now,
                    }
                    for change in one.changes
                ],
            }
            for one in compared.aircraft
        ],
    }  # fmt: skip


def _rules(given: Mapping[str, int]) -> dict[str, int]:
    return {"run": sum(given.values()), **given}


def _not_read(item: NotRead) -> dict[str, Any]:
    return {
        "file": item.file,
        "name": item.legible.name,
        "owner": item.legible.owner,
        "layout": item.legible.layout,
        "problems": [
            {
                "message": problem.message,
                "place": _place(problem.place) if problem.place else None,
                "line": {"text": problem.line.text, "column": problem.line.column} if problem.line else None,
            }
            for problem in item.problems
        ],
    }


def _aircraft(item: Inspected) -> dict[str, Any]:
    results, about = item.results, item.about
    return {
        "manifest": item.manifest,
        "name": about.name.value,
        "owner": about.owner.value if isinstance(about.owner, Known) else None,
        "layout": about.layout.value,
        "verdict": item.verdict,
        "flown_with": list(item.flown_with),
        "findings": [_finding(r, r.outcome) for r in results if isinstance(r.outcome, Finding)],
        "unproven": [_unproven(r, r.outcome) for r in results if isinstance(r.outcome, Unproven)],
        "computed": [_computed(figure) for figure in item.computed],
        "unjudged": [{"what": one.what, "why": one.why, "place": _place(one.place)} for one in item.unjudged],
        "rules": _rules(answers(results)),
        "next": [_job(job) for job in next_jobs(item)],
        "ladder": [_step(step) for step in ladder(item)],
        "crashed": [
            *({"rule": r.rule.id, "at": r.at, "message": r.outcome.message}
              for r in results if isinstance(r.outcome, Crashed)),
            *({"figure": source, "at": None, "message": message}
              for source, message in item.broken),
        ],
        "deferred": [_deferred(entry) for entry in item.deferred],
    }  # fmt: skip


def _place(place: Place) -> dict[str, Any]:
    return {
        "file": place.file, "pointer": place.pointer, "line": place.line, "column": place.column,
        "end_line": place.end_line, "end_column": place.end_column,
    }  # fmt: skip


def _related(related: tuple[Related, ...]) -> list[dict[str, Any]]:
    return [{"place": _place(item.place), "message": item.message} for item in related]


def _finding(result: Result, finding: Finding) -> dict[str, Any]:
    return {
        "rule": result.rule.id,
        "severity": str(result.rule.severity),
        "at": result.at,
        "place": _place(finding.place),
        "related": _related(finding.related),
        "message": finding.message,
        "evidence": finding.evidence,
        "remedy": finding.do,
        "precaution": result.precaution,
        "source": result.rule.source,
    }


def _unproven(result: Result, unproven: Unproven) -> dict[str, Any]:
    return {
        "rule": result.rule.id,
        "at": result.at,
        "cause": unproven.cause,
        "place": _place(unproven.place),
        "related": _related(unproven.related),
        "message": unproven.message,
        "evidence": unproven.evidence,
        "how": unproven.do,
        "precaution": result.precaution,
        "needed_for_flight": result.rule.needed_for_flight,
    }


def _computed(figure: Figure) -> dict[str, Any]:
    return {
        "quantity": figure.quantity,
        "case": figure.case,
        "value": _number(figure.value),
        "standard_uncertainty": _number(figure.standard_uncertainty),
        "dof": _number(figure.dof),
        "unit": figure.unit,
        "at": figure.at,
        "place": _place(figure.place),
    }


def _number(value: float | None) -> float | None:
    """JSON has no infinity: a figure without bound has no value there."""
    return float(value) if value is not None and isfinite(value) else None


def _job(job: NextJob) -> dict[str, Any]:
    return {
        "stage": job.stage.name.lower().replace("_", "-"),
        "do": job.do,
        "at": list(job.at),
        "precaution": job.precaution,
        "rules": list(job.rules),
        "records": list(job.records),
        "severity": str(job.severity) if job.severity is not None else None,
        "needed_for_flight": job.needed_for_flight,
    }


def _step(step: Step) -> dict[str, Any]:
    return {
        "rung": str(step.rung).replace(" ", "-"),
        "tools": step.rung.tools,
        "needed": [thing.title for thing in step.things],
        "shown": [thing.title for thing in step.shown],
        "minutes": step.minutes,
    }


def _deferred(entry: Deferred) -> dict[str, Any]:
    finding, deferral = entry.result.outcome, entry.deferral
    assert isinstance(finding, Finding)
    return {
        "rule": entry.result.rule.id,
        "at": entry.result.at,
        "place": _place(finding.place),
        "until": deferral.until.value.date.isoformat(),
        "by": deferral.by.value,
        "because": deferral.because.value,
        "entry": _place(deferral.place),
    }
