"""Throttle beside volts, amperes and field: is it in per cent, and is it the throttle?"""

from __future__ import annotations

from preflint.api import (
    NO_GO,
    PACK_UNPLUGGED,
    Clear,
    Context,
    Finding,
    Job,
    Known,
    NotApplicable,
    Outcome,
    Place,
    Table,
    Unproven,
    records,
    rule,
)
from preflint.arrays import np
from preflint.compute.rows import distinct

from ...shared.loaded_run import again
from .implausible import NO_CURRENT_A

# A multirotor neither flies nor loads its motors on so little; common practice, no source.
_NO_PER_CENT = 1.0
_OF_ROTORS = frozenset({"thrust_stand", "rotor_speeds"})  # where an earlier record may speak for another rotor


@rule(
    "power_sensing/throttle",
    each="record",
    severity=NO_GO,
    job=Job.RECORD,
    precaution=PACK_UNPLUGGED,
    source="common practice, no source",
    needed_for_flight=True,
    shown_by=records.Records,
)
def throttle(subject: tuple[str, records.Dated], on: Context) -> Outcome:
    """Is the throttle of a record in per cent, and not a column of amperes?

    Throttle as a fraction of one makes the current at every throttle a hundred times too much or too little; a
    column of amperes that was filled in as throttle, or the other way, compares nothing with nothing.

    Reasoning: of hovers, current comparisons, interference runs, thrust stands and rotor speeds. Found where the
    highest throttle is above 0 and 1 or less: nothing hovers on 1 %. Found where, in every row above 0.5 A, a
    column of amperes has the number of the throttle, in two such rows of different amperes or more; in a single one
    it may be chance, and is left open. Of several records of a kind for the whole aircraft the latest counts.

    Fails:

        records:
          hover: [{date: 2026-05-17, mean_current_a: 15.4, throttle_percent: 0.55}]

    Passes: the same with

        records:
          hover: [{date: 2026-05-17, mean_current_a: 15.4, throttle_percent: 55}]

    It does not check where the throttle was read: at the stick or at the motors.
    """
    kind, record = subject
    if record.date.value.date > on.judged_on:
        return NotApplicable("it is dated after the day judged at")
    found = _throttle(record)
    if found is None:
        return NotApplicable("no throttle is recorded here")
    if kind not in _OF_ROTORS and on.latest(on.aircraft.records.of_kind(kind)) is not record:
        return NotApplicable("a later record of the kind counts")
    highest, place = found
    if 0 < highest <= _NO_PER_CENT:
        return Finding(
            place=place,
            message=f"the throttle of {record.date.value} is written as {highest:g}: throttle is in per cent",
            evidence=f"highest throttle {highest:g} %; nothing flies or loads its motors on {_NO_PER_CENT:g} %",
            do=f"if {highest:g} is a fraction of one, write {100 * highest:g}, and all throttles of the record so",
        )
    if isinstance(record, records.CurrentComparison | records.InterferenceRun) and isinstance(record.table, Known):
        return _not_amperes(record, record.table.value, highest)
    return Clear(f"throttle up to {highest:g} %")


def _throttle(record: records.Dated) -> tuple[float, Place] | None:
    """The highest throttle recorded, in per cent, and where it stands."""
    said = getattr(record, "throttle_percent", None)
    if isinstance(said, Known):
        return said.value, said.place
    if not isinstance(record, records.CurrentComparison | records.InterferenceRun | records.ThrustStand):
        return None
    table = record.table
    if not isinstance(table, Known) or "throttle_percent" not in table.value.columns:
        return None
    percent = table.value.column("throttle_percent")
    row = int(np.argmax(percent))
    return float(percent[row]), table.value.row_place(row)


def _not_amperes(record: records.CurrentComparison | records.InterferenceRun, table: Table, highest: float) -> Outcome:
    percent = table.column("throttle_percent")
    named = [name for name in ("reference_a", "indicated_a", "current_a") if name in table.columns]
    loaded = (percent > 0) & (table.column(named[0]) > NO_CURRENT_A)
    same = [name for name in named if np.any(loaded) and np.array_equal(percent[loaded], table.column(name)[loaded])]
    if not same:
        return Clear(f"throttle up to {highest:g} %, and its numbers are not those of the amperes")
    message = f"throttle_percent and {same[0]} of {record.date.value} hold the same numbers"
    row = int(np.argmax(loaded))
    kind = "current_comparison" if isinstance(record, records.CurrentComparison) else "interference_run"
    if distinct(percent[loaded]).size < 2:
        return Unproven(
            cause="uncertain",
            place=table.row_place(row),
            message=f"{message} in the only row under load: chance, or one column written twice",
            do="add a reading at another throttle",
            mind=again(record),
            record=kind,
        )
    return Finding(
        place=table.row_place(row),
        message=message,
        evidence=f"alike in every one of {int(np.sum(loaded))} rows above {NO_CURRENT_A:g} A",
        do="write the throttle as it was set and the amperes as they were read; if they are not known, read them again",
        mind=again(record),
        record=kind,
    )
