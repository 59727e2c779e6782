"""Full cells: none charged beyond what it bears; and does the meter read what a full cell has?"""

import math

from preflint.api import (
    CAUTION,
    NO_GO,
    PACK_UNPLUGGED,
    Clear,
    Context,
    Finding,
    Job,
    Known,
    NotApplicable,
    Outcome,
    Related,
    Tolerance,
    Unproven,
    fitted,
    need,
    records,
    rule,
)
from preflint.compute.decision import t_factor

from ..draw import CELL_WINDOW_V
from ..limits import VOLTMETER_FLOOR
from ..meter import instrument
from .at_rest import FULL_ABOVE, bearable
from .cells import cells_of, last_digit, perhaps_of, u_of_the_highest

FULL_BELOW = Tolerance(
    "full_cell_below_mv",
    "mV",
    100.0,
    "lower",
    "common practice, no source",
    "how far a cell may read below full charge when it was just charged full; cells settle after charging",
)
HOW = "charge the pack full, unplug it, and read every cell within the hour"


@rule(
    "power_sensing/cell-overcharged",
    each="pack",
    severity=NO_GO,
    job=Job.MECHANICAL,
    precaution=PACK_UNPLUGGED,
    source="common practice, no source (cell voltages of each chemistry)",
    tolerances=(FULL_ABOVE, VOLTMETER_FLOOR),
)
def cell_overcharged(pack: fitted.Pack, on: Context) -> Outcome:
    """Is no cell charged beyond what its chemistry bears?

    A lithium cell that is charged too high is damaged and may burn, on the bench, in the car or in the air, hours
    later, too. It is a no-go, since the pack must not be flown before it is known that only the meter was wrong.

    Reasoning: the latest record of this pack's cells, full or not, or one that names no pack; one that failed stays
    until a later one passes. Full charge is 4.20 V a cell (lipo, li-ion), 4.35 V (lipo-hv, or where no chemistry is
    recorded) or 3.65 V (life). Found if the highest cell lies more than ``full_cell_above_mv`` above it by more than
    U, clear if it lies below by as much, otherwise too uncertain to tell. U is 1.96 times a/√3 of the instrument's
    accuracy, 2 % where none is recorded, and q/√12 of its last digit.

    Fails:

        packs: [{label: A1, chemistry: lipo, cells: 3}]
        records:
          cell_voltages:
            - {date: 2026-04-18, pack: A1, cells_v: [4.37, 4.19, 4.18],
               reference: {instrument: meter, accuracy_percent: 0.5, resolution_v: 0.01}}

    Passes: the same with

        records:
          cell_voltages:
            - {date: 2026-04-18, pack: A1, cells_v: [4.19, 4.19, 4.18],
               reference: {instrument: meter, accuracy_percent: 0.5, resolution_v: 0.01}}

    Not checked: a cell overcharged once and read when it was lower again.
    """
    of_pack = perhaps_of(pack, on)
    if not of_pack:
        return NotApplicable("no cells of this pack are recorded")
    return on.tested("cell_voltages", of_pack, lambda record: bearable(record, pack, on), HOW, mind=PACK_UNPLUGGED)


@rule(
    "power_sensing/full-charge",
    each="pack",
    severity=CAUTION,
    job=Job.MECHANICAL,
    precaution=PACK_UNPLUGGED,
    source="common practice, no source (cell voltages of each chemistry)",
    tolerances=(FULL_ABOVE, FULL_BELOW, VOLTMETER_FLOOR),
)
def full_charge(pack: fitted.Pack, on: Context) -> Outcome:
    """Does a cell that was just charged full read as a full cell does?

    The charger ends at a known voltage, so that a full pack checks the meter by which everything else is
    checked, with no other instrument.

    Reasoning: the latest record of this pack's cells with ``full: true``. Full charge is 4.20 V a cell (lipo,
    li-ion), 4.35 V (lipo-hv) or 3.65 V (life). The highest cell may lie ``full_cell_above_mv`` above it (beyond that
    see cell-overcharged), the lowest ``full_cell_below_mv`` below, since cells settle after charging. U is 1.96 times
    a/√3 of the instrument's accuracy and q/√12 of its last digit: found below by more than U, clear within both
    limits by as much, otherwise too uncertain to tell. Where no cells at full charge are recorded it is not asked.

    Fails:

        packs: [{label: A1, chemistry: lipo, cells: 3}]
        records:
          cell_voltages:
            - {date: 2026-04-18, pack: A1, full: true, cells_v: [4.04, 4.04, 4.03],
               reference: {instrument: meter, accuracy_percent: 0.5, resolution_v: 0.01}}

    Passes: the same with

        records:
          cell_voltages:
            - {date: 2026-04-18, pack: A1, full: true, cells_v: [4.19, 4.19, 4.18],
               reference: {instrument: meter, accuracy_percent: 0.5, resolution_v: 0.01}}

    Not checked: how well the charger knows its voltage, and what a pack loses that stood for days.
    """
    of_pack = [record for record in cells_of(pack, on) if isinstance(record.full, Known) and record.full.value]
    if not of_pack:
        return NotApplicable("no cells of this pack at full charge are recorded")
    return on.tested("cell_voltages", of_pack, lambda record: _charged(record, pack, on), HOW, mind=PACK_UNPLUGGED)


def _charged(record: records.CellVoltages, pack: fitted.Pack, on: Context) -> Outcome:
    """What the cells of one record show by themselves."""
    chemistry = need(pack.chemistry)
    full_v = CELL_WINDOW_V[chemistry.value][1]
    cells = record.cells_v.value
    highest, lowest = max(cells), min(cells)
    meter = instrument(record.reference, "v", last_digit(cells), on.limit(VOLTMETER_FLOOR))
    expanded = t_factor(math.inf) * u_of_the_highest(meter, cells)
    above, below = full_v + on.limit(FULL_ABOVE) / 1000, full_v - on.limit(FULL_BELOW) / 1000
    evidence = (
        f"cells of {lowest:.2f} to {highest:.2f} V on {record.date.value}, each ± {expanded:.3f} V (95 %); a full "
        f"{chemistry.value} cell has {full_v:.2f} V, and may read from {below:.2f} to {above:.2f} V"
    )
    related = (Related(chemistry.place, f"a full {chemistry.value} cell has {full_v:.2f} V"),)
    if highest - expanded > above:
        return NotApplicable("said by power_sensing/cell-overcharged")
    if lowest + expanded < below:
        return Finding(
            place=record.cells_v.place,
            message=f"a cell charged full reads {lowest:.2f} V, {1000 * (full_v - lowest):.0f} mV below full charge",
            evidence=f"the meter reads low, the charger ended early, or the cell does not hold; {evidence}",
            do="read the cells with another meter, and look at the charger's settings and at the pack's age",
            related=related,
        )
    if highest + expanded > above or lowest - expanded < below:
        return Unproven(
            cause="uncertain",
            place=record.cells_v.place,
            message=f"cells charged full read {lowest:.2f} to {highest:.2f} V ± {expanded:.3f} V: "
            "too uncertain to tell",
            do="read the cells again with a better instrument, soon after charging",
            evidence=evidence,
            related=related,
        )
    return Clear(evidence)
