"""Records and work in the order of time, and what ended which record."""

import datetime as dt
from collections.abc import Iterator

from preflint.aircraft.dated import Dated
from preflint.aircraft.field import Known
from preflint.aircraft.logbook import LogEntry
from preflint.aircraft.records import named
from preflint.findings.inspected import Inspected
from preflint.findings.outcome import Finding, Unproven
from preflint.render.sheet.plotting.canvas import Plot, figure, inline
from preflint.render.sheet.plotting.found import ending


def time_line(one: Inspected) -> Iterator[Plot]:
    """One plot where there is any record: a row for each kind, and a line for each piece of work that ended one."""
    kept = one.aircraft.records
    rows = [(kind, kept.of_kind(kind)) for kind in kept.kinds() if kept.of_kind(kind)]
    if not rows:
        return
    ended = {id(record): _events(one, record) for _, records in rows for record in records}
    work = [entry for entry in one.aircraft.logbook if entry.kind.value != "flown"]
    flown = [entry for entry in one.aircraft.logbook if entry.kind.value == "flown"]
    drawn = figure(1.1 + 0.16 * (len(rows) + 2))
    on = drawn.add_subplot()
    open_ones = 0
    for y, (_, records) in enumerate(rows):
        over = [record for record in records if ended[id(record)] or ending(one, record)]
        open_ones += len(over)
        for record in over:
            for event in ended[id(record)]:
                x = [_at(record), _at(event)]
                on.plot(x, [y, y], color="black", marker="x", markevery=[1], linewidth=0.8).pop().set_gid(f"until-{y}")
        for name, face, points in (
            ("record", "black", [record for record in records if record not in over]),
            ("ended", "white", over),
        ):
            if points:
                x = [_at(record) for record in points]
                (dots,) = on.plot(x, [y] * len(x), linestyle="none", marker="o", color="black", markerfacecolor=face)
                dots.set_gid(f"{name}-{y}")
    for y, name, entries, marker in ((len(rows), "work", work, "v"), (len(rows) + 1, "flown", flown, "|")):
        if entries:
            x = [_at(entry) for entry in entries]
            (dots,) = on.plot(x, [y] * len(x), linestyle="none", marker=marker, color="black", markersize=5)
            dots.set_gid(name)
    for day in {_at(entry) for entry in work}:
        on.axvline(day, color="0.4", linestyle=":", linewidth=0.8)
    on.set_yticks(range(len(rows) + 2), [*(named(kind) for kind, _ in rows), "work", "flights"])
    on.set_ylim(len(rows) + 1.6, -0.6)
    on.margins(x=0.06)
    on.grid(axis="y", color="0.9", linewidth=0.4)
    days = _days(on.dataLim.x0, on.dataLim.x1)
    on.set_xticks([day.toordinal() for day in days], [day.isoformat() for day in days])
    on.set_xlabel("Date")
    told = dict.fromkeys(
        f"{_called(event)} ended the {named(kind)} of {record.date.value}"
        for kind, records in rows for record in records for event in ended[id(record)]
    )  # fmt: skip
    said = (
        f"{sum(len(records) for _, records in rows)} records: {open_ones} no longer count (drawn open)"
        + (f"; {'; '.join(told)}" if told else "")
        + "."
    )
    yield Plot("Records and work in time", inline(drawn, "plot-time", said), said)


def _events(one: Inspected, record: Dated) -> list[LogEntry | Dated]:
    """What ended the record, by the answers of rules: each names its place."""
    places = [
        related.place
        for result in one.results
        if isinstance(result.outcome, Finding | Unproven) and result.outcome.place == record.date.place
        for related in result.outcome.related
    ]
    kept = one.aircraft.records
    every = (*one.aircraft.logbook, *(other for kind in kept.kinds() for other in kept.of_kind(kind)))
    return [event for event in every if event is not record and event.place in places]


def _called(event: LogEntry | Dated) -> str:
    if not isinstance(event, LogEntry):
        return f"props in the inverted rig on {event.date.value}"
    part = f"{event.part.value} " if isinstance(event.part, Known) else ""
    return f"{part}{event.kind.value} on {event.date.value}"


def _at(dated: Dated) -> float:
    """Days of the calendar; one without a time of day counts as its noon."""
    time = dated.date.value.time or dt.time(12)
    return dated.date.value.date.toordinal() + (time.hour + time.minute / 60) / 24


def _days(first: float, last: float) -> list[dt.date]:
    """At most three days from the first to the last, evenly."""
    ends = int(first), int(last)
    return [dt.date.fromordinal(day) for day in sorted({ends[0], sum(ends) // 2, ends[1]})]
