"""The order of work: what to do next, in the sequence in which it is done at the bench."""

from collections.abc import Collection, Hashable, Iterable, Iterator, Sequence
from itertools import groupby

from preflint.findings.inspected import Inspected
from preflint.findings.outcome import CAUTION, NO_GO, Finding, Severity, Unproven
from preflint.findings.result import Result
from preflint.frozen import dataclass
from preflint.precautions import Job, Precaution, together


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
    def records(self) -> tuple[str, ...]:
        """The kinds of record that are written down when it is done."""
        return tuple(dict.fromkeys(result.record for result in self.results if result.record is not None))

    @property
    def severity(self) -> Severity | None:
        """The worst finding that it settles; None where it only answers open questions."""
        return max((r.rule.severity for r in self.results if isinstance(r.outcome, Finding)), default=None)

    @property
    def needed_for_flight(self) -> bool:
        """Whether the aircraft stays no-go or unproven without it."""
        return any(
            r.rule.severity == NO_GO if isinstance(r.outcome, Finding) else r.rule.needed_for_flight
            for r in self.results
        )

    @property
    def is_between(self) -> bool:
        """Whether it stands between the aircraft and a flight without reserve."""
        return self.needed_for_flight or (self.severity or 0) >= CAUTION


def next_jobs(inspected: Inspected) -> tuple[NextJob, ...]:
    """Every job once, in the order of work.

    Jobs of one state of the aircraft stand together, so that props come off once and go on once; in each state what
    grounds the aircraft comes first, then what flight needs, cautions, and the rest. A prop that is wrong is put
    right before anything turns it. A record that went stale is measured again once, however many rules wait for it.
    """
    positions = inspected.positions
    groups: dict[Hashable, list[Result]] = {}
    for result in inspected.results:
        if isinstance(result.outcome, Finding | Unproven):
            groups.setdefault(_job_key(result), []).append(result)
    jobs = sorted((_job(group, positions) for group in groups.values()), key=lambda job: _turn(job, positions))
    return tuple(_loaded_once(jobs, positions))


def next_one(inspected: Inspected) -> NextJob | None:
    """The first job between the aircraft and a flight without reserve; else the first of all, if any."""
    jobs = next_jobs(inspected)
    return next((job for job in jobs if job.is_between), jobs[0] if jobs else None)


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

    The job is done at the earliest stage at which this is asked for. What only needs writing down is one job.
    """
    leading = sorted(group, key=lambda r: (isinstance(r.outcome, Unproven), not r.rule.needed_for_flight))
    findings = [r.do for r in leading if isinstance(r.outcome, Finding)]
    asked = [r.do for r in leading if isinstance(r.outcome, Unproven)]
    on_paper = all(r.only_to_write for r in group)
    said = dict.fromkeys(findings or (asked if on_paper else asked[:1]))
    return NextJob(
        stage=min(r.job for r in group if r.do in said),
        do="; ".join(said),
        precaution=precautions(leading, said),
        at=_seated(group, positions),
        results=tuple(group),
    )


def _loaded_once(jobs: Sequence[NextJob], positions: Sequence[str]) -> Iterator[NextJob]:
    """The jobs with all that is done under load in one: what flight asks for, and apart from it what it can do without.

    What several ask for in the same words is said once.
    """
    for (stage, _), same in groupby(jobs, lambda job: (job.stage, job.is_between)):
        parts = list(same)
        if stage is not Job.LOAD or len(parts) == 1:
            yield from parts
            continue
        results = tuple(result for part in parts for result in part.results)
        yield NextJob(
            stage=stage,
            do="; ".join(dict.fromkeys(clause for part in parts for clause in part.do.split("; "))),
            precaution=together(*(part.precaution for part in parts)),
            at=_seated(results, positions),
            results=results,
        )


def precautions(results: Iterable[Result], said: Collection[str]) -> Precaution:
    """What to mind for what is said to do, for all of them together; no sentence twice."""
    return together(*(result.precaution for result in results if result.do in said))


def _turn(job: NextJob, positions: Sequence[str]) -> tuple[Job, bool, bool, bool, int, tuple[int, str]]:
    severity = job.severity or 0
    wrong_prop = job.stage is Job.FLIGHT_RIG and severity == NO_GO
    state = Job.THRUST_STAND if wrong_prop else job.stage
    seat = _seat(job.at[0], positions) if job.at else (len(positions) + 1, "")
    return state, not job.is_between, severity != NO_GO, not job.needed_for_flight, -severity, seat


def _seated(results: Iterable[Result], positions: Sequence[str]) -> tuple[str, ...]:
    at = {result.at for result in results if result.at is not None}
    return tuple(sorted(at, key=lambda name: _seat(name, positions)))


def _seat(name: str, positions: Sequence[str]) -> tuple[int, str]:
    """Walk-round order; whatever is no rotor (a pack's label) after the rotors, by name."""
    return (positions.index(name), "") if name in positions else (len(positions), name)
