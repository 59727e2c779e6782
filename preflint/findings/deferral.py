"""Known defects that somebody answers for: which findings they set aside.

A deferral changes what grounds an aircraft (the exit code), never its verdict. It never sets a no-go aside,
nor a finding about deferrals.
"""

import datetime as dt
from collections.abc import Iterable

from preflint.aircraft.field import Known
from preflint.aircraft.logbook import Deferral
from preflint.findings.outcome import NO_GO, Finding
from preflint.findings.result import Result
from preflint.findings.rule_info import Tolerance
from preflint.frozen import dataclass

LONGEST_DEFERRAL = Tolerance(
    "longest_deferral_days",
    "days",
    30.0,
    "lower",
    "common practice, no source",
    "how far beyond the day judged at a deferral may run",
)


@dataclass(frozen=True, slots=True)
class Deferred:
    """A finding that is set aside, and the entry that does so."""

    result: Result
    deferral: Deferral


def names(deferral: Deferral, result: Result) -> bool:
    """Whether the deferral names this result: the same rule, and the same position, or none on both sides."""
    at = deferral.at.value if isinstance(deferral.at, Known) else None
    return (result.rule.id, result.at) == (deferral.rule.value, at)


def expired(deferral: Deferral, judged_on: dt.date) -> bool:
    """Whether its last day is past."""
    return deferral.until.value.date < judged_on


def too_long(deferral: Deferral, judged_on: dt.date, longest_days: float) -> bool:
    """Whether it runs so far ahead that nobody would look at the defect again in time."""
    return (deferral.until.value.date - judged_on).days > longest_days


def deferred(
    results: Iterable[Result], deferrals: Iterable[Deferral], judged_on: dt.date, longest_days: float
) -> tuple[Deferred, ...]:
    """Each finding that is set aside, with the deferral that runs longest, in the order of ``results``.

    One that runs for more than ``longest_days`` from the day judged at sets nothing aside.
    """
    in_force = [d for d in deferrals if not expired(d, judged_on) and not too_long(d, judged_on, longest_days)]
    found = []
    for result in results:
        if not isinstance(result.outcome, Finding) or result.rule.severity == NO_GO or result.rule.each == "deferral":
            continue
        speaking = [d for d in in_force if names(d, result)]
        if speaking:
            found.append(Deferred(result, max(speaking, key=lambda d: d.until.value.latest)))
    return tuple(found)
