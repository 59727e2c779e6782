"""Is a record still true? What was done since it was taken decides, by rows of data that packs give."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Literal

from preflint.aircraft.field import Known
from preflint.aircraft.moment import Moment
from preflint.aircraft.records import Dated, LogEntry
from preflint.engine.pack import Staling

WHOLE_AIRCRAFT = frozenset({"crashed", "hard-landing"})


@dataclass(frozen=True, slots=True)
class Outdated:
    """``record`` no longer speaks (``cause`` stale), or the order of it and ``event`` is not known (order-open)."""

    kind: str
    record: Dated
    event: LogEntry | Dated
    cause: Literal["stale", "order-open"]
    future: bool = False  # the event is dated after the day judged at


def what_happened(event: LogEntry | Dated) -> str:
    """The event in words, for people."""
    if not isinstance(event, LogEntry):
        return f"a later record of {event.date.value}"
    part = event.part.value if isinstance(event.part, Known) else "aircraft"
    where = f" at {event.at.value}" if isinstance(event.at, Known) else ""
    return f"{part} {event.kind.value}{where} on {event.date.value}"


def touches(event: LogEntry, row: Staling, at: str | None) -> bool:
    """Whether the event is one that this row names, and concerns the rotor asked about (all, where it names none)."""
    if event.kind.value not in row.work:
        return False
    if isinstance(event.part, Known):
        if row.part not in ("any", event.part.value):
            return False
    elif event.kind.value not in WHOLE_AIRCRAFT:
        return False
    return at is None or not row.per_rotor or not isinstance(event.at, Known) or event.at.value == at


def outdated(
    kind: str, record: Dated, at: str | None, logbook: Iterable[LogEntry], rows: Iterable[Staling], today: Moment
) -> Outdated | None:
    """The first event that makes the record stale, else the first whose order is open, else None.

    An event dated after ``today`` is never ignored: what it touches is stale from the start.
    """
    return _first(_candidates(kind, record, at, logbook, rows, today))


def _candidates(
    kind: str, record: Dated, at: str | None, logbook: Iterable[LogEntry], rows: Iterable[Staling], today: Moment
) -> Iterator[Outdated]:
    of_kind = [row for row in rows if row.record == kind]
    for event in sorted(logbook, key=lambda entry: entry.date.value.latest):
        if any(touches(event, row, at) for row in of_kind):
            later = event.date.value.after(record.date.value)
            if later is None:
                yield Outdated(kind, record, event, "order-open")
            elif later:
                yield Outdated(kind, record, event, "stale", event.date.value.date > today.date)


def _first(found: Iterable[Outdated]) -> Outdated | None:
    all_found = list(found)
    stale = [item for item in all_found if item.cause == "stale"]
    return (stale or all_found or [None])[0]
