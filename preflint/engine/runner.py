"""Asks every rule about every subject: one outcome each, whatever happens inside a rule."""

import datetime as dt
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from preflint.aircraft.field import Known
from preflint.aircraft.model import Aircraft, name
from preflint.engine.context import Context
from preflint.engine.rule import Rule
from preflint.engine.rule_module import Registry
from preflint.findings.outcome import Clear, Crashed, Finding, NotApplicable, Open, Outcome, Unproven
from preflint.findings.result import Figure, Result
from preflint.findings.rule_info import Each
from preflint.places import Place


@dataclass(frozen=True, slots=True)
class Judgement:
    """All results in order of rule id and then layout, every figure that could be computed, and what failed.

    ``broken`` holds (figure source, message) for each source that failed by itself, not for lack of input.
    """

    results: tuple[Result, ...]
    computed: tuple[Figure, ...]
    broken: tuple[tuple[str, str], ...]


def judge(aircraft: Aircraft, judged_on: dt.date, registry: Registry, limits: Mapping[str, float]) -> Judgement:
    """Runs all figures and all rules, those about deferrals last. Raises nothing that a rule or figure raises."""
    on = Context(aircraft, judged_on, [rule.info for rule in registry.rules], registry.freshness, limits)
    on.results = tuple(_results((rule for rule in registry.rules if rule.info.each != "deferral"), on))
    about_deferrals = tuple(_results((rule for rule in registry.rules if rule.info.each == "deferral"), on))
    results = tuple(sorted(on.results + about_deferrals, key=lambda result: result.rule.id))
    computed: list[Figure] = []
    broken: list[tuple[str, str]] = []
    for source in registry.figures:
        try:
            computed.extend(tuple(source.compute(on)))
        except Open:
            continue  # the input is missing: the rules that judge by the same say so
        except Exception as failure:  # the tool must outlive any figure
            broken.append((source.id, f"{type(failure).__name__}: {failure}"))
    return Judgement(results, tuple(computed), tuple(broken))


def _results(rules: Iterable[Rule], on: Context) -> Iterator[Result]:
    return (
        Result(rule.info, at, _ask(rule, subject, on)) for rule in rules for at, subject in subjects(rule.info.each, on)
    )


def subjects(each: Each, on: Context) -> Iterator[tuple[str | None, Any]]:
    """What a rule of that kind is asked about, each with the position or label that it belongs to.

    A ``record`` subject is (kind, record), every record of the aircraft in the order written.
    """
    aircraft = on.aircraft
    if each == "aircraft":
        yield None, aircraft
    elif each == "rotor":
        yield from ((name(rotor), rotor) for rotor in aircraft.rotors)
    elif each == "pack":
        yield from ((pack.label.value if isinstance(pack.label, Known) else None, pack) for pack in aircraft.packs)
    elif each == "record":
        for kind in aircraft.records.kinds():
            yield from ((None, (kind, record)) for record in aircraft.records.of_kind(kind))
    else:
        yield from ((d.at.value if isinstance(d.at, Known) else None, d) for d in aircraft.deferrals)


def _ask(rule: Rule, subject: Any, on: Context) -> Outcome:
    try:
        with on.asked_by(rule.info):
            answer: object = rule.judge(subject, on)
    except Open as end:
        answer = end.unproven
    except Exception as failure:  # the tool must outlive any rule
        return Crashed(f"{type(failure).__name__}: {failure}")
    if not isinstance(answer, Finding | Clear | Unproven | NotApplicable):
        return Crashed(f"answered with {type(answer).__name__}, which is no outcome")
    if isinstance(answer, Finding | Unproven):
        places = [answer.place, *(related.place for related in answer.related)]
        if not all(isinstance(place, Place) for place in places):
            return Crashed("pointed at something that is no place")
    return answer
