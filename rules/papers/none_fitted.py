"""What is said to be not fitted: are there readings of it all the same?"""

from collections.abc import Sequence

from preflint.api import (
    NO_GO,
    PACK_UNPLUGGED,
    Aircraft,
    Clear,
    Context,
    Job,
    Known,
    NotApplicable,
    NotFitted,
    Outcome,
    Related,
    Unproven,
    records,
    rule,
)


@rule(
    "papers/none-fitted",
    each="aircraft",
    severity=NO_GO,
    job=Job.RECORD,
    precaution=PACK_UNPLUGGED,
    source="common practice, no source",
    needed_for_flight=True,
    shown_by=records.Records,
)
def none_fitted(aircraft: Aircraft, on: Context) -> Outcome:
    """Are there readings of what is said to be not fitted?

    `none` takes a part out of the question: no rule asks about it any more. Written by mistake it hides whatever
    is wrong with a part that is there and is flown by.

    It finds nothing: beside `compass: none` an interference run, heading check or rotation, and beside
    `barometer: none` or `satellite_receiver: none` a check of theirs, leave open which of the two is true, unless the
    logbook says that the part was removed on the day of the latest reading or later. `power_sensing: none` is judged
    by current-scale and voltage-scale; a manifest whose `relies_on` names what is not fitted is not read at all.

    Fails:

        aircraft: {name: Trial, layout: quad-x}
        compass: none
        records:
          heading_check: [{date: 2026-05-20, columns: [true_deg, indicated_deg], rows: [[0, 1], [90, 91]]}]

    Passes: the same with

        logbook:
          - {date: 2026-05-21, kind: removed, part: compass}

    It does not check what nobody wrote down: a part that is fitted and left out.
    """
    told = aircraft.records
    parts: list[tuple[str, object, Sequence[records.Dated]]] = [
        ("compass", aircraft.compass, (*told.interference_run, *told.heading_check, *told.compass_rotation)),
        ("barometer", aircraft.barometer, told.barometer_check),
        ("satellite-receiver", aircraft.satellite_receiver, told.position_check),
    ]
    none = [(part, said, taken) for part, said, taken in parts if isinstance(said, NotFitted)]
    if not none:
        return NotApplicable("nothing that was read from is said to be not fitted")
    for part, said, taken in none:
        record = on.latest(taken)
        if record is not None and not _removed_since(aircraft, part, record):
            return Unproven(
                place=said.place,
                message=f"{part.replace('-', '_')} is none, but its readings of {record.date.value} are recorded",
                do=f"write down the {part.replace('-', ' ')} that is fitted, or its removal in the logbook",
                related=(Related(record.place, f"read from it on {record.date.value}"),),
                on_paper=True,
            )
    named = " and ".join(part.replace("-", "_") for part, _, _ in none)
    return Clear(f"{named}: none, and no readings since it was taken off")


def _removed_since(aircraft: Aircraft, part: str, record: records.Dated) -> bool:
    return any(
        entry.kind.value == "removed"
        and isinstance(entry.part, Known)
        and entry.part.value == part
        and entry.date.value.after(record.date.value) is not False
        for entry in aircraft.logbook
    )
