"""What a rule may ask besides its subject: figures, limits, fresh records, the day judged at."""

import datetime as dt
from collections.abc import Callable, Iterable, Mapping
from typing import TypeVar

from preflint.aircraft.dated import Dated
from preflint.aircraft.field import Missing
from preflint.aircraft.logbook import Deferral
from preflint.aircraft.model import Aircraft
from preflint.aircraft.moment import Moment
from preflint.engine.freshness import Outdated, events, outdated, what_happened
from preflint.engine.rule_module import Registry
from preflint.engine.rule import Tolerance
from preflint.findings.deferral import deferred
from preflint.findings.outcome import Open, Related, Unproven
from preflint.findings.result import Figure, Result
from preflint.places import Place

D = TypeVar("D", bound=Dated)


class Context:
    """One aircraft on one day. Each figure runs once, the first time that anybody asks for it.

    ``results`` holds the outcomes of all other rules while rules about deferrals are asked, and nothing before.
    """

    def __init__(self, aircraft: Aircraft, judged_on: dt.date, registry: Registry, limits: Mapping[str, float]) -> None:
        self.aircraft = aircraft
        self.judged_on = judged_on
        self.registry = registry
        self.results: tuple[Result, ...] = ()
        self._limits = limits
        self._figures: dict[str, tuple[Figure, ...] | Unproven | Exception] = {}

    def limit(self, tolerance: Tolerance) -> float:
        """The value in force: the policy's, else the tolerance's default."""
        return self._limits.get(tolerance.name, tolerance.default)

    def outdated(self, kind: str, record: Dated, at: str | None = None) -> Outdated | None:
        """What made the record stale, if anything did."""
        return outdated(kind, record, at, events(self.aircraft), self.registry.freshness, Moment(self.judged_on))

    def freshest(
        self,
        kind: str,
        records: Iterable[D],
        how: str,
        at: str | None = None,
        covers: Callable[[D], bool] = lambda _: True,
        precaution: str | None = None,
        says: Callable[[D], object] | None = None,
    ) -> D:
        """The latest record that covers the question and still speaks. Ends the rule as unproven where there is none.

        A record dated after the day judged at does not count. Where several may be the latest (one day, no times)
        it is open which one counts, unless ``says`` tells that they say the same.
        """
        named = kind.replace("_", " ")
        usable = sorted(
            (r for r in records if covers(r) and r.date.value.date <= self.judged_on),
            key=lambda r: r.date.value.latest,
        )
        if not usable:
            place = self.aircraft.records.place
            where = f" of {at}" if at else ""
            raise Open(Unproven("absent", place, f"no {named}{where} is recorded", how, precaution=precaution))
        latest = usable[-1]
        old = self.outdated(kind, latest, at)
        if old is None:
            for other in usable[:-1]:
                alike = says is not None and says(other) == says(latest)
                if latest.date.value.after(other.date.value) is None and not alike:
                    raise Open(_which_is_later(named, latest, other, how, precaution))
            return latest
        if old.cause == "stale":
            message = f"the {named} of {latest.date.value} is older than this: {what_happened(old.event)}"
        else:
            day, event = latest.date.value.date, what_happened(old.event)
            message = f"which came first on {day}, the {named} or this, is not recorded: {event}"
            how = f"write the time of day in both entries; if the {named} came first: {how}"
        raise Open(
            Unproven(
                old.cause,
                latest.date.place,
                message,
                how,
                "",
                (Related(old.event.place, what_happened(old.event)),),
                precaution,
            )
        )

    def deferrable(self, deferral: Deferral) -> tuple[Result, ...]:
        """The findings that the deferral names and that may be deferred, whether or not it has run out."""
        return tuple(entry.result for entry in deferred(self.results, (deferral,), dt.date.min))

    def figures(self, source: str) -> tuple[Figure, ...]:
        """All that a figure source gives. Ends the rule as unproven where the source lacks its input."""
        if source not in self._figures:
            self._figures[source] = self._compute(source)
        known = self._figures[source]
        if isinstance(known, Unproven):
            raise Open(known)
        if isinstance(known, Exception):
            raise known
        return known

    def figure(self, source: str, quantity: str, case: str | None = None, at: str | None = None) -> Figure | None:
        """One of them; None where that case could not be determined."""
        for item in self.figures(source):
            if (item.quantity, item.case, item.at) == (quantity, case, at):
                return item
        return None

    def _compute(self, source: str) -> tuple[Figure, ...] | Unproven | Exception:
        found = next((f for f in self.registry.figures if f.id == source), None)
        if found is None:
            return LookupError(f"no figure source {source}")
        try:
            return tuple(found.compute(self))
        except Open as end:
            return end.unproven
        except Missing as end:
            return missing(end)
        except Exception as failure:  # a figure that fails must not take the others along
            return failure


def _which_is_later(named: str, one: Dated, other: Dated, how: str, precaution: str | None) -> Unproven:
    day = one.date.value.date
    return Unproven(
        "order-open",
        one.date.place,
        f"which {named} of {day} came last is not recorded, and the last one counts",
        f"write the time of day in both entries, or repeat it: {how}",
        f"one is dated {one.date.value}, another {other.date.value}",
        (Related(other.date.place, f"the other {named}"),),
        precaution,
    )


def missing(end: Missing) -> Unproven:
    """A needed field that nobody recorded."""
    absent = end.absent
    return Unproven("absent", absent.place, f"{absent.what} is not recorded", absent.how, precaution=absent.precaution)


def unproven(place: Place, message: str, how: str, precaution: str | None = None) -> Open:
    """For ``raise unproven(...)``: what is missing, how to learn it, and what to mind if not what the rule says."""
    return Open(Unproven("absent", place, message, how, precaution=precaution))
