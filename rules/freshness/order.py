"""The order of things: entries from the future, and current before interference."""

from preflint.api import (
    ANY_LOADED_RUN,
    CAUTION,
    Aircraft,
    Clear,
    Context,
    Finding,
    Job,
    Known,
    NotApplicable,
    NotFitted,
    Outcome,
    Related,
    Unproven,
    records,
    rule,
    what_happened,
)

from ..shared.loaded_run import again


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
    done, so what it touches is unproven; a record from the future proves nothing, and a test that failed there has
    failed.

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
                ahead.append((f"{records.named(kind)} of {record.date.value}", record))
    if not ahead:
        return Clear(f"nothing is dated after {on.judged_on}")
    ahead.sort(key=lambda item: (*item[1].date.value.latest, item[0]))
    named = ", ".join(f"{words} (line {entry.date.place.line})" for words, entry in ahead)
    return Finding(
        place=ahead[0][1].date.place,
        message=f"dated after {on.judged_on}, the day judged at: {named}",
        evidence="work from the future counts as done, a failed test as failed; a good record there proves nothing",
        do="correct the date, or take the entry out until it is done",
        related=tuple(Related(entry.date.place, words) for words, entry in ahead[1:]),
    )


@rule(
    "freshness/current-before-interference",
    each="aircraft",
    severity=CAUTION,
    job=Job.LOAD,
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
            record="current_comparison",
        )
    if run.date.value.after(current.date.value):
        return Clear(f"interference run {run.date.value}, after the current comparison of {current.date.value}")
    then, now = run.in_force.sensor_mv_per_a, _scale_now(aircraft)
    scales = (then.value, now.value) if isinstance(then, Known) and isinstance(now, Known) else None
    if scales and scales[0] == scales[1]:
        return Clear(
            f"interference run {run.date.value}, current comparison {current.date.value}; sensor_mv_per_a "
            f"{scales[0]:g} was in force during the run and is installed now"
        )
    return _not_after(run, current, scales)


def _not_after(
    run: records.InterferenceRun, current: records.CurrentComparison, scales: tuple[float, float] | None
) -> Finding | Unproven:
    related = (Related(current.date.place, f"current comparison of {current.date.value}"),)
    if run.date.value.after(current.date.value) is None:
        return Unproven(
            cause="order-open",
            place=run.date.place,
            message=f"which came first on {run.date.value.date}, the interference run or the current comparison?",
            do="write the time of day in both; if the interference run came first, log it again",
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
        record="interference_run",
    )


def _scale_now(aircraft: Aircraft) -> Known[float] | None:
    sensing = aircraft.power_sensing
    scale = sensing.value.sensor_mv_per_a if isinstance(sensing, Known) else None
    return scale if isinstance(scale, Known) else None
