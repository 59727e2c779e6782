"""All that one run has to tell, in whatever format."""

import datetime as dt
from collections import Counter
from collections.abc import Iterable, Mapping
from functools import cached_property
from typing import get_args

from preflint.errors import NotRead
from preflint.findings.compared import Compared
from preflint.findings.inspected import Inspected
from preflint.findings.outcome import Clear, Crashed, Finding, NotApplicable, Severity, Unproven
from preflint.findings.result import Result, Verdict
from preflint.frozen import dataclass
from preflint.places import Place

ANSWERS: Mapping[type, str] = {
    Finding: "finding",
    Clear: "clear",
    Unproven: "unproven",
    NotApplicable: "not_applicable",
    Crashed: "crashed",
}


@dataclass(frozen=True, slots=True)
class Counts:
    """How much was looked at. ``answers`` and ``verdicts`` hold every kind, zeros too."""

    manifests_seen: int
    manifests_assessed: int
    manifests_not_assessed: int
    answers: Mapping[str, int]
    verdicts: Mapping[str, int]


@dataclass(frozen=True, slots=True)
class Note:
    """Something about the folder rather than about an aircraft; it grounds nothing."""

    message: str
    place: Place | None = None


@dataclass(frozen=True)
class Report:
    """``tool`` names the tool, its version and, where there are others than the built-in one, its ``rule_modules``.

    ``policy`` names the club policy in force, its hash and all it weakens; None where there is none.

    ``left_out`` says in words, for people, what a narrowed report does not tell; ``counted`` has the numbers of the
    whole run then.

    ``missing`` are names on a club's roster that no manifest of its folder bears.

    ``compared`` is what changed since an earlier report, where one was named.

    ``spared`` says that aircraft were looked for and none of them uses what changed. ``interrupted`` says that the
    run was broken off; what had not been judged by then stands under ``not_read``.
    """

    judged_on: dt.date
    tool: str
    policy: str | None
    aircraft: tuple[Inspected, ...]
    not_read: tuple[NotRead, ...]
    notes: tuple[Note, ...] = ()
    spared: bool = False
    interrupted: bool = False
    rule_modules: tuple[str, ...] = ()
    left_out: tuple[str, ...] = ()
    counted: Counts | None = None
    compared: Compared | None = None
    missing: tuple[str, ...] = ()

    @cached_property
    def counts(self) -> Counts:
        """The numbers that every format tells alike, of all that was judged."""
        if self.counted is not None:
            return self.counted
        given = Counter(item.verdict for item in self.aircraft)
        return Counts(
            manifests_seen=len(self.aircraft) + len(self.not_read),
            manifests_assessed=len(self.aircraft),
            manifests_not_assessed=len(self.not_read),
            answers=answers(result for item in self.aircraft for result in item.results),
            verdicts={verdict: given[verdict] for verdict in get_args(Verdict)},
        )


def is_grounded(one: Inspected, ground_at: Severity) -> bool:
    """Is it unproven, or has it a finding at or above the threshold that nobody answers for?"""
    put_off = [entry.result for entry in one.deferred]
    findings = (r for r in one.results if isinstance(r.outcome, Finding) and r not in put_off)
    return one.verdict == "unproven" or any(r.rule.severity >= ground_at for r in findings)


def answers(results: Iterable[Result]) -> dict[str, int]:
    """How often rules gave each of the five answers."""
    given = Counter(ANSWERS[type(result.outcome)] for result in results)
    return {answer: given[answer] for answer in ANSWERS.values()}
