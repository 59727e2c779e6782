"""Judges sound aircraft, each of them with one fault, and pairs of faults; tells what was missed.

A fault is *named* where one of its rules newly finds something, or newly leaves open what it had cleared; *told
otherwise* where only other rules do; *refused* where the manifest is not read; *missed* where nothing new is said.
"""

import copy
from dataclasses import dataclass

import numpy as np

from making.sound import sound
from making.sound.build import Sound
from making.sound.writing import write
from making.study import built, flown, measured, tried
from making.study.fault import JUDGED, Case, Document, DoesNotApply, Fault
from preflint.api import ADVISORY, Finding, Unproven
from preflint.errors import NotRead
from preflint.testing import inspect_text

FAULTS = [*built.FAULTS, *tried.FAULTS, *flown.FAULTS, *measured.FAULTS]


@dataclass(frozen=True)
class Told:
    """``said``: rule, subject and words. ``alarms``: rules that find more than advice; ``held_up``: what flight waits
    for.
    """

    verdict: str
    said: frozenset[tuple[str, str | None, str]]
    alarms: frozenset[str]
    held_up: frozenset[str]


@dataclass(frozen=True)
class Line:
    """What came of one aircraft with these faults: for each, what ``Told`` says of it."""

    seed: int
    faults: tuple[str, ...]
    verdict: str
    outcomes: tuple[str, ...]
    new: tuple[str, ...] = ()


NOT_READ = Told("not read", frozenset(), frozenset(), frozenset())


def judged(document: Document, files: dict[str, str]) -> Told:
    try:
        inspected = inspect_text(write(document), JUDGED, files=files)
    except NotRead:
        return NOT_READ
    assert not inspected.broken, inspected.broken
    said = [(r, r.outcome) for r in inspected.results if isinstance(r.outcome, Finding | Unproven)]
    return Told(
        str(inspected.verdict),
        frozenset((r.rule.id, r.at, told.message) for r, told in said),
        frozenset(r.rule.id for r, told in said if isinstance(told, Finding) and r.rule.severity > ADVISORY),
        frozenset(r.rule.id for r, told in said if isinstance(told, Unproven) and r.rule.needed_for_flight),
    )


def with_faults(one: Sound, faults: tuple[Fault, ...], seed: int) -> tuple[Document, list[str | None]] | None:
    """The document with them and where each is; None where it cannot have them, or one writes over the other."""
    rng = np.random.default_rng((seed, 8))
    case = Case(one, copy.deepcopy(one.document), rng)
    where, touched = [], []
    for fault in faults:
        before = _leaves(case.document)
        try:
            where.append(fault.put(case))
        except DoesNotApply:
            return None
        after = _leaves(case.document)
        touched.append({path for path in before.keys() | after.keys() if before.get(path) != after.get(path)})
        if not touched[-1]:
            return None
    if len(faults) == 2 and touched[0] & touched[1]:
        return None
    return case.document, where


def _leaves(value: object, path: tuple[object, ...] = ()) -> dict[tuple[object, ...], str]:
    if isinstance(value, dict | list):
        steps = value.items() if isinstance(value, dict) else enumerate(value)
        return {at: leaf for step, inner in steps for at, leaf in _leaves(inner, (*path, step)).items()}
    return {path: str(value)}


def outcome(fault: Fault, at: str | None, before: Told, after: Told) -> str:
    if after is NOT_READ:
        return "refused"
    new = after.said - before.said
    if any(rule in fault.rules and (None in (at, where) or at == where) for rule, where, _ in new):
        return "named"
    return "told otherwise" if new else "known limit" if fault.limit else "missed"


def of_sound(seed: int) -> Told:
    one = sound(seed)
    return judged(one.document, one.files)


def of_fault(which: int, aircraft: int) -> list[Line]:
    """One kind of fault in so many aircraft that can have it; fewer where few can."""
    fault = FAULTS[which]
    lines: list[Line] = []
    for seed in range(which, which + 60 * aircraft):
        if len(lines) == aircraft:
            break
        one = sound(seed)
        if with_faults(one, (fault,), seed):
            lines.append(_line(one, (fault,), seed))
    return lines


def of_pair(seed: int) -> Line:
    """One aircraft with two faults, drawn among those that it can have together."""
    one = sound(seed)
    order = [FAULTS[int(k)] for k in np.random.default_rng((seed, 9)).permutation(len(FAULTS))]
    first = next(fault for fault in order if with_faults(one, (fault,), seed))
    pairs = ((first, other) for other in order if other is not first)
    return _line(one, next(pair for pair in pairs if with_faults(one, pair, seed)), seed)


def _line(one: Sound, faults: tuple[Fault, ...], seed: int) -> Line:
    made = with_faults(one, faults, seed)
    assert made
    document, where = made
    before, after = judged(one.document, one.files), judged(document, one.files)
    outcomes = tuple(outcome(fault, at, before, after) for fault, at in zip(faults, where, strict=True))
    new = tuple(sorted(f"{rule}@{at}: {words}" for rule, at, words in after.said - before.said))
    return Line(seed, tuple(fault.name for fault in faults), after.verdict, outcomes, new)
