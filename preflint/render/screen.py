"""What a tired builder needs of one aircraft, on one screen: what is found, what flight lacks, what to do next."""

from collections.abc import Iterator
from typing import NamedTuple

from preflint.findings.inspected import Inspected
from preflint.findings.outcome import ADVISORY, CAUTION, NO_GO, Severity
from preflint.render.entries import Entry, failed, found, open_for_flight, where
from preflint.render.fold import columns
from preflint.render.head import broke_down, head
from preflint.render.jobs import SHOWN, between, first_of, say_jobs
from preflint.render.page import Page, number
from preflint.render.plan import NARROW, SMALL, marks, plan

_LINES, _COLUMNS = 24, 80

_LABEL = 10
_WORDS = 30  # with less room than this beside its place, a message stands above it


class _Form(NamedTuple):
    drawn: bool
    told: Severity  # findings from this severity on; of the others their number
    jobs: int


# From the fullest on; what every form has is never left out.
_FORMS = (
    _Form(True, ADVISORY, SHOWN),
    _Form(False, ADVISORY, SHOWN),
    _Form(False, CAUTION, SHOWN),
    _Form(False, NO_GO, SHOWN),
    _Form(False, NO_GO, 2),
    _Form(False, NO_GO, 1),
)


def say_screen(page: Page, inspected: Inspected, below: int) -> None:
    """The fullest form that leaves room for ``below`` lines under it; where none does, the shortest.

    Narrow lines are allowed to be as many more as they are shorter.

    Every no-go is found in each of them, with its job, and every job has its precaution whole.
    """
    room = _LINES * max(_COLUMNS, page.width) // page.width - below
    for form in _FORMS:
        tried = page.another()
        _say(tried, inspected, form)
        if len(tried.lines) <= room:
            break
    page.lines += tried.lines


def _say(page: Page, inspected: Inspected, form: _Form) -> None:
    head(page, inspected)
    page.gap()
    if form.drawn and page.width >= NARROW:
        at_rotors = marks(inspected, {})
        if any(mark.sign in "X!" for mark in at_rotors.values()):
            page.lines += plan(inspected.aircraft, at_rotors, page.width, SMALL)
    _found(page, inspected, form)
    _lacking(page, inspected)
    broke_down(page, inspected)
    page.gap()
    jobs = between(inspected)
    shown = first_of(jobs, form.jobs)
    if shown:
        say_jobs(page, inspected, shown)
    else:
        page.say("No job is open before the pilot's own last look.")
    more = len(jobs) - len(shown)
    listed = f", --detail jobs ({number(more, 'more job')} before flight)" if more else ""
    page.say(f"The rest: --detail full (evidence and all else){listed}.")


def _found(page: Page, inspected: Inspected, form: _Form) -> None:
    entries = sorted(_apart(inspected), key=lambda entry: -entry.results[0].rule.severity)
    for entry in entries:
        if entry.results[0].rule.severity >= form.told:
            _finding(page, inspected, entry)
    left = [entry.results[0].rule.severity for entry in entries if entry.results[0].rule.severity < form.told]
    counted = [number(left.count(s), str(s), "advisories" if s is ADVISORY else None) for s in (CAUTION, ADVISORY)]
    if left:
        page.say(f"Found besides: {', '.join(said for said in counted if not said.startswith('0'))}.")
    if not entries:
        page.say("Nothing found.")


def _apart(inspected: Inspected) -> Iterator[Entry]:
    """The findings, those that are deferred apart from those that nobody answers for."""
    put_off = [entry.result for entry in inspected.deferred]
    for entry in found(inspected):
        for deferred in (False, True):
            if same := tuple(result for result in entry.results if (result in put_off) is deferred):
                yield Entry(same)


def _finding(page: Page, inspected: Inspected, entry: Entry) -> None:
    """How bad, where at the aircraft, what, and where in the file: a no-go whole, others in one line if they fit."""
    severity = entry.results[0].rule.severity
    word = str(severity).upper()
    until = next((d.deferral.until.value.date for d in inspected.deferred if d.result in entry.results), None)
    at = f"{f'deferred to {until}: ' if until else ''}{where(inspected, entry.at)}"
    said, place = "; ".join(entry.messages), page.at(entry.places[0])
    first, rest = f"{word:<{_LABEL}}", " " * _LABEL
    beside = page.width - _LABEL - columns(f"{at}{place}") - 1
    if severity == NO_GO:
        page.say(f"{at}{said} {place}", first, rest, word)
    elif beside >= _WORDS:
        page.say(f"{at}{page.brief(said, beside)} {place}", first, rest, word)
    else:
        page.say(f"{at}{page.brief(said, max(_WORDS, page.width - _LABEL - columns(at)))}", first, rest, word)
        page.say(place, rest, rest)


def _lacking(page: Page, inspected: Inspected) -> None:
    lacking: dict[str, None] = {}
    for entry in open_for_flight(inspected):
        for result in entry.results:
            lacking[(result.record or result.rule.topic).replace("_", " ")] = None
    if lacking:
        page.say(f"Not shown yet: {', '.join(lacking)}.", "", "    ")
    elif inspected.verdict == "unproven" and not failed(inspected):
        page.say("Nothing that flight needs was asked and answered.")
