"""A test that failed stays failed until a later one of its kind passes, whatever was done since."""

import datetime as dt
from collections.abc import Callable, Sequence
from contextlib import suppress
from dataclasses import replace
from typing import TypeVar

from preflint.aircraft.dated import Dated
from preflint.aircraft.records import KINDS
from preflint.engine.freshness import Outdated, what_happened
from preflint.findings.outcome import Clear, Finding, Open, Outcome, Related

D = TypeVar("D", bound=Dated)


def failed_ahead(taken: Sequence[D], judge: Callable[[D], Outcome], judged_on: dt.date) -> Finding | None:
    """The finding of the last record that failed and is dated after the day judged at; None where there is none.

    One that passed and is dated there proves nothing, so it takes none of them away.
    """
    ahead = [record for record in taken if record.date.value.date > judged_on]
    for record in sorted(ahead, key=lambda record: record.date.value.latest, reverse=True):
        with suppress(Open):
            told = judge(record)
            if isinstance(told, Finding):
                dated = f"dated {record.date.value}, after {judged_on}, the day judged at: failed all the same"
                return replace(told, evidence=f"{told.evidence}; {dated}")
    return None


def last_failure(taken: Sequence[D], judge: Callable[[D], Outcome]) -> tuple[D, Finding] | None:
    """The latest record that failed, with its finding, where none that passed is known to be later.

    ``taken`` in order of dates. A record that ``judge`` leaves open neither fails nor passes. Of two of one day
    without times, one of them failed, it is not known that the other came later: failed counts.
    """
    passed: list[D] = []
    for record in reversed(taken):
        if any(other.date.value.after(record.date.value) for other in passed):
            return None  # of whatever is older still, too
        try:
            told = judge(record)
        except Open:
            continue
        if isinstance(told, Finding):
            return record, told
        if isinstance(told, Clear):
            passed.append(record)
    return None


def not_passed_since(kind: str, record: Dated, told: Finding, old: Outdated | None) -> Finding:
    """The finding, with the word that no later test took it away, and the test itself first of what is to be done.

    ``old``: what was done since, which would have ended what a good record proves.
    """
    named, day = kind.replace("_", " "), record.date.value
    since = f"; since then {what_happened(old.event)}" if old else ""
    return replace(
        told,
        message=f"{told.message}: failed on {day}, and not passed since",
        evidence=f"{told.evidence}; no {named} is known to have passed after that of {day}{since}",
        do=f"repeat the {named}: {KINDS[kind].take}; if it fails again: {told.do}",
        related=(*told.related, *((Related(old.event.place, what_happened(old.event)),) if old else ())),
    )
