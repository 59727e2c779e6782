"""What a sheet tells of one aircraft, in words: findings, open questions, jobs. The templates only lay it out."""

import datetime as dt
from collections.abc import Iterator, Sequence

from preflint.aircraft.field import Known
from preflint.aircraft.moment import Moment
from preflint.findings.inspected import Inspected
from preflint.findings.next_jobs import NextJob, next_jobs, precautions
from preflint.findings.outcome import Finding
from preflint.frozen import dataclass
from preflint.load.quoting import as_argument
from preflint.places import Place
from preflint.precautions import Precaution
from preflint.render.entries import Entry, found, open_for_flight, where
from preflint.render.jobs import state
from preflint.writing.facts import Facts
from preflint.writing.template import template

NO_OWNER = "no owner recorded"


@dataclass(frozen=True, slots=True)
class Said:
    """One finding, or one open question with ``word`` "not proven". ``until`` says who answers for it, and how long."""

    word: str
    messages: tuple[str, ...]
    places: tuple[str, ...]
    evidence: tuple[str, ...]
    related: tuple[str, ...]
    mind: tuple[str, ...]
    do: str
    rules: tuple[str, ...]
    until: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Lines:
    """What is written down when a job is done: by a command, or in lines below ``below``, where these can be told."""

    command: str
    below: str
    lines: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Task:
    """One job to tick off. ``may_wait``: flight does not need it."""

    number: int
    do: str
    may_wait: bool
    records: tuple[Lines, ...]


@dataclass(frozen=True, slots=True)
class Stage:
    """Jobs that follow each other in one state of the aircraft, and all there is to mind in it."""

    mind: tuple[str, ...]
    tasks: tuple[Task, ...]


def owner(one: Inspected) -> str | None:
    """Who answers for it, as it is written; None where nobody wrote it."""
    written = one.about.owner
    return written.value if isinstance(written, Known) else None


def findings(one: Inspected) -> list[Said]:
    """Worst first; in one severity as one walks round the aircraft."""
    entries = sorted(found(one), key=lambda entry: -entry.results[0].rule.severity)
    return [_said(one, entry, str(entry.results[0].rule.severity)) for entry in entries]


def lacking(one: Inspected) -> list[Said]:
    """What flight needs and is not proven."""
    return [_said(one, entry, "not proven") for entry in open_for_flight(one)]


def order_of_work(one: Inspected, today: dt.date, jobs: Sequence[NextJob] | None = None) -> list[Stage]:
    """All jobs, or those given, in the order of work. Lines to write down are told with the first job that has them."""
    stages: list[Stage] = []
    told: set[str] = set()
    for i, job in enumerate(next_jobs(one) if jobs is None else jobs, 1):
        mind = state(job)
        at = where(one, job.at)
        task = Task(i, f"{at}{job.do}", not job.is_between, tuple(_lines(one, job, today, told)))
        if stages and stages[-1].mind == mind:
            stages[-1] = Stage(mind, (*stages[-1].tasks, task))
        else:
            stages.append(Stage(mind, (task,)))
    return stages


def is_job(one: Said, stages: Sequence[Stage]) -> bool:
    """Whether what it asks for stands in the order of work, with what to mind above it."""
    return any(task.do.endswith(one.do) for stage in stages for task in stage.tasks)


def _lines(one: Inspected, job: NextJob, today: dt.date, told: set[str]) -> Iterator[Lines]:
    file = as_argument(one.reached_by or one.manifest)
    for kind in job.records:
        lines: tuple[str, ...] = ()
        if kind not in told:
            told.add(kind)
            _, *lines_below = template(kind, Facts.of(one.aircraft, Moment(today)))
            lines = tuple(lines_below)
        yield Lines(f"preflint record {kind} {file}", f"records: {kind}:", lines)


def _said(one: Inspected, entry: Entry, word: str) -> Said:
    leading = entry.results[0]
    several = len(entry.grounds) > 1
    return Said(
        word=word,
        messages=tuple(f"{where(one, at)}{message}" for message, at in entry.messages.items()),
        places=tuple(map(_at, entry.places)),
        evidence=tuple(f"{where(one, at) if several else ''}{text}" for text, at in entry.grounds.items()),
        related=tuple(f"{', '.join(map(_at, places))} {text}" for text, places in entry.related.items()),
        mind=Precaution.of(precautions(entry.results, {leading.do})).sentences,
        do=leading.do,
        rules=entry.rules,
        until=tuple(_deferrals(one, entry)) if isinstance(leading.outcome, Finding) else (),
    )


def _deferrals(one: Inspected, entry: Entry) -> Iterator[str]:
    for item in one.deferred:
        if item.result in entry.results:
            by = item.deferral
            at = where(one, (item.result.at,)) if item.result.at is not None else ""
            yield f"{at}{by.until.value.date}, deferred by {by.by.value}: {by.because.value}"


def _at(place: Place) -> str:
    return f"{place.file}:{place.line}:{place.column}"
