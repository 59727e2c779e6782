"""Packs: their cells against the whole; with what they sag and what a recharge says."""

import math

from preflint.api import (
    CAUTION,
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
from preflint.compute.calibration import Instrument
from preflint.compute.decision import t_factor, u_rectangular

from ..limits import VOLTMETER_FLOOR
from ..meter import instrument
from .cells import cells_of, last_digit

CELL_SUM = Tolerance(
    "cell_sum_percent",
    "%",
    1.0,
    "lower",
    "common practice, no source",
    "the most that an instrument may explain of a difference between cells and pack, for it to tell anything",
)


@rule(
    "power_sensing/cell-sum",
    each="pack",
    severity=CAUTION,
    job=Job.MECHANICAL,
    precaution=PACK_UNPLUGGED,
    source="series cells: their voltages add up; the instrument's accuracy as recorded, after GUM 4.3.7",
    tolerances=(CELL_SUM, VOLTMETER_FLOOR),
)
def cell_sum(pack: fitted.Pack, on: Context) -> Outcome:
    """Do the cells add up to the pack?

    Cells in series add up. Where they do not, a contact of the balance plug is poor or a reading is wrong,
    and a charger that trusts the plug overcharges a cell.

    Reasoning: the latest record of this pack's cells, with ``pack_v`` of the same minute, by one instrument.
    Cells and pack are read in different ranges of it. Their errors share a part (the instrument's own reference,
    which cancels in the difference) and differ by another (each range's divider); how much of each, no manual
    says. They are taken as independent, which is the most that the difference can owe to them: the accuracy a
    of the record enters as a/√3 once for all cells together and once for the pack, and q/√12 for the last digit
    of every reading. U is 1.96 times these in squares. Found if the difference is larger than U. Clear if it is
    not, and U is at most ``cell_sum_percent`` of the pack's voltage; an instrument that would explain more
    cannot tell. Where no cells and pack voltage are recorded together it is not asked.

    Fails:

        packs: [{label: A1, chemistry: lipo, cells: 3}]
        records:
          cell_voltages:
            - {date: 2026-04-18, pack: A1, cells_v: [3.85, 3.84, 3.62], pack_v: 11.55,
               reference: {instrument: meter, accuracy_percent: 0.5, resolution_v: 0.01}}

    Passes: the same with

        records:
          cell_voltages:
            - {date: 2026-04-18, pack: A1, cells_v: [3.85, 3.84, 3.85], pack_v: 11.55,
               reference: {instrument: meter, accuracy_percent: 0.5, resolution_v: 0.01}}

    Not checked: the spread between the cells, and whether the pack had rested.
    """
    of_pack = [record for record in cells_of(pack, on) if isinstance(record.pack_v, Known)]
    if not on.so_far(of_pack):
        return NotApplicable("no voltages of its cells and of the whole pack are recorded together")
    how = "read every cell and the whole pack again, with one instrument"
    return on.tested("cell_voltages", of_pack, lambda record: _added_up(record, pack, on), how, mind=PACK_UNPLUGGED)


def _added_up(record: records.CellVoltages, pack: fitted.Pack, on: Context) -> Outcome:
    """What the cells of one record show by themselves."""
    whole, cells = need(record.pack_v), record.cells_v.value
    if isinstance(pack.cells, Known) and len(cells) != pack.cells.value:
        return NotApplicable(f"{len(cells)} cells are recorded, not {pack.cells.value}: see cell-count")
    meter = instrument(record.reference, "v", last_digit([*cells, whole.value]), on.limit(VOLTMETER_FLOOR))
    total = math.fsum(cells)
    difference = total - whole.value
    expanded = t_factor(math.inf) * _u_of_difference(meter, len(cells), total, whole.value)
    evidence = (
        f"{' + '.join(f'{volts:.2f}' for volts in cells)} = {total:.2f} V, the whole pack {whole.value:.2f} V "
        f"on {record.date.value}: difference {difference:+.2f} V, of which the instrument explains "
        f"{expanded:.2f} V (95 %)"
    )
    related = (Related(record.cells_v.place, f"{len(cells)} cells, {total:.2f} V together"),)
    if abs(difference) <= expanded:
        if expanded <= on.limit(CELL_SUM) / 100 * whole.value:
            return Clear(evidence)
        return Unproven(
            cause="uncertain",
            place=whole.place,
            message=f"the cells add up to {total:.2f} V, the pack reads {whole.value:.2f} V: too uncertain to tell",
            do="read every cell and the whole pack again with a better instrument",
            evidence=f"one range of the instrument may differ from the other; {evidence}",
            related=related,
        )
    return Finding(
        place=whole.place,
        message=f"the cells add up to {total:.2f} V, {abs(difference):.2f} V {'more' if difference > 0 else 'less'} "
        "than the whole pack",
        evidence=evidence,
        do="read every cell and the whole pack again; if it stays, look at the contacts of the balance plug",
        related=related,
    )


def _u_of_difference(meter: Instrument, cells: int, total_v: float, whole_v: float) -> float:
    """Between the cells' sum and the whole pack, which the instrument reads in two ranges, each with its own error."""
    share = meter.accuracy_percent / 100
    return math.hypot(
        u_rectangular(share * total_v),
        u_rectangular(share * whole_v),
        u_rectangular(meter.accuracy_absolute * cells),
        u_rectangular(meter.accuracy_absolute),
        meter.resolution / math.sqrt(12) * math.sqrt(cells + 1),
    )
