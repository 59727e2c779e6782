"""A test that failed stays failed until a later one of its kind passes, whatever was done since."""

import datetime as dt
from collections.abc import Callable, Iterable
from dataclasses import replace
from typing import TypeVar

from preflint.aircraft.dated import Dated
from preflint.aircraft.records import KINDS, named
from preflint.engine.freshness import Outdated, what_happened
from preflint.findings.outcome import Clear, Finding, Open, Outcome, Related
from preflint.precautions import together

D = TypeVar("D", bound=Dated)


def last_failure(
    records: Iterable[D], judge: Callable[[D], Outcome], judged_on: dt.date
) -> tuple[D, Finding] | None:
    """The latest record that failed, with its finding, where none that passed is known to be later.

    A record that ``judge`` leaves open neither fails nor passes. Of two of one day without times, one of them failed,
    it is not known that the other came later: failed counts. One dated after the day judged at proves nothing where it
    passed, and has failed where it failed.
    """
    passed: list[D] = []
    for record in sorted(records, key=lambda record: record.date.value.latest, reverse=True):
        if any(other.date.value.after(record.date.value) for other in passed):
            return None  # of whatever is older still, too
        try:
            told = judge(record)
        except Open:
            continue
        if isinstance(told, Finding):
            return record, told
        if isinstance(told, Clear) and record.date.value.date <= judged_on:
            passed.append(record)
    return None


def failed_ahead(record: Dated, told: Finding, judged_on: dt.date) -> Finding:
    """The finding, with the word that the test is dated after the day judged at."""
    dated = f"dated {record.date.value}, after {judged_on}, the day judged at: failed all the same"
    return replace(told, evidence=f"{told.evidence}; {dated}")


def not_passed_since(kind: str, record: Dated, told: Finding, old: Outdated | None, tied: bool) -> Finding:
    """The finding, with the word that no later test took it away, and the test itself first of what is to be done.

    ``old``: what was done since, which would have ended what a good record proves. ``tied``: there is another record
    of the day, and which came last is not recorded.
    """
    called, day = named(kind), record.date.value
    since = f"; since then {what_happened(old.event)}" if old else ""
    order = "write the time of day in both, or " if tied else ""
    # The record is taken again first: by its own route, if it has one, as the finding's precaution says.
    mind = told.mind if told.mind is None or hasattr(record, "route") else together(told.mind, KINDS[kind].mind)
    return replace(
        told,
        evidence=f"failed on {day}, and no {called} passed since{since}; {told.evidence}",
        do=f"{order}repeat the {called}; if it fails again: {told.do}",
        mind=mind,
        related=(*told.related, *((Related(old.event.place, what_happened(old.event)),) if old else ())),
    )
