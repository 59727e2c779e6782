"""Asks every rule about every subject: one outcome each, whatever happens inside a rule."""

import datetime as dt
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from operator import attrgetter
from typing import Any, get_args

from preflint.aircraft.field import Known
from preflint.aircraft.model import Aircraft, name
from preflint.engine.answer import wrong_with, wrong_with_figure
from preflint.engine.context import Context
from preflint.engine.interrupts import from_outside, told_apart
from preflint.engine.rule import FigureSource, Rule
from preflint.engine.rule_module import Registry
from preflint.errors import told
from preflint.findings.outcome import Crashed, NotApplicable, Open, Outcome
from preflint.findings.result import Figure, Result
from preflint.findings.rule_info import Each
from preflint.frozen import dataclass

_TURNS: Mapping[Each, int] = {"record": 1, "deferral": 2}


@dataclass(frozen=True, slots=True)
class Judgement:
    """All results in order of rule id and then layout, every figure that could be computed, and what failed.

    ``broken`` holds (figure source, message) for each source that failed by itself, not for lack of input.
    """

    results: tuple[Result, ...]
    computed: tuple[Figure, ...]
    broken: tuple[tuple[str, str], ...]


def judge(
    aircraft: Aircraft,
    judged_on: dt.date,
    registry: Registry,
    limits: Mapping[str, float],
    flown_with: Sequence[str] = (),
) -> Judgement:
    """Runs all figures and all rules, those about deferrals last. Raises nothing that a rule or figure raises.

    ``flown_with``: labels of the packs that it flies today. Of these flight needs what is asked of a pack of the day,
    and the other packs stay on the ground: nothing is asked of them. Without a label every pack may fly.
    """
    rules = [_of_the_day(rule) for rule in registry.rules] if flown_with else registry.rules
    on = Context(aircraft, judged_on, [rule.info for rule in rules], registry.freshness, limits)
    with told_apart():
        # Those of each record come after the others: they leave alone what failed, which the others tell.
        turns: list[list[Rule]] = [[], [], []]
        for rule in rules:
            turns[_TURNS.get(rule.info.each, 0)].append(rule)
        on.results = tuple(_results(turns[0] + turns[1], on, flown_with))
        about_deferrals = tuple(_results(turns[2], on, flown_with))
        results = tuple(sorted(on.results + about_deferrals, key=attrgetter("rule.id")))
        judgement = Judgement(results, *_figures(registry.figures, on))
    on.forget()
    return judgement


def _figures(sources: Iterable[FigureSource], on: Context) -> tuple[tuple[Figure, ...], tuple[tuple[str, str], ...]]:
    computed: list[Figure] = []
    broken: list[tuple[str, str]] = []
    for source in sources:
        try:
            given = tuple(source.compute(on))
            wrong = next(filter(None, map(wrong_with_figure, given)), None)
        except Open:
            continue  # the input is missing: the rules that judge by the same say so
        except BaseException as failure:  # the tool must outlive any figure
            if from_outside(failure):
                raise
            given, wrong = (), told(failure)
        if wrong is None:
            computed.extend(given)
        else:
            broken.append((source.id, wrong))
    return tuple(computed), tuple(broken)


def _of_the_day(rule: Rule) -> Rule:
    """As it is asked where a pack is named as flown today."""
    return replace(rule, info=replace(rule.info, needed_for_flight=True)) if rule.info.needed_for_pack else rule


def _results(rules: Iterable[Rule], on: Context, flown_with: Sequence[str]) -> Iterator[Result]:
    asked_about = {each: tuple(subjects(each, on)) for each in get_args(Each)}
    for rule in rules:
        for at, subject in asked_about[rule.info.each]:
            if flown_with and rule.info.each == "pack" and at not in flown_with:
                yield Result(rule.info, at, NotApplicable("this pack is not flown today"))
            else:
                yield Result(rule.info, at, _ask(rule, subject, on))


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
    on.asks(rule.info)
    try:
        try:
            answer = rule.judge(subject, on)
        except Open as end:
            answer = end.unproven
        wrong = on.overstepped or wrong_with(answer)
    except BaseException as failure:  # the tool must outlive any rule, one that exits too
        if from_outside(failure):
            raise
        return Crashed(told(failure))
    finally:
        on.asks(None)
    return answer if wrong is None else Crashed(wrong)
