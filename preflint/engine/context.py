"""What a rule may ask besides its subject: limits, fresh records, what others computed, the day judged at."""

import datetime as dt
import math
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import replace
from typing import Any, ParamSpec, TypeVar

from preflint.aircraft.dated import Dated
from preflint.aircraft.logbook import Deferral, LogEntry
from preflint.aircraft.model import Aircraft
from preflint.aircraft.moment import Moment
from preflint.aircraft.records import named
from preflint.engine.copied import copies
from preflint.engine.failed import failed_ahead, last_failure, not_passed_since
from preflint.engine.freshness import Outdated, Staling, events, outdated, touches, what_happened
from preflint.engine.validity import TooOld, too_old, validities
from preflint.findings.deferral import deferred
from preflint.findings.outcome import Finding, Open, Outcome, Related, Unproven
from preflint.findings.result import Result
from preflint.findings.rule_info import RuleInfo, Tolerance
from preflint.frozen import dataclass

D = TypeVar("D", bound=Dated)
P = ParamSpec("P")
T = TypeVar("T")


class UndeclaredLimit(Exception):
    """A rule asked for a limit that it does not declare, so that its page would not show it."""


@dataclass(frozen=True, slots=True)
class _Kept:
    """What a computation gave or raised, the limits it read, and its arguments, kept so that none is another's id."""

    value: Any
    failure: Exception | None
    limits: tuple[Tolerance, ...]
    arguments: tuple[object, ...]


