"""What a rule may ask besides its subject: limits, fresh records, what others computed, the day judged at."""

import datetime as dt
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from typing import Any, ParamSpec, TypeVar

from preflint.aircraft.dated import Dated
from preflint.aircraft.logbook import Deferral
from preflint.aircraft.model import Aircraft
from preflint.aircraft.moment import Moment
from preflint.engine.freshness import Outdated, Staling, events, outdated, what_happened
from preflint.findings.deferral import deferred
from preflint.findings.outcome import Open, Related, Unproven
from preflint.findings.result import Result
from preflint.findings.rule_info import RuleInfo, Tolerance

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
    """One aircraft on one day, with all ``rules`` of the run and what ends its records (``freshness``).

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
        self.freshness = freshness
        self.results: tuple[Result, ...] = ()
        self._limits = limits
        self.overstepped: str | None = None  # what the rule asked last read undeclared, even if it caught the error
        self._asking: RuleInfo | None = None
        self._reading: list[dict[str, Tolerance]] = []  # the limits read by each computation under way
        self._kept: dict[tuple[object, ...], _Kept] = {}

    @contextmanager
    def asked_by(self, rule: RuleInfo) -> Iterator[None]:
        """While the rule is asked, only limits that it declares are given."""
        self._asking, self.overstepped = rule, None
        try:
            yield
        finally:
            self._asking = None

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

    def once(self, function: Callable[P, T], *arguments: P.args, **named: P.kwargs) -> T:
        """``function`` of these arguments, computed once for an aircraft however many rules ask.

        Records and other objects count as the same where they are the same object; numbers and texts where they are
        equal. What it raises is kept, too.
        """
        key = (function, *map(_identity, arguments), *((name, _identity(value)) for name, value in named.items()))
        kept = self._kept.get(key)
        if kept is None:
            kept = self._compute(function, *arguments, **named)
            self._kept[key] = kept
        else:
            for tolerance in kept.limits:
                self.limit(tolerance)
        if isinstance(kept.failure, Open):
            raise Open(kept.failure.unproven)
        if kept.failure is not None:
            raise kept.failure
        given: T = kept.value
        return given

    def _compute(self, function: Callable[P, T], *arguments: P.args, **named: P.kwargs) -> _Kept:
        value, failure, limits = None, None, dict[str, Tolerance]()
        self._reading.append(limits)
        try:
            value = function(*arguments, **named)
        except UndeclaredLimit:
            raise
        except Exception as end:  # kept, so that whoever asks next is told the same
            failure = end
        finally:
            self._reading.pop()
        return _Kept(value, failure, tuple(limits.values()), (*arguments, *named.values()))

    def so_far(self, records: Iterable[D]) -> tuple[D, ...]:
        """Those dated up to the day judged at, in order of their dates; a day without a time counts as its end."""
        past = (record for record in records if record.date.value.date <= self.judged_on)
        return tuple(sorted(past, key=lambda record: record.date.value.latest))

    def latest(self, records: Iterable[D]) -> D | None:
        """The last one up to the day judged at, whether or not it still speaks; None where there is none."""
        return next(reversed(self.so_far(records)), None)

    def outdated(self, kind: str, record: Dated, at: str | None = None) -> Outdated | None:
        """What made the record stale, if anything did."""
        return outdated(kind, record, at, events(self.aircraft), self.freshness, Moment(self.judged_on))

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
        named = kind.replace("_", " ")
        usable = self.so_far(record for record in records if covers(record))
        if not usable:
            where = f" of {at}" if at else ""
            message = f"no {named}{where} is recorded"
            raise Open(Unproven(place=self.aircraft.records.place, message=message, do=do, mind=mind))
        latest = usable[-1]
        old = self.outdated(kind, latest, at)
        if old is None:
            for other in usable[:-1]:
                alike = says is not None and says(other) == says(latest)
                if latest.date.value.after(other.date.value) is None and not alike:
                    raise Open(_which_is_later(named, latest, other, do, mind))
            return latest
        if old.cause == "stale":
            message = f"the {named} of {latest.date.value} is older than this: {what_happened(old.event)}"
        else:
            day, event = latest.date.value.date, what_happened(old.event)
            message = f"which came first on {day}, the {named} or this, is not recorded: {event}"
            do = f"write the time of day in both entries; if the {named} came first: {do}"
        raise Open(
            Unproven(
                cause=old.cause,
                place=latest.date.place,
                message=message,
                do=do,
                related=(Related(old.event.place, what_happened(old.event)),),
                mind=mind,
            )
        )

    def deferrable(self, deferral: Deferral) -> tuple[Result, ...]:
        """The findings that the deferral names and that may be deferred, whether or not it has run out."""
        return tuple(entry.result for entry in deferred(self.results, (deferral,), dt.date.min))


def _identity(value: object) -> object:
    """Equal texts and numbers are one; of anything else only the object itself."""
    return (type(value), value) if isinstance(value, str | int | float | None) else id(value)


def _which_is_later(named: str, one: Dated, other: Dated, do: str, mind: str | None) -> Unproven:
    day = one.date.value.date
    return Unproven(
        cause="order-open",
        place=one.date.place,
        message=f"which {named} of {day} came last is not recorded, and the last one counts",
        do=f"write the time of day in both entries, or repeat it: {do}",
        evidence=f"one is dated {one.date.value}, another {other.date.value}",
        related=(Related(other.date.place, f"the other {named}"),),
        mind=mind,
    )
