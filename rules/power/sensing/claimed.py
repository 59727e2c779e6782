"""Is an instrument said to be better than such instruments are?"""

from collections.abc import Iterator

from preflint.api import (
    ADVISORY,
    PACK_UNPLUGGED,
    Aircraft,
    Clear,
    Context,
    Finding,
    Job,
    Known,
    NotApplicable,
    Outcome,
    records,
    rule,
)

from ..limits import AMMETER_FLOOR, VOLTMETER_FLOOR
from ..meter import Record, Unit, better_than, has_accuracy, meter_floor


@rule(
    "power_sensing/meter-accuracy",
    each="aircraft",
    severity=ADVISORY,
    job=Job.RECORD,
    precaution=PACK_UNPLUGGED,
    source="common practice, no source (accuracy of meters held in the hand)",
    tolerances=(VOLTMETER_FLOOR, AMMETER_FLOOR),
)
def meter_accuracy(aircraft: Aircraft, on: Context) -> Outcome:
    """Is an instrument said to be better than such instruments are?

    All that is known of the display comes from its comparison with an instrument. One that is said to be better
    than it is makes a doubtful display look certain.

    Reasoning: accuracy_percent with the fixed part, at the highest reading, of the latest comparison of volts and
    of amperes, the latest cell voltages and the latest recharge; no better than
    ``voltmeter_accuracy_floor_percent``, or ``ammeter_accuracy_floor_percent`` for a clamp, an inline meter or a
    charger. What is said to be better is judged with that limit instead.

    Fails:

        records:
          voltage_comparison:
            - {date: 2026-05-16, reference: {instrument: meter, accuracy_percent: 0.02},
               columns: [indicated_v, reference_v], rows: [[15.45, 15.46], [14.44, 14.45]]}

    Passes: the same with

        records:
          voltage_comparison:
            - {date: 2026-05-16, reference: {instrument: meter, accuracy_percent: 0.5},
               columns: [indicated_v, reference_v], rows: [[15.45, 15.46], [14.44, 14.45]]}

    Not checked: whether the instrument is as good as its manual says, and when it was last calibrated.
    """
    known = [one for one in _instruments(on) if has_accuracy(one[0], one[1])]
    if not known:
        return NotApplicable("no accuracy of an instrument is recorded")
    for reference, unit, top in known:
        floor = meter_floor(on, unit)
        claimed = better_than(reference, unit, top, floor)
        if claimed is None:
            continue
        name = reference.instrument.value if isinstance(reference.instrument, Known) else "the instrument"
        return Finding(
            place=claimed.place,
            message=f"{name} is said to be good to {claimed.value:.2g} %: judged here as one of {floor:g} %",
            evidence=f"instruments of this kind are good to {floor:g} % at best",
            do="read the accuracy in the instrument's manual, with its fixed part and for the range used",
        )
    return Clear("no instrument is said to be better than such instruments are")


def _instruments(on: Context) -> Iterator[tuple[records.Reference, Unit, float]]:
    """Of the latest record of each kind: the instrument, what it read, and its highest reading."""
    told = on.aircraft.records
    units: tuple[Unit, Unit] = ("v", "a")
    latest: tuple[Record | None, ...] = (on.latest(told.voltage_comparison), on.latest(told.current_comparison))
    for unit, record in zip(units, latest, strict=True):
        if record is not None and isinstance(record.table, Known):
            yield record.reference, unit, float(record.table.value.column(f"reference_{unit}").max())
    cells, recharge = on.latest(told.cell_voltages), on.latest(told.recharge)
    if cells is not None:
        yield cells.reference, "v", max(cells.cells_v.value)
    if recharge is not None:
        yield recharge.reference, "a", 0.0
