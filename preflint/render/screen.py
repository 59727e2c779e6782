"""What a tired builder needs of one aircraft, on one screen: what is found, what flight lacks, what to do next."""

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from preflint.findings.inspected import Inspected
from preflint.findings.ladder import ladder
from preflint.findings.next_jobs import NextJob
from preflint.findings.outcome import ADVISORY, CAUTION, NO_GO, Severity
from preflint.render.entries import Entry, found, where
from preflint.render.fold import columns
from preflint.render.head import broke_down, head
from preflint.render.jobs import NO_JOB, SHOWN, between, first_of, say_jobs
from preflint.render.ladder import how_far, not_shown
from preflint.render.page import Page, number
from preflint.render.plan import NARROW, SMALL, marks, plan

_LINES, _COLUMNS = 24, 80
_LABEL = 10
_WORDS = 30  # with less room than this beside its place, a message stands above it
_CAUTIONS = 3  # so many stay, whatever else must give way


class _Form(NamedTuple):
    drawn: bool
    whole: bool  # the messages of cautions and advisories; else their first clauses
    told: int  # findings, worst first; of the others their number
    jobs: int
    ask: bool  # the command that asks for what is no record, at the first job that wants it


def say_screen(page: Page, inspected: Inspected, below: int) -> None:
    """The fullest form that leaves room for ``below`` lines under it; where none does, the shortest.

    Every no-go is found in each of them, with its job, and every job has its precaution whole. Narrow lines may be as
    many more as they are shorter.
    """
    entries = sorted(_apart(inspected), key=lambda entry: -_severity(entry))
    jobs, room = between(inspected), _LINES * max(_COLUMNS, page.width) // page.width - below
    for form in _forms([_severity(entry) for entry in entries]):
        tried = page.another()
        _say(tried, inspected, form, entries, jobs)
        if len(tried.lines) <= room:
            break
    page.lines += tried.lines


def _forms(severities: Sequence[Severity]) -> Iterator[_Form]:
    """From the fullest to the shortest."""
    every = len(severities)
    yield _Form(True, True, every, SHOWN, True)
    for whole in (True, False):
        yield _Form(True, whole, every, SHOWN, False)
    for whole in (True, False):
        yield _Form(False, whole, every, SHOWN, True)
    least = severities.count(NO_GO) + min(_CAUTIONS, severities.count(CAUTION))
    yield _Form(False, False, max(every - 1, least), SHOWN, True)  # it takes the room of one finding at most
    for told in range(every, least - 1, -1):
        yield _Form(False, False, told, SHOWN, False)
    for jobs in (2, 1):
        yield _Form(False, False, least, jobs, False)


def _say(page: Page, inspected: Inspected, form: _Form, entries: Sequence[Entry], jobs: Sequence[NextJob]) -> None:
    head(page, inspected)
    page.gap()
    if inspected.verdict == "unproven":  # what grounds it stands first
        _ladder(page, inspected)
    for entry in entries[: form.told]:
        _finding(page, inspected, entry, form.whole or _severity(entry) == NO_GO)
    _others(page, entries[form.told :], " besides" if form.told else "")
    if not entries:
        page.say("Found: nothing wrong.")
    if inspected.verdict != "unproven":
        _ladder(page, inspected)
    broke_down(page, inspected)
    page.gap()
    at_rotors = marks(inspected, {}) if form.drawn and page.width >= NARROW else {}
    if any(mark.sign in "X!" for mark in at_rotors.values()):
        page.lines += plan(inspected.aircraft, at_rotors, page.width, SMALL)
    shown = first_of(jobs, form.jobs)
    if shown:
        say_jobs(page, inspected, shown, ask=form.ask)
    else:
        page.say(NO_JOB)
    more = len(jobs) - len(shown)
    listed = f", --detail jobs for {number(more, 'more job')}" if more else ""
    page.say(f"Add --detail full for the evidence{listed}.")


def _severity(entry: Entry) -> Severity:
    return entry.results[0].rule.severity


def _apart(inspected: Inspected) -> Iterator[Entry]:
    """The findings, those that are deferred apart from those that nobody answers for."""
    put_off = [entry.result for entry in inspected.deferred]
    for entry in found(inspected):
        for deferred in (False, True):
            if same := tuple(result for result in entry.results if (result in put_off) is deferred):
                yield Entry(same)


def _finding(page: Page, inspected: Inspected, entry: Entry, whole: bool) -> None:
    """How bad, where at the aircraft, what, and where in the file: whole, or the clauses that fit a line beside it."""
    word = str(_severity(entry)).upper()
    until = next((d.deferral.until.value.date for d in inspected.deferred if d.result in entry.results), None)
    at = f"{f'deferred to {until}: ' if until else ''}{where(inspected, entry.at)}"
    said, place = "; ".join(entry.messages), page.at(entry.places[0])
    first, rest = f"{word:<{_LABEL}}", " " * _LABEL
    beside = page.width - _LABEL - columns(f"{at}{place}") - 1
    if not whole:
        said = page.brief(said, beside if beside >= _WORDS else max(_WORDS, page.width - _LABEL - columns(at)))
    page.say(f"{at}{said} {place}", first, rest, word)


def _others(page: Page, left: Sequence[Entry], besides: str) -> None:
    cautions = [entry for entry in left if _severity(entry) == CAUTION]
    advisories = [entry for entry in left if _severity(entry) == ADVISORY]
    counted = [number(len(cautions), "caution")] if cautions else []
    counted += [number(len(advisories), "advisory", "advisories")] if advisories else []
    if counted:
        page.say(f"Found{besides}: {', '.join(counted)}.")


def _ladder(page: Page, inspected: Inspected) -> None:
    steps = ladder(inspected)
    if lacking := not_shown(steps):
        page.say(f"Not shown yet, and flight needs it: {lacking}.", "", "    ")
    if steps:
        page.say(f"{how_far(steps)}.")
    elif inspected.verdict == "unproven":
        page.say("Nothing that flight needs was asked and answered.")
