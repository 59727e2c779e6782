"""Jobs as people take them to the bench: under the state of the aircraft that each needs, with what to mind there."""

import datetime as dt
from collections.abc import Mapping, Sequence
from dataclasses import replace

from preflint.aircraft.moment import Moment
from preflint.findings.inspected import Inspected
from preflint.findings.next_jobs import NextJob, next_jobs
from preflint.findings.outcome import CAUTION, NO_GO, Finding, Unproven
from preflint.findings.result import Result
from preflint.load.quoting import as_argument
from preflint.precautions import STATES, Job, Precaution
from preflint.render.entries import where
from preflint.render.page import Page
from preflint.render.told import Told
from preflint.writing.entry import one_for_each_rotor
from preflint.writing.facts import Facts
from preflint.writing.template import template

SHOWN = 3  # or as many as are pressing
NO_JOB = "No job is open before the pilot's own last look."


def between(inspected: Inspected) -> list[NextJob]:
    """The jobs between the aircraft and a flight without reserve, in the order of work; a deferred one is none."""
    put_off = [entry.result for entry in inspected.deferred]
    return [job for job in next_jobs(inspected) if _is_between(job, put_off)]


def first_of(jobs: Sequence[NextJob], most: int = SHOWN) -> list[NextJob]:
    """All that are pressing and, up to ``most`` together with these, the earliest others; in the order of work."""
    shown = sorted(jobs, key=lambda job: not _is_pressing(job))[:most]  # these, then the earliest
    return [job for job in jobs if job in shown or _is_pressing(job)]


def state(job: NextJob) -> tuple[str, ...]:
    """How the aircraft stands for the job, and all there is to mind meanwhile; no sentence twice."""
    return tuple(dict.fromkeys((STATES[job.stage], *Precaution.of(job.precaution).sentences)))


def say_jobs(
    page: Page,
    inspected: Inspected,
    jobs: Sequence[NextJob],
    today: dt.date | None = None,
    keys: Mapping[int, Sequence[int]] | None = None,
    ask: bool = False,
) -> None:
    """Numbered through. Jobs that follow each other in one state stand under it together.

    With ``today`` each kind of record comes with its lines, dated so. ``keys`` are the numbers, by that of the job,
    of what it settles in the report above. ``ask``: the first job that ends in lines that are no record comes with
    the command that asks for them.
    """
    file = as_argument(inspected.reached_by or inspected.manifest)
    told = Told()  # a job is done with this list in the hand, not with what stands above
    above, written = set[str](), set[tuple[str, ...]]()
    for i, job in enumerate(jobs, 1):
        stands = state(job)
        if not above.issuperset(stands):
            page.say(told.say(" ".join(stands), f"for job {i}"))
            above = set(stands)
        needed = "" if job.is_between else " (may wait)"
        settled = "".join(f"[{n}]" for n in (keys or {}).get(i, ()))
        page.say(f"{where(inspected, job.at)}{job.do}{needed}{settled and f' {settled}'}", f"{i:2}. ", "    ")
        if ask and _is_asked(job):
            ask = False
            page.say(f"preflint draft --ask {file}", "    > ", "      ")
        for kind in job.records:
            page.say(f"preflint record {kind} {file}", "    > ", "      ")
            lines = _lines(inspected, job, kind, today) if today else ()
            if lines and lines not in written:
                _, *entries = lines
                known = bool(inspected.aircraft.records.of_kind(kind))  # a key must not stand there twice
                page.say(f"or these lines below {kind if known else 'records'}:", "      ")
                page.paste(entries if known else lines)
                written.add(lines)


def _lines(inspected: Inspected, job: NextJob, kind: str, today: dt.date) -> tuple[str, ...]:
    """Those of the record; where it is one for each rotor, for the rotors of the job alone."""
    facts = Facts.of(inspected.aircraft, Moment(today))
    at = tuple(position for position in facts.positions if position in job.at)
    return template(kind, replace(facts, positions=at) if at and one_for_each_rotor(kind) else facts)


def _is_asked(job: NextJob) -> bool:
    """Whether it ends in lines that are no record: what flight needs of these is asked for, rung by rung."""
    needed = any(r.rule.needed_for_flight and r.rule.shown_by and isinstance(r.outcome, Unproven) for r in job.results)
    return needed and job.severity is None and not job.records


def _is_pressing(job: NextJob) -> bool:
    """Whether it is shown whatever else is: a no-go's, and the look after a mishap, which comes before all of them."""
    return job.severity == NO_GO or job.stage is Job.FIRST_LOOK


def _is_between(job: NextJob, put_off: Sequence[Result]) -> bool:
    if job.needed_for_flight:
        return True
    return any(isinstance(r.outcome, Finding) and r.rule.severity >= CAUTION and r not in put_off for r in job.results)
