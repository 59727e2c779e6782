"""Compares a report with an earlier one."""

from collections import Counter
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace
from typing import TypeVar

from preflint.findings.compared import Change, Compared, ComparedAircraft, Earlier, EarlierAircraft, Key, Said
from preflint.findings.inspected import Inspected
from preflint.findings.outcome import Finding, Unproven
from preflint.findings.report import ANSWERS, Report

T = TypeVar("T")

_Two = tuple[Inspected | None, EarlierAircraft | None]


def compare(report: Report, earlier: Earlier) -> Report:
    """The report with what is new, gone and still there since the earlier one.

    An aircraft is the same where file and name are; else where the one or the other is, and no second has it.
    """
    unread = {item.file for item in report.not_read}
    compared = tuple(_compared(now, before, unread, earlier.not_read) for now, before in _pairs(report, earlier))
    return replace(report, compared=Compared(earlier.judged_on, tuple(_differently(report, earlier)), compared))


def _pairs(report: Report, earlier: Earlier) -> list[_Two]:
    now, before = list(report.aircraft), list(earlier.aircraft)
    found: dict[int, EarlierAircraft] = {}
    same: Sequence[Callable[[str, str], tuple[str, ...]]] = (
        lambda manifest, name: (manifest, _plain(name)),
        lambda _, name: (_plain(name),),
        lambda manifest, _: (manifest,),
    )
    for key in same:
        ours = _alone([(key(one.manifest, one.about.name.value), one) for one in now if id(one) not in found])
        taken = {id(one) for one in found.values()}
        theirs = _alone([(key(one.manifest, one.name), one) for one in before if id(one) not in taken])
        found |= {id(ours[word]): theirs[word] for word in ours if word in theirs}
    taken = {id(one) for one in found.values()}
    return [*((one, found.get(id(one))) for one in now), *((None, one) for one in before if id(one) not in taken)]


def _alone(named: Sequence[tuple[tuple[str, ...], T]]) -> dict[tuple[str, ...], T]:
    """What no second one has the key of."""
    times = Counter(key for key, _ in named)
    return {key: one for key, one in named if times[key] == 1}


def _compared(
    now: Inspected | None, before: EarlierAircraft | None, unread: set[str], not_read: frozenset[str]
) -> ComparedAircraft:
    changes = tuple(_changes(now, before)) if now and before else ()
    if now is not None:
        unread_then = before is None and now.manifest in not_read
        name, was = now.about.name.value, before.verdict if before else None
        return ComparedAircraft(now.manifest, name, was, now.verdict, unread_then, changes)
    assert before is not None
    return ComparedAircraft(before.manifest, before.name, before.verdict, None, before.manifest in unread, ())


def _changes(now: Inspected, before: EarlierAircraft) -> Iterator[Change]:
    """New ones first, then those that are gone, then the others; each by its rule and place as the report has them."""
    ours: dict[Key, list[Said]] = {}
    answers: dict[tuple[str, str | None], str] = {}
    for result in now.results:
        outcome, key = result.outcome, (result.rule.id, result.at)
        answers[key] = ANSWERS[type(outcome)]
        if isinstance(outcome, Finding):
            ours.setdefault(("finding", *key), []).append(Said(str(result.rule.severity), outcome.message))
        elif isinstance(outcome, Unproven) and result.rule.needed_for_flight:
            ours.setdefault(("unproven", *key), []).append(Said("", outcome.message))
    yield from _beyond("new", ours, before.said, {})
    yield from _beyond("gone", before.said, ours, answers)
    for (kind, rule, at), said in ours.items():
        for one in said[: len(before.said.get((kind, rule, at), ()))]:
            yield Change("there", kind, rule, at, one.severity, one.message, None)


def _beyond(
    state: str, many: Mapping[Key, Sequence[Said]], few: Mapping[Key, Sequence[Said]],
    answers: Mapping[tuple[str, str | None], str],
) -> Iterator[Change]:  # fmt: skip
    for (kind, rule, at), said in many.items():
        for one in said[len(few.get((kind, rule, at), ())) :]:
            now = answers.get((rule, at))
            yield Change("new" if state == "new" else "gone", kind, rule, at, one.severity, one.message, now)


def _differently(report: Report, earlier: Earlier) -> Iterator[str]:
    if report.tool != earlier.tool:
        yield f"it was judged by {earlier.tool}"
    if report.policy != earlier.policy:
        yield f"it was judged by {earlier.policy or 'no policy'}"
    ours = {label for one in report.aircraft for label in one.flown_with}
    theirs = {label for one in earlier.aircraft for label in one.flown_with}
    if ours != theirs:
        yield f"the packs flown were {', '.join(sorted(theirs)) or 'not named'}"


def _plain(name: str) -> str:
    return " ".join(name.casefold().split())
