"""The order of work: what to do next, in the sequence in which it is done at the bench."""

from collections.abc import Collection, Hashable, Iterable, Sequence
from dataclasses import dataclass

from preflint.findings.inspected import Inspected
from preflint.findings.outcome import CAUTION, NO_GO, Finding, Severity, Unproven
from preflint.findings.result import Result
from preflint.findings.work import Job
from preflint.precautions import Precaution, together


@dataclass(frozen=True, slots=True)
class NextJob:
    """One job: the findings and open questions that it settles, and the rotors or packs it is done at."""

    stage: Job
    do: str
    precaution: Precaution
    at: tuple[str, ...]
    results: tuple[Result, ...]

    @property
    def rules(self) -> tuple[str, ...]:
        """The rules that ask for it."""
        return tuple(sorted({result.rule.id for result in self.results}))

    @property
    def severity(self) -> Severity | None:
        """The worst finding that it settles; None where it only answers open questions."""
        return max((r.rule.severity for r in self.results if isinstance(r.outcome, Finding)), default=None)

    @property
    def needed_for_flight(self) -> bool:
        """Whether the aircraft stays no-go or unproven without it."""
        return self.severity == NO_GO or any(
            isinstance(r.outcome, Unproven) and r.rule.needed_for_flight for r in self.results
        )


def next_jobs(inspected: Inspected) -> tuple[NextJob, ...]:
    """Every job once, in order.

    First come those between the aircraft and a flight without reserve (what flight needs, and cautions), then
    the rest; in both by stage, so that nobody fits a prop twice. A record that went stale is measured again
    once, however many rules wait for it.
    """
    positions = inspected.aircraft.positions
    groups: dict[Hashable, list[Result]] = {}
    for result in inspected.results:
        if isinstance(result.outcome, Finding | Unproven):
            groups.setdefault(_job_key(result), []).append(result)
    jobs = [_job(group, positions) for group in groups.values()]
    return tuple(sorted(jobs, key=lambda job: _turn(job, positions)))


def _job_key(result: Result) -> Hashable:
    """What makes two results one job: the record to be taken again, what is to be written, or the same thing to do."""
    outcome = result.outcome
    if isinstance(outcome, Finding):
        return outcome.place if outcome.again else outcome.do
    assert isinstance(outcome, Unproven)
    if outcome.on_paper:
        return Job.RECORD, result.at, result.rule.needed_for_flight
    return outcome.place if outcome.cause in ("stale", "order-open") else outcome.do


def _job(group: Sequence[Result], positions: Sequence[str]) -> NextJob:
    """Findings say what to do before open questions do; of these, what flight needs leads.

    The job is done at the earliest stage that asks for it. What only needs writing down is one job, the first of all.
    """
    leading = sorted(group, key=lambda r: (isinstance(r.outcome, Unproven), not r.rule.needed_for_flight))
    findings = [r.do for r in leading if isinstance(r.outcome, Finding)]
    asked = [r.do for r in leading if isinstance(r.outcome, Unproven)]
    on_paper = all(r.only_to_write for r in group)
    said = dict.fromkeys(findings or (asked if on_paper else asked[:1]))
    at = dict.fromkeys(r.at for r in group if r.at is not None)
    return NextJob(
        stage=Job.RECORD if on_paper else min(r.rule.job for r in group),
        do="; ".join(said),
        precaution=precautions(leading, said),
        at=tuple(sorted(at, key=lambda name: _seat(name, positions))),
        results=tuple(group),
    )


def precautions(results: Iterable[Result], said: Collection[str]) -> Precaution:
    """What to mind for what is said to do, for all of them together; no sentence twice."""
    return together(*(result.precaution for result in results if result.do in said))


def _turn(job: NextJob, positions: Sequence[str]) -> tuple[bool, int, bool, int, tuple[int, str]]:
    severity = job.severity or 0
    optional = not job.needed_for_flight and severity < CAUTION
    seat = _seat(job.at[0], positions) if job.at else (len(positions) + 1, "")
    return optional, job.stage, not job.needed_for_flight, -severity, seat


def _seat(name: str, positions: Sequence[str]) -> tuple[int, str]:
    """Walk-round order; whatever is no rotor (a pack's label) after the rotors, by name."""
    return (positions.index(name), "") if name in positions else (len(positions), name)
