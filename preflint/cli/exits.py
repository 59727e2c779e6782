"""Exit codes. Python's own crash and an interrupted prompt give 1 elsewhere; here each has its code."""

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from preflint.findings.outcome import Severity
    from preflint.findings.report import Report

NONE_GROUNDED, GROUNDED, USAGE, NOT_JUDGED, TOOL_FAILED, INTERRUPTED = 0, 1, 2, 3, 4, 130


def exit_code(report: "Report", ground_at: "Severity") -> int:
    """What the report means for a script: 130 over 3 over 1 over 0.

    Nothing judged is never 0, but for one case: names of changed files were given, and no aircraft uses any.
    """
    from preflint.findings.report import is_grounded

    if report.interrupted:
        return INTERRUPTED
    crashed = report.counts.answers["crashed"] or any(one.broken for one in report.aircraft)
    if report.not_read or crashed or not (report.aircraft or report.spared):
        return NOT_JUDGED
    return GROUNDED if any(is_grounded(one, ground_at) for one in report.aircraft) else NONE_GROUNDED