class Context:
    """One aircraft on one day, with all ``rules`` of the run and ``freshness``, the work that ends its records.

    ``results`` holds the outcomes of all other rules while rules about deferrals are asked, and nothing before.
    """

    def __init__(
        self,
        aircraft: Aircraft,
        judged_on: dt.date,
        rules: Sequence[RuleInfo],
        freshness: Sequence[Staling],
        limits: Mapping[str, float],
    ) -> None:
        self.aircraft = aircraft
        self.judged_on = judged_on
        self.rules = rules
        self.results: tuple[Result, ...] = ()
        self._rows: dict[str, list[Staling]] = {}  # of freshness, by the kind of record that they end
        for row in freshness:
            self._rows.setdefault(row.record, []).append(row)
        self._today = Moment(judged_on)
        self._limits = limits
        self._valid = validities(rules, limits)
        self.overstepped: str | None = None  # what the rule asked last read undeclared, even if it caught the error
        self._asking: RuleInfo | None = None
        self._reading: list[dict[str, Tolerance]] = []  # the limits read by each computation under way
        self._standing: list[Dated] = []  # the records that stand failed, as far as rules were asked
        self._kept: dict[tuple[object, ...], _Kept] = {}

    def asks(self, rule: RuleInfo | None) -> None:
        """From here on only limits that the rule declares are given, until another is named; with None any are."""
        self._asking, self.overstepped = rule, None

    def limit(self, tolerance: Tolerance) -> float:
        """The value in force: the policy's, else the tolerance's default.

        Raises UndeclaredLimit where the rule that is asked does not declare it, whoever reads it on its behalf.
        """
        if self._asking is not None and tolerance not in self._asking.tolerances:
            self.overstepped = f"{self._asking.id} does not declare the limit {tolerance.name}, which it reads"
            raise UndeclaredLimit(self.overstepped)
        for read in self._reading:
            read[tolerance.name] = tolerance
        return self._limits.get(tolerance.name, tolerance.default)

    def once(self, function: Callable[P, T], /, *arguments: P.args, **named: P.kwargs) -> T:
        """``function`` of these arguments, computed once for an aircraft however many rules ask.

        Records and other objects count as the same where they are the same object; numbers and texts where they are
        equal. What it raises is kept, too.
        """
        every = (*arguments, *named.values())
        key = _key(function, every, tuple(named))
        kept = self._kept.get(key)
        if kept is None:
            kept = self._compute(every, function, *arguments, **named)
            self._kept[key] = kept
        else:
            for tolerance in kept.limits:
                self.limit(tolerance)
        if kept.failure is not None:
            raise Open(kept.failure.unproven) if isinstance(kept.failure, Open) else kept.failure
        given: T = kept.value
        return given

    def _compute(
        self, every: tuple[object, ...], function: Callable[P, T], /, *arguments: P.args, **named: P.kwargs
    ) -> _Kept:
        value, limits = None, dict[str, Tolerance]()
        failure: Exception | None = None
        self._reading.append(limits)
        try:
            value = function(*arguments, **named)
        except UndeclaredLimit:
            raise
        except Open as end:  # a new one: what was raised holds all that the computation saw
            failure = Open(end.unproven)
        except Exception as error:  # kept, so that whoever asks next is told the same
            failure = error
        finally:
            self._reading.pop()
        return _Kept(value, failure, tuple(limits.values()), every)

    def forget(self) -> None:
        """Lets go of what was computed, which holds this context in turn: nothing is left for a search for circles."""
        self._kept.clear()

    def so_far(self, records: Iterable[D]) -> tuple[D, ...]:
        """Those dated up to the day judged at, in order of their dates; a day without a time counts as its end."""
        past = [record for record in records if record.date.value.date <= self.judged_on]
        if len(past) > 1:
            past.sort(key=lambda record: record.date.value.latest)
        return tuple(past)

    def latest(self, records: Iterable[D]) -> D | None:
        """The last one up to the day judged at, whether or not it still speaks; None where there is none."""
        return next(reversed(self.so_far(records)), None)

    def outdated(self, kind: str, record: Dated, at: str | None = None) -> Outdated | None:
        """What made the record stale, if anything did."""
        return self.once(self._outdated, kind, record, at)

    def _outdated(self, kind: str, record: Dated, at: str | None) -> Outdated | None:
        happened = self.once(events, self.aircraft)
        return outdated(kind, record, at, happened, self.ended_by(kind), self._today)

    def ended_by(self, kind: str) -> Sequence[Staling]:
        """The rows that say which work ends records of the kind."""
        return self._rows.get(kind, ())

    def too_old(self, kind: str, record: Dated) -> TooOld | None:
        """The record's age, where its validity has ended with nothing done to the aircraft."""
        return too_old(kind, record, self.judged_on, self._valid)

    def speaks(self, kind: str, record: Dated, at: str | None = None) -> bool:
        """Whether neither work nor age has ended what the record proves."""
        return self.outdated(kind, record, at) is None and self.too_old(kind, record) is None

    def copied(self, kind: str, record: Dated) -> Dated | None:
        """The earlier record of the kind whose readings stand here under a new date, if there is one."""
        return self.once(self._copies, kind).get(id(record))

    def _copies(self, kind: str) -> Mapping[int, Dated]:
        records = self.so_far(self.aircraft.records.of_kind(kind))
        return copies(records) if len(records) > 1 else {}

    def freshest(
        self,
        kind: str,
        records: Iterable[D],
        do: str,
        at: str | None = None,
        covers: Callable[[D], bool] = lambda _: True,
        mind: str | None = None,
        says: Callable[[D], object] | None = None,
    ) -> D:
        """The latest record that covers the question and still speaks. Ends the rule as unproven where there is none.

        A record dated after the day judged at does not count. Where several may be the latest (one day, no times)
        it is open which one counts, unless ``says`` tells that they say the same.
        """
        called = named(kind)
        usable = self.so_far(record for record in records if covers(record))
        if not usable:
            where = f" of {at}" if at else ""
            message = f"no {called}{where} {'are' if called.endswith('s') else 'is'} recorded"
            raise Open(Unproven(place=self.aircraft.records.place, message=message, do=do, mind=mind, record=kind))
        latest = usable[-1]
        old = self.outdated(kind, latest, at)
        if old is None:
            if aged := self.too_old(kind, latest):
                raise Open(aged.unproven(do, mind))
            for other in usable[:-1]:
                alike = says is not None and says(other) == says(latest)
                if latest.date.value.after(other.date.value) is None and not alike:
                    raise Open(_which_is_later(called, latest, other, do, mind))
            if source := self.copied(kind, latest):
                raise Open(_pasted(kind, latest, source, do, mind))
            return latest
        if old.cause == "stale":
            are = "are" if called.endswith("s") else "is"
            message = f"the {called} of {latest.date.value} {are} outdated: {what_happened(old.event)}"
        else:
            message = f"which came first, the {called} or this? {what_happened(old.event)}"
            do = f"write the time of day in both; if the {called} came first: {do}"
        raise Open(
            Unproven(
                cause=old.cause,
                place=latest.date.place,
                message=message,
                do=do,
                related=(Related(old.event.place, what_happened(old.event)),),
                mind=mind,
                record=kind if old.cause == "stale" else None,
            )
        )

    def failed(
        self, kind: str, records: Iterable[D], judge: Callable[[D], Outcome], at: str | None = None
    ) -> Finding | None:
        """What the last failed test says, where no later one of its kind has passed; None where none stands failed.

        ``judge`` answers for one record by itself: a finding where it failed, clear where it passed. Work since then
        ends what a good record proves, and never takes a bad one away. One dated after the day judged at proves
        nothing, and counts where it failed.
        """
        records = tuple(records)
        failure = last_failure(records, judge, self.judged_on)
        if failure is None:
            return None
        record, told = failure[0], replace(failure[1], record=failure[1].record or kind)
        self._standing.append(record)
        if record.date.value.date > self.judged_on:
            return failed_ahead(record, told, self.judged_on)
        taken = self.so_far(records)
        old = self.outdated(kind, record, at)
        tied = any(one is not record and one.date.value.after(record.date.value) is None for one in taken)
        if record is taken[-1] and old is None and not tied:
            return told
        return not_passed_since(kind, record, told, old, tied)

    def stands_failed(self, record: Dated) -> bool:
        """Whether a rule was told that this record failed, and none passed since. Whole for rules of each record."""
        return any(failed is record for failed in self._standing)

    def tested(
        self,
        kind: str,
        records: Iterable[D],
        judge: Callable[[D], Outcome],
        do: str,
        at: str | None = None,
        mind: str | None = None,
        says: Callable[[D], object] | None = None,
    ) -> Outcome:
        """As the last failed test says, else as ``judge`` says of the latest that still speaks.

        Ends the rule as unproven where none failed and none speaks.
        """
        taken = tuple(records)
        return self.failed(kind, taken, judge, at) or judge(self.freshest(kind, taken, do, at, mind=mind, says=says))

    def work_on(self, kind: str, at: str | None = None) -> LogEntry | None:
        """The last entry of the logbook that ends records of the kind, whether or not there is one; else None.

        What stands in the manifest without a date is taken as written before it. An entry dated after the day judged
        at counts.
        """
        rows = self.ended_by(kind)
        work = [entry for entry in self.aircraft.logbook if any(touches(entry, row, at) for row in rows)]
        return max(work, key=lambda entry: (*entry.date.value.latest, what_happened(entry)), default=None)

    def deferrable(self, deferral: Deferral) -> tuple[Result, ...]:
        """The findings that the deferral names and that may be deferred, however long it runs or ran."""
        return tuple(entry.result for entry in deferred(self.results, (deferral,), dt.date.min, math.inf))


def _key(function: Callable[..., object], every: tuple[object, ...], names: tuple[str, ...]) -> tuple[object, ...]:
    """Of a computation: equal texts and numbers of one type are one, of anything else only the object itself."""
    told = [(type(one), one) if isinstance(one, (str, int, float)) else id(one) for one in every]
    return (function, names, *told)


def _pasted(kind: str, record: Dated, source: Dated, do: str, mind: str | None) -> Unproven:
    called = named(kind)
    return Unproven(
        cause="uncertain",
        place=record.date.place,
        message=f"the {called} of {record.date.value} has the readings of that of {source.date.value}",
        do=do,
        evidence="copied readings vouch for nothing since",
        related=(Related(source.date.place, f"the {called} that has them first"),),
        mind=mind,
        record=kind,
    )


def _which_is_later(called: str, one: Dated, other: Dated, do: str, mind: str | None) -> Unproven:
    day = one.date.value.date
    return Unproven(
        cause="order-open",
        place=one.date.place,
        message=f"which {called} of {day} came last is not recorded",
        do=f"write the time of day in both, or repeat it: {do}",
        evidence=f"one is dated {one.date.value}, another {other.date.value}",
        related=(Related(other.date.place, f"the other {called}"),),
        mind=mind,
    )
