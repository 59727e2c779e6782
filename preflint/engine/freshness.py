"""Is a record still true? What was done since it was taken decides, by rows of data that packs give."""

from collections.abc import Iterable
from typing import Literal

from preflint.aircraft.dated import Dated
from preflint.aircraft.field import Absent, Known
from preflint.aircraft.layouts import arm_of
from preflint.aircraft.logbook import LogEntry
from preflint.aircraft.model import Aircraft
from preflint.aircraft.moment import Moment
from preflint.aircraft.words import SHAKEN
from preflint.frozen import dataclass


@dataclass(frozen=True, slots=True)
class Staling:
    """What makes records of one kind stale: work of these kinds on this part (``any``: whatever the part)."""

    record: str
    part: str
    work: frozenset[str]
    per_rotor: bool  # the record speaks for single rotors, and so does the work
    settings: frozenset[str] | None = None  # those whose change ends it, where the entry says what it touched


# What shakes the whole aircraft: a part or position in such an entry says what was seen, not what was spared.
WHOLE_AIRCRAFT = frozenset(SHAKEN)

# The part of a row that is no part but a later record; its kinds of work are what that record was taken in.
LATER_RECORD = "record"

_INVERTED = "inverted-load"

# By these a record can be converted from the settings that were in force to those of today.
_IN_FORCE = {"voltage-scale": ("divider_ratio",), "current-scale": ("sensor_mv_per_a", "zero_mv")}


@dataclass(frozen=True, slots=True)
class Outdated:
    """``record`` no longer speaks (stale), or the order of it and ``event`` is not known (order-open)."""

    kind: str
    record: Dated
    event: LogEntry | Dated
    cause: Literal["stale", "order-open"]
    future: bool = False  # the event is dated after the day judged at


def events(aircraft: Aircraft) -> tuple[LogEntry | Dated, ...]:
    """All that may make a record stale, in order: the logbook, and the records taken in the inverted rig."""
    kinds = aircraft.records.kinds()
    inverted = (r for kind in kinds for r in aircraft.records.of_kind(kind) if taken_in(r) == _INVERTED)
    return tuple(sorted((*aircraft.logbook, *inverted), key=in_order))


def taken_in(record: Dated) -> str | None:
    """``inverted-load`` where the record was taken in that rig, by its route or what was seen; else None."""
    for said in (getattr(record, "route", None), getattr(record, "rig", None)):
        if isinstance(said, Known) and said.value == _INVERTED:
            return _INVERTED
    return None


def what_happened(event: LogEntry | Dated) -> str:
    """The event in words, for people."""
    if not isinstance(event, LogEntry):
        return f"props in the inverted rig on {event.date.value}"
    if event.kind.value in WHOLE_AIRCRAFT:
        return f"{event.kind.value.replace('-', ' ')} on {event.date.value}"
    part = event.part.value.replace("-", " ") if isinstance(event.part, Known) else "aircraft"
    where = f" at {event.at.value}" if isinstance(event.at, Known) else ""
    if event.kind.value == "firmware":
        return f"new firmware in the {part}{where} on {event.date.value}"
    return f"{part} {event.kind.value.replace('-', ' ')}{where} on {event.date.value}"


def touches(event: LogEntry | Dated, row: Staling, at: str | None) -> bool:
    """Whether the row names the event, and it concerns the rotor asked about (all, where it names none).

    Changed settings end what hangs on them, whatever part the entry names.
    """
    if not isinstance(event, LogEntry):
        return row.part == LATER_RECORD and taken_in(event) in row.work
    if row.part == LATER_RECORD or event.kind.value not in row.work:
        return False
    if event.kind.value in WHOLE_AIRCRAFT:
        return True
    if not settings_of(event, row):
        return False
    # Which settings were changed says more than the part that people think they are kept in.
    told = event.kind.value == "settings-changed" and row.settings is not None and isinstance(event.touches, Known)
    if not told and isinstance(event.part, Known) and row.part not in ("any", event.part.value):
        return False
    return at is None or not row.per_rotor or not isinstance(event.at, Known) or event.at.value in (at, arm_of(at))


def settings_of(event: LogEntry, row: Staling) -> frozenset[str]:
    """What the event changed of the settings that the row names; all that it may have where nobody wrote it."""
    if event.kind.value != "settings-changed" or isinstance(event.touches, Absent):
        return row.settings or frozenset({"any"})
    touched = frozenset(word.value for word in event.touches.value)
    return touched if row.settings is None else touched & row.settings


def converted(record: Dated, event: LogEntry | Dated, row: Staling) -> bool:
    """Whether the record holds what was in force of all settings that the event is known to have changed."""
    if not isinstance(event, LogEntry) or isinstance(event.touches, Absent) or event.kind.value != "settings-changed":
        return False
    in_force = getattr(record, "in_force", None)
    return all(
        word in _IN_FORCE and all(isinstance(getattr(in_force, name, None), Known) for name in _IN_FORCE[word])
        for word in settings_of(event, row)
    )


def outdated(
    kind: str,
    record: Dated,
    at: str | None,
    happened: Iterable[LogEntry | Dated],
    rows: Iterable[Staling],
    today: Moment,
) -> Outdated | None:
    """The first event that makes the record stale, else the first whose order is open, else None.

    ``happened`` is what ``events`` gives, ``rows`` are those of the kind. An event dated after ``today`` is never
    ignored: what it touches is stale from the start.
    """
    open_order = None
    for event in happened:
        later = event.date.value.after(record.date.value)
        if later is False or event is record:
            continue
        if later is None and open_order is not None:
            continue
        if any(touches(event, row, at) and not converted(record, event, row) for row in rows):
            future = event.date.value.date > today.date
            found = Outdated(kind, record, event, "stale" if later else "order-open", future)
            if later:
                return found
            open_order = found
    return open_order


def in_order(event: LogEntry | Dated) -> tuple[object, ...]:
    """By date; events of one moment by their words, so that the order written changes nothing."""
    return (*event.date.value.latest, what_happened(event))
