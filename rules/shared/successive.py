"""Two records of one kind, one after the other, and what was done to the aircraft in between."""

from collections.abc import Collection, Iterable
from typing import TypeVar

from preflint.api import Context, logbook, records, touches, what_happened

D = TypeVar("D", bound=records.Dated)

# Of what an instrument or a sensor is good to: by so much it is taken to differ from one day to another, by warmth
# and handling, with nothing wrong. Common practice, no source.
ANEW = 1 / 3


def last_two(on: Context, kind: str, taken: Iterable[D], bridged: Collection[str] = frozenset()) -> tuple[D, D] | str:
    """The two latest records up to the day judged at, earlier first; or why they cannot be compared.

    They cannot where work that ends a record of the kind lies between them, or may: an entry of the same day
    whose order nobody recorded counts. Kinds of work in ``bridged`` are no hindrance, since the caller
    converts what they change.
    """
    named = records.named(kind)
    past = on.so_far(taken)
    if len(past) < 2:
        return f"there is no earlier {named} to compare with"
    earlier, later = past[-2:]
    if work := _between(on, kind, earlier, later, bridged):
        lies = (
            "lies"
            if work.date.value.after(earlier.date.value) and later.date.value.after(work.date.value)
            else "may lie"
        )
        return (
            f"{what_happened(work)} (line {work.place.line}) {lies} between the {named} of {earlier.date.value} "
            f"and that of {later.date.value}"
        )
    return earlier, later


def _between(
    on: Context, kind: str, earlier: records.Dated, later: records.Dated, bridged: Collection[str]
) -> logbook.LogEntry | None:
    rows = on.ended_by(kind)
    return next(
        (
            entry
            for entry in sorted(on.aircraft.logbook, key=lambda entry: entry.date.value.latest)
            if entry.kind.value not in bridged
            and entry.date.value.after(earlier.date.value) is not False
            and later.date.value.after(entry.date.value) is not False
            and any(touches(entry, row, None) for row in rows)
        ),
        None,
    )
