"""A report that tells less than the run found: only what is bad enough, only some aircraft. Its numbers stay true."""

from collections.abc import Collection
from dataclasses import replace
from typing import get_args

from preflint.aircraft.field import Known
from preflint.errors import UsageError
from preflint.findings.compared import ComparedAircraft
from preflint.findings.inspected import Inspected
from preflint.findings.outcome import ADVISORY, Finding, Severity, Unproven
from preflint.findings.report import Report
from preflint.findings.result import Result, Verdict


def narrowed(
    report: Report, ground_at: Severity, least: Severity, owners: Collection[str], verdicts: Collection[str]
) -> Report:
    """What is to be told of it. Raises UsageError where an argument is none, or what grounds would be left out."""
    for named, severity in (("ground_at", ground_at), ("least", least)):
        if not isinstance(severity, Severity):
            raise UsageError(f"{named} {severity!r}: give a preflint.Severity")
    if least > ground_at:
        raise UsageError(f"least {least} leaves out what grounds from {ground_at} on; choose one no higher")
    if unknown := next((verdict for verdict in verdicts if verdict not in get_args(Verdict)), None):
        raise UsageError(f"verdicts {unknown!r}: give some of {', '.join(get_args(Verdict))}")
    return at_least(only(report, owners, verdicts), least)


def at_least(report: Report, least: Severity) -> Report:
    """Without findings below ``least``; above advisory also without what flight does not wait for, what somebody
    answers for and notes about the folder. What grounds an aircraft as unproven is never left out.
    """
    if least == ADVISORY:
        return report
    aircraft = tuple(_at_least(one, least) for one in report.aircraft)
    before = sum(len(one.results) for one in report.aircraft) + len(report.notes)
    gone = before - sum(len(one.results) for one in aircraft)
    said = f"Left out: {gone} of less than {least}." if gone else f"Nothing of less than {least} is left out."
    compared = report.compared
    if compared:
        compared = replace(compared, aircraft=tuple(_changes_at_least(one, least) for one in compared.aircraft))
    return replace(
        report, aircraft=aircraft, notes=(), counted=report.counts, left_out=(*report.left_out, said), compared=compared
    )


def only(report: Report, owners: Collection[str], verdicts: Collection[str]) -> Report:
    """Only aircraft of these owners, as they are written but for capitals and spaces, and of these verdicts; of every
    owner or verdict where none is named. What was not read stays: nobody knows whose it is.
    """
    if not owners and not verdicts:
        return report
    wanted = {_plain(owner) for owner in owners}
    told = tuple(
        one
        for one in report.aircraft
        if (not verdicts or one.verdict in verdicts) and (not wanted or _owner(one) in wanted)
    )
    left = len(report.aircraft) - len(told)
    said = f"Left out: {left} of {len(report.aircraft)} aircraft, of another owner or verdict."
    compared = report.compared
    if compared:
        names = {(one.manifest, one.about.name.value) for one in told}
        kept = tuple(one for one in compared.aircraft if (one.manifest, one.name) in names or one.verdict is None)
        compared = replace(compared, aircraft=kept)
    return replace(report, aircraft=told, counted=report.counts, left_out=(*report.left_out, said), compared=compared)


def _at_least(one: Inspected, least: Severity) -> Inspected:
    put_off = [entry.result for entry in one.deferred]
    results = tuple(result for result in one.results if result not in put_off and _is_told(result, least))
    return one.with_results(results)


def _changes_at_least(one: ComparedAircraft, least: Severity) -> ComparedAircraft:
    words = {"", *(str(severity) for severity in Severity if severity >= least)}
    return replace(one, changes=tuple(change for change in one.changes if change.severity in words))


def _is_told(result: Result, least: Severity) -> bool:
    if isinstance(result.outcome, Finding):
        return result.rule.severity >= least
    return not isinstance(result.outcome, Unproven) or result.rule.needed_for_flight


def _owner(one: Inspected) -> str:
    owner = one.about.owner
    return _plain(owner.value) if isinstance(owner, Known) else ""


def _plain(text: str) -> str:
    return " ".join(text.casefold().split())
