"""The order of things: entries from the future, current before interference, the first flight after work."""

from collections.abc import Sequence

from preflint.api import (
    ADVISORY,
    ANY_LOADED_RUN,
    CAUTION,
    WHOLE_AIRCRAFT,
    Aircraft,
    Clear,
    Context,
    Finding,
    Job,
    Known,
    NotApplicable,
    NotFitted,
    Outcome,
    Place,
    Related,
    Unproven,
    events,
    logbook,
    records,
    rule,
    what_happened,
)

from ..shared.loaded_run import again

_NO_WORK = frozenset({"flown", "stored"})

FIRST_FLIGHT = (
    "Open ground, everyone behind the pilot, low and short; pack unplugged before you touch a prop, a nut or a "
    "motor. Local rules and site officers come first."
)


@rule(
    "freshness/future-entry",
    each="aircraft",
    severity=CAUTION,
    job=Job.RECORD,
    precaution="Pack unplugged while it is not known what was done to the aircraft.",
    source="common practice, no source",
)
def future_entry(aircraft: Aircraft, on: Context) -> Outcome:
    """Is anything dated after the day judged at?

    A date in the future is a slip of the pen, or a plan written down as done. Work from the future counts as
    done, so what it touches is unproven; a record from the future does not count at all.

    The fragments are judged on 2026-05-21.

    Fails:

        logbook:
          - {date: 2026-06-09, kind: replaced, part: motor, at: rear-left}

    Passes:

        logbook:
          - {date: 2026-05-09, kind: replaced, part: motor, at: rear-left}

    It does not check that a date in the past is the right one.
    """
    ahead: list[tuple[str, records.Dated]] = [
        (what_happened(entry), entry) for entry in aircraft.logbook if entry.date.value.date > on.judged_on
    ]
    for kind in aircraft.records.kinds():
        for record in aircraft.records.of_kind(kind):
            if record.date.value.date > on.judged_on:
                ahead.append((f"{kind.replace('_', ' ')} of {record.date.value}", record))
    if not ahead:
        return Clear(f"nothing is dated after {on.judged_on}")
    ahead.sort(key=lambda item: (*item[1].date.value.latest, item[0]))
    named = ", ".join(f"{words} (line {entry.date.place.line})" for words, entry in ahead)
    return Finding(
        place=ahead[0][1].date.place,
        message=f"dated after {on.judged_on}, the day judged at: {named}",
        evidence="work from the future counts as done, and a record from the future does not count",
        do="correct the date, or take the entry out until it is done",
        related=tuple(Related(entry.date.place, words) for words, entry in ahead[1:]),
    )


@rule(
    "freshness/current-before-interference",
    each="aircraft",
    severity=CAUTION,
    job=Job.INTERFERENCE,
    precaution=ANY_LOADED_RUN,
    source="common practice, no source (interference is measured after the current is calibrated)",
)
def current_before_interference(aircraft: Aircraft, on: Context) -> Outcome:
    """Was the current calibrated before the interference was measured?

    An interference offset is field per *indicated* ampere. Calibrating the current afterwards changes what an
    indicated ampere is, and the offset in the flight controller with it, by the same ratio. A later comparison
    after which nothing was set anew leaves the run as good as it was: the scale in force during the run and
    the one installed say so.

    Fails:

        records:
          interference_run:
            - date: 2026-04-18
              columns: [current_a, field_x_ut, field_y_ut, field_z_ut]
              rows: [[0, 18, 2, 44], [20, 20, 3, 44]]
          current_comparison:
            - {date: 2026-04-19, columns: [indicated_a, reference_a], rows: [[0, 0], [20, 21]]}

    Passes:

        records:
          current_comparison:
            - {date: 2026-04-18, columns: [indicated_a, reference_a], rows: [[0, 0], [20, 21]]}
          interference_run:
            - date: 2026-04-19
              columns: [current_a, field_x_ut, field_y_ut, field_z_ut]
              rows: [[0, 18, 2, 44], [20, 20, 3, 44]]

    It does not check whether the scale is right, nor ask for volts before amperes: the sensor shows amperes
    without them.
    """
    if aircraft.relies_on("compass") is False:
        return NotApplicable("the aircraft does not rely on a compass")
    if isinstance(aircraft.power_sensing, NotFitted):
        return NotApplicable("no power sensing is fitted")
    run = on.latest(aircraft.records.interference_run)
    if run is None:
        return NotApplicable("no interference run is recorded")
    current = on.latest(aircraft.records.current_comparison)
    if current is None:
        return Unproven(
            place=run.date.place,
            message="no current comparison is recorded that the interference run could come after",
            do="compare the indicated current with a clamp meter, then log the interference run again",
        )
    related = (Related(current.date.place, f"current comparison of {current.date.value}"),)
    later = run.date.value.after(current.date.value)
    if later:
        return Clear(f"interference run {run.date.value}, after the current comparison of {current.date.value}")
    then, now = run.in_force.sensor_mv_per_a, _scale_now(aircraft)
    scales = (then.value, now.value) if isinstance(then, Known) and isinstance(now, Known) else None
    if scales and scales[0] == scales[1]:
        return Clear(
            f"interference run {run.date.value}, current comparison {current.date.value}; sensor_mv_per_a "
            f"{scales[0]:g} was in force during the run and is installed now"
        )
    if later is None:
        return Unproven(
            cause="order-open",
            place=run.date.place,
            message=f"which came first on {run.date.value.date}, the interference run or the current comparison, is "
            "not recorded",
            do="write the time of day in both entries; if the interference run came first, log it again",
            evidence=f"interference run {run.date.value}, current comparison {current.date.value}",
            related=related,
            mind=again(run),
        )
    changed = "and the comparison may have changed what one is"
    if scales:
        changed = (
            f"and sensor_mv_per_a was {scales[0]:g} during the run and is {scales[1]:g} now: the offset that the run "
            f"asks for becomes {scales[1] / scales[0]:.4g} times what it was"
        )
    return Finding(
        again=True,
        place=run.date.place,
        message=f"the interference run of {run.date.value} is older than the current comparison of "
        f"{current.date.value}",
        evidence=f"an interference offset is field per indicated ampere, {changed}",
        do="log the interference run again, with the current scale that is set now",
        related=related,
        mind=again(run),
    )


