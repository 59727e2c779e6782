"""Was the polarity measured after something was soldered into the power leads?"""

from collections.abc import Iterator

from preflint.api import (
    NO_GO,
    PACK_UNPLUGGED,
    Aircraft,
    Clear,
    Context,
    Finding,
    Job,
    Known,
    NotApplicable,
    Outcome,
    Precaution,
    Related,
    Unproven,
    need,
    records,
    rule,
    what_happened,
)

_PLUGGED_IN = frozenset({Job.PACK_IN, Job.PROPS_OFF, Job.LOAD, Job.HOVER})


@rule(
    "packs/polarity",
    each="aircraft",
    severity=NO_GO,
    job=Job.MECHANICAL,
    precaution=PACK_UNPLUGGED,
    source="common practice, no source (polarity and continuity are measured after soldering, before plugging in)",
)
def polarity(aircraft: Aircraft, on: Context) -> Outcome:
    """After soldering at the power leads: is plus on plus, and nothing short?

    Exchanged leads burn every controller in the moment the pack goes in, and a short burns the pack, beside the hand
    that plugs it in.

    Reasoning: the latest polarity_check. Found where plus and minus are exchanged, one leads nowhere, or they are
    short; one that failed stands until a later one passes. It is asked for once a power lead, a plug of a pack, power
    sensor, regulator or controller was fitted, replaced, removed or rewired, before the next pack goes in. Where a
    record was taken with the pack in since, or the aircraft was flown, the pack itself has shown it.

    Fails:

        records:
          polarity_check: [{date: 2026-05-20, polarity_right: false, shorted: false}]

    Passes: the same with

        records:
          polarity_check: [{date: 2026-05-20, polarity_right: true, shorted: false}]

    It does not check how well a joint is soldered, nor the polarity of what hangs on a regulator.
    """
    checks = aircraft.records.polarity_check
    if failed := on.failed("polarity_check", checks, _measured):
        return failed
    work = on.work_on("polarity_check")
    latest = on.latest(checks)
    if latest is not None and on.speaks("polarity_check", latest):
        return _measured(latest)
    if work is None:
        return NotApplicable("no work at the power leads is in the logbook")
    for event in _plugged_in(aircraft, on):
        if event.date.value.after(work.date.value):
            return Clear(f"the pack was in on {event.date.value}, after this: {what_happened(work)}")
    return Unproven(
        place=work.place,
        message=f"polarity was not measured since this: {what_happened(work)}",
        do=f"{records.KINDS['polarity_check'].take}, before a pack is plugged in",
        related=(Related(latest.date.place, "the polarity check before it"),) if latest else (),
        cause="stale" if latest else "absent",
        record="polarity_check",
    )


def _plugged_in(aircraft: Aircraft, on: Context) -> Iterator[records.Dated]:
    """Flights, and the records that are taken with the pack in; up to the day judged at."""
    yield from on.so_far(entry for entry in aircraft.logbook if entry.kind.value == "flown")
    for kind, said in records.KINDS.items():
        if Precaution.of(said.mind).job in _PLUGGED_IN:
            yield from on.so_far(aircraft.records.of_kind(kind))


def _measured(check: records.PolarityCheck) -> Outcome:
    """What one check shows by itself."""
    right, shorted = check.polarity_right, check.shorted
    if isinstance(right, Known) and not right.value:
        return _wrong(check, right, "plus and minus are exchanged, or one leads nowhere")
    if isinstance(shorted, Known) and shorted.value:
        return _wrong(check, shorted, "plus and minus are short")
    need(right)
    need(shorted)
    return Clear(f"polarity check of {check.date.value}: plus on plus, no short")


def _wrong(check: records.PolarityCheck, seen: Known[bool], message: str) -> Finding:
    return Finding(
        place=seen.place,
        message=message,
        evidence=f"polarity check of {check.date.value}",
        do="plug nothing in; take the joint apart, solder and insulate it anew; write another polarity_check",
        record="polarity_check",
    )
