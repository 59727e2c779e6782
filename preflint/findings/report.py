"""All that one run has to tell, in whatever format."""

import datetime as dt
from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, get_args

from preflint.errors import NotRead
from preflint.findings.outcome import Clear, Crashed, Finding, NotApplicable, Unproven
from preflint.findings.result import Result, Verdict

if TYPE_CHECKING:
    from preflint.inspection import Inspected

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


@dataclass(frozen=True)
class Report:
    """``policy`` names the club policy in force with its hash; None where there is none."""

    judged_on: dt.date
    tool: str
    policy: str | None
    aircraft: tuple["Inspected", ...]
    not_read: tuple[NotRead, ...]

    @property
    def counts(self) -> Counts:
        """The numbers that every format tells alike."""
        given = Counter(item.verdict for item in self.aircraft)
        return Counts(
            manifests_seen=len(self.aircraft) + len(self.not_read),
            manifests_assessed=len(self.aircraft),
            manifests_not_assessed=len(self.not_read),
            answers=answers(result for item in self.aircraft for result in item.results),
            verdicts={verdict: given[verdict] for verdict in get_args(Verdict)},
        )


def answers(results: Iterable[Result]) -> dict[str, int]:
    """How often rules gave each of the five answers."""
    given = Counter(ANSWERS[type(result.outcome)] for result in results)
    return {answer: given[answer] for answer in ANSWERS.values()}