def _scale_now(aircraft: Aircraft) -> Known[float] | None:
    sensing = aircraft.power_sensing
    scale = sensing.value.sensor_mv_per_a if isinstance(sensing, Known) else None
    return scale if isinstance(scale, Known) else None


@rule(
    "freshness/first-flight",
    each="aircraft",
    severity=ADVISORY,
    job=Job.LAST_LOOK,
    precaution=FIRST_FLIGHT,
    source="common practice, no source (test flight after maintenance)",
)
def first_flight(aircraft: Aircraft, on: Context) -> Outcome:
    """Is the next flight the first one, or the first after work?

    What is wrong after work shows in the first minute: a hot motor, a nut that walks, a drift. So the first
    flight is a low hover, with a look before and after. Before: what stands under rotors has no date, and work may
    have changed a prop or a nut since. The logbook and the records tell: work, a mishap or a run in the inverted
    rig (every nut was off) since the last flight, or no flight at all. A flight is an entry `flown`, a hover or
    any record taken from a hover. On one day without times of day it is not counted as later.

    Fails:

        logbook:
          - {date: 2026-05-01, kind: flown}
          - {date: 2026-05-09, kind: replaced, part: motor, at: rear-left}

    Passes:

        logbook:
          - {date: 2026-05-09, kind: replaced, part: motor, at: rear-left}
          - {date: 2026-05-10, kind: flown}

    It does not judge the work itself, nor how long that flight was.
    """
    flights = on.so_far(_flights(aircraft))
    if not flights:
        message = "this is a maiden flight: no flight is in the logbook and no hover on record"
        return _reminder(aircraft.about.place, message, "no entry `flown`, no hover", ())
    last = flights[-1]
    since = [event for event in events(aircraft) if _is_work(event) and not _flown_after(event, flights)]
    if not since:
        return Clear(f"flown on {last.date.value}, after all work in the logbook")
    since.sort(key=lambda event: (*event.date.value.latest, what_happened(event)))
    done = ", ".join(f"{what_happened(event)} (line {event.date.place.line})" for event in since)
    mishap = any(isinstance(one, logbook.LogEntry) and one.kind.value in WHOLE_AIRCRAFT for one in since)
    return _reminder(
        since[-1].date.place,
        f"this is the first flight after {'a mishap' if mishap else 'work'}: {done}",
        f"last flown on {last.date.value}",
        (Related(last.date.place, f"flown on {last.date.value}"),),
    )


def _flights(aircraft: Aircraft) -> list[records.Dated]:
    """Of several on one day, an entry of the logbook comes last."""
    flown: list[records.Dated] = []
    for kind in aircraft.records.kinds():
        for record in aircraft.records.of_kind(kind):
            route = getattr(record, "route", None)
            if isinstance(record, records.Hover) or (isinstance(route, Known) and route.value == "hover-log"):
                flown.append(record)
    return [*flown, *(entry for entry in aircraft.logbook if entry.kind.value == "flown")]


def _is_work(event: records.Dated) -> bool:
    return not isinstance(event, logbook.LogEntry) or event.kind.value not in _NO_WORK


def _flown_after(work: records.Dated, flights: Sequence[records.Dated]) -> bool:
    return any(flight.date.value.after(work.date.value) for flight in flights)


def _reminder(place: Place, message: str, evidence: str, related: tuple[Related, ...]) -> Finding:
    return Finding(
        place=place,
        message=message,
        evidence=evidence,
        do="look at every prop first: on a motor of its own hand, domed side up, nut tight; hover low and short; land "
        "at once if one motor is hot or anything drifts; afterwards, pack unplugged, feel every nut and the "
        "temperature of every motor, then write `flown` in the logbook",
        related=related,
    )
