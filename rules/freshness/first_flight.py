"""Is the next flight the first one, or the first after work?"""

from collections.abc import Sequence

from preflint.api import (
    ADVISORY,
    AFTER_FLIGHT,
    WHOLE_AIRCRAFT,
    Aircraft,
    Clear,
    Context,
    Finding,
    Job,
    Known,
    Outcome,
    Place,
    Related,
    events,
    logbook,
    records,
    rule,
    what_happened,
)

from ..shared.flights import flights, looks_after_flight

_NO_WORK = frozenset({"flown", "stored"})

FIRST_FLIGHT = (
    "Open ground, everyone behind the pilot, low and short; pack unplugged before you touch a prop, a nut or a "
    "motor. Local rules and site officers come first."
)


@rule(
    "freshness/first-flight",
    each="aircraft",
    severity=ADVISORY,
    job=Job.HOVER,
    precaution=FIRST_FLIGHT,
    source="common practice, no source (test flight after maintenance)",
)
def first_flight(aircraft: Aircraft, on: Context) -> Outcome:
    """Is the next flight the first one, or the first after work?

    What is wrong after work shows in the first minute: a hot motor, a nut that walks, a drift. So the first
    flight is a low hover, with a look before and after. Before: what stands under rotors has no date, and work may
    have changed a prop or a nut since. The logbook and the records tell: work, a mishap or a run in the inverted
    rig (every nut was off) since the last flight, or no flight at all. A flight is an entry `flown`, a hover or
    any record taken from a hover. On one day without times of day it is not counted as later. Having flown is not
    having looked: it ends with an `after_flight_look` that is later than the work.

    Fails:

        logbook:
          - {date: 2026-05-01, kind: flown}
          - {date: 2026-05-09, kind: replaced, part: motor, at: rear-left}

    Passes:

        logbook:
          - {date: 2026-05-09, kind: replaced, part: motor, at: rear-left}
        records:
          after_flight_look: [{date: 2026-05-10, motors: {others: warm}, nuts_moved: []}]

    It does not judge the work itself, nor what that look found: after_flight/hot-motor and nut-moved do.
    """
    flown = on.so_far(flights(aircraft))
    if not flown:
        message = "this is a maiden flight: no flight is in the logbook and no hover on record"
        return _reminder(aircraft.about.place, message, "no entry `flown`, no hover", ())
    last, looks = flown[-1], on.so_far(looks_after_flight(aircraft))
    work = [event for event in events(aircraft) if _is_work(event)]
    if looks and all(_any_after(event, looks) for event in work):
        return Clear(f"looked at on {looks[-1].date.value} after a flight, after all work in the logbook")
    since = [event for event in work if not _any_after(event, flown)]
    if not since:
        return _look(last)
    since.sort(key=lambda event: (*event.date.value.latest, what_happened(event)))
    done = ", ".join(f"{what_happened(event)} (line {event.date.place.line})" for event in since)
    more = f" and {len(since) - 1} more" if len(since) > 1 else ""
    mishap = any(isinstance(one, logbook.LogEntry) and one.kind.value in WHOLE_AIRCRAFT for one in since)
    return _reminder(
        since[-1].date.place,
        f"this is the first flight after {'a mishap' if mishap else 'work'}: {what_happened(since[-1])}{more}",
        f"last flown on {last.date.value}; since then {done}",
        (Related(last.date.place, f"flown on {last.date.value}"),),
    )


def _is_work(event: records.Dated) -> bool:
    if not isinstance(event, logbook.LogEntry):
        return True
    touched_nothing = isinstance(event.touches, Known) and not event.touches.value
    return event.kind.value not in _NO_WORK and not (event.kind.value == "settings-changed" and touched_nothing)


def _any_after(work: records.Dated, later: Sequence[records.Dated]) -> bool:
    return any(one.date.value.after(work.date.value) for one in later)


def _look(flight: records.Dated) -> Finding:
    """It has flown, and nobody wrote down what the flight showed."""
    return Finding(
        place=flight.date.place,
        message=f"no look after the flight of {flight.date.value} is recorded",
        evidence="what is wrong after work shows in the first minutes of flight: a hot motor, a nut that walks",
        do="feel every motor and every nut after the next flight; write an after_flight_look",
        mind=AFTER_FLIGHT,
        record="after_flight_look",
    )


def _reminder(place: Place, message: str, evidence: str, related: tuple[Related, ...]) -> Finding:
    return Finding(
        place=place,
        message=message,
        evidence=evidence,
        do="look at every prop: motor of its own hand, domed side up, nut tight; hover low and short; land if a "
        "motor is hot or it drifts; feel every nut and motor; write an after_flight_look",
        related=related,
        record="after_flight_look",
    )
