"""The ladder: what flight needs of one aircraft, by what it takes to show it, and how far up its owner has come."""

from collections.abc import Iterable

from preflint.aircraft.declared import declarations, group_of
from preflint.aircraft.records import Records
from preflint.aircraft.rung import Rung
from preflint.findings.inspected import Inspected
from preflint.findings.outcome import Clear, Finding, NotApplicable
from preflint.findings.result import Result
from preflint.findings.rule_info import RuleInfo
from preflint.frozen import dataclass
from preflint.precautions import Job
from preflint.writing.asked import CLASSES

_BY_JOB = {Job.PACK_IN: Rung.METER, Job.THRUST_STAND: Rung.LOAD, Job.LOAD: Rung.LOAD, Job.HOVER: Rung.LOAD}
_MINUTES = 5  # of what only a club's policy asks for, where nobody says how long it takes


@dataclass(frozen=True, slots=True)
class Thing:
    """One thing that flight needs, whichever rules ask for it.

    ``by`` is the kind of record (or the group of fields) that shows it, None where only a policy asks for it.
    ``minutes`` are those of what is still open, 0 where it is shown: clear, or found wrong.
    """

    by: type | None
    title: str
    rung: Rung
    shown: bool
    minutes: int


@dataclass(frozen=True, slots=True)
class Step:
    """One rung for one aircraft."""

    rung: Rung
    things: tuple[Thing, ...]

    @property
    def shown(self) -> tuple[Thing, ...]:
        """Of the things those that are shown."""
        return tuple(thing for thing in self.things if thing.shown)

    @property
    def minutes(self) -> int:
        """About how long what is still open takes, in all."""
        return sum(thing.minutes for thing in self.things)


def ladder(inspected: Inspected) -> tuple[Step, ...]:
    """The rungs on which flight needs something of this aircraft, lowest first.

    What it does not have, or does not rely on, is not on its ladder.
    """
    asked: dict[object, list[Result]] = {}
    for result in inspected.results:
        if result.rule.needed_for_flight and not isinstance(result.outcome, NotApplicable):
            asked.setdefault(result.rule.shown_by or result.rule.id, []).append(result)
    in_turn = sorted(asked.values(), key=lambda results: min(result.rule.job for result in results))
    things = [thing for results in in_turn if not _only_doubts(thing := _thing(results))]
    return tuple(
        Step(rung, tuple(thing for thing in things if thing.rung is rung))
        for rung in Rung
        if any(thing.rung is rung for thing in things)
    )


def _only_doubts(thing: Thing) -> bool:
    """Rules about the records themselves show nothing by being clear."""
    return thing.by is Records and thing.shown


def needed_kinds(steps: Iterable[Step], props_written: bool = False) -> list[str]:
    """The keys of the records that are still needed. The first look at the props is written at each rotor instead."""
    keys = {cls: key for key, cls in CLASSES.items()}
    wanted = (keys.get(thing.by) for step in steps for thing in step.things if thing.by and not thing.shown)
    return [key for key in wanted if key is not None and (props_written or key != "rig_check")]


def rung_of(rule: RuleInfo) -> Rung:
    """On which rung a rule's evidence is found: that of what shows it, else by the state its job is done in."""
    if rule.shown_by is not None:
        return group_of(rule.shown_by).rung
    return _BY_JOB.get(rule.job, Rung.BENCH_LOOK)


def _thing(results: list[Result]) -> Thing:
    rule = results[0].rule
    open_ = [result for result in results if not isinstance(result.outcome, Clear | Finding)]
    title = rule.title
    if rule.shown_by is not None:
        said = group_of(rule.shown_by)
        title = said.shows or said.title
    return Thing(rule.shown_by, title, rung_of(rule), not open_, _minutes(rule, open_) if open_ else 0)


def _minutes(rule: RuleInfo, open_: Iterable[Result]) -> int:
    """Once for the whole aircraft; for what is looked at one by one as often as rotors, or packs, are open."""
    if rule.shown_by is None:
        return _MINUTES
    one_by_one = rule.each == "pack" or ("at" in declarations(rule.shown_by) and rule.each == "rotor")
    return group_of(rule.shown_by).minutes * (len({result.at for result in open_}) if one_by_one else 1)
