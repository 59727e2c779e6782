"""Exit codes. Python's own crash and an interrupted prompt give 1 elsewhere; here each has its code."""

from collections.abc import Iterable
from typing import TYPE_CHECKING

from preflint.findings.outcome import Crashed, Finding, Severity

if TYPE_CHECKING:
    from preflint.findings.report import Report

NONE_GROUNDED, GROUNDED, USAGE, NOT_JUDGED, TOOL_FAILED, INTERRUPTED = 0, 1, 2, 3, 4, 130


def exit_code(report: "Report", ground_at: Severity) -> int:
    """What the report means for a script: 3 over 1 over 0. Nothing judged is never 0."""
    crashed = any(
        isinstance(result.outcome, Crashed) for one in report.aircraft for result in one.results
    ) or any(one.judgement.broken for one in report.aircraft)
    if report.not_read or crashed or not report.aircraft:
        return NOT_JUDGED
    return GROUNDED if any(grounded(report, ground_at)) else NONE_GROUNDED


def grounded(report: "Report", ground_at: Severity) -> Iterable[bool]:
    """For each aircraft: is it unproven, or has it a finding at or above the threshold that nobody answers for?"""
    for one in report.aircraft:
        put_off = [entry.result for entry in one.deferred]
        findings = (r for r in one.results if isinstance(r.outcome, Finding) and r not in put_off)
        yield one.verdict == "unproven" or any(r.rule.severity >= ground_at for r in findings)
