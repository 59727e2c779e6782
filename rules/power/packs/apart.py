"""Do the cells of a pack hold together: a cell that lags behind, and one that is dead?"""

from preflint.api import (
    CAUTION,
    NO_GO,
    PACK_UNPLUGGED,
    Context,
    Job,
    NotApplicable,
    Outcome,
    fitted,
    rule,
)

from ..limits import VOLTMETER_FLOOR
from .at_rest import APART, DEAD, alive, together
from .cells import perhaps_of

HOW = "let the pack rest, unplug it, and read every cell"


@rule(
    "power_sensing/dead-cell",
    each="pack",
    severity=NO_GO,
    job=Job.MECHANICAL,
    precaution=PACK_UNPLUGGED,
    source="common practice, no source (cell voltages of each chemistry)",
    tolerances=(DEAD, VOLTMETER_FLOOR),
)
def dead_cell(pack: fitted.Pack, on: Context) -> Outcome:
    """Is no cell of the pack dead, or emptied below what its chemistry bears?

    The weakest cell ends the flight, whatever the pack shows: under load it falls first, the motors lose their
    voltage in the air, and charged again it may burn.

    Reasoning: the latest record of this pack's cells, or one that names no pack, and one that failed until a later
    one passes. Found if the lowest cell lies more than ``dead_cell_apart_mv`` below the highest by more than U, or
    below the end of discharge of its chemistry (lipo 3.0 V a cell, lipo-hv 3.0 V, li-ion 2.5 V, life 2.5 V; 2.5 V
    where the chemistry is not recorded) by more than its own U. One instrument reads all cells, so its scale cancels
    between two of them: U is 1.96 times √2 of q/√12 of its last digit and of a/√3 of the fixed part of its accuracy.
    Of a single reading U is 1.96 times a/√3 of all its accuracy, 2 % where none is recorded, and q/√12. Clear where
    both are within by as much. Life cells between 3.2 and 3.75 V part when they are just full: that tells nothing.

    Fails:

        packs: [{label: A1, chemistry: lipo, cells: 4}]
        records:
          cell_voltages:
            - {date: 2026-05-16, pack: A1, cells_v: [4.11, 3.21, 4.11, 4.10],
               reference: {instrument: meter, accuracy_percent: 0.5, resolution_v: 0.01}}

    Passes: the same with

        records:
          cell_voltages:
            - {date: 2026-05-16, pack: A1, cells_v: [4.11, 4.10, 4.11, 4.10],
               reference: {instrument: meter, accuracy_percent: 0.5, resolution_v: 0.01}}

    Not checked: what a cell does under load, and one that swells; see sag for the whole pack.
    """
    of_pack = perhaps_of(pack, on)
    if not of_pack:
        return NotApplicable("no cells of this pack are recorded")
    return on.tested("cell_voltages", of_pack, lambda record: alive(record, pack, on), HOW, mind=PACK_UNPLUGGED)


@rule(
    "power_sensing/cells-apart",
    each="pack",
    severity=CAUTION,
    job=Job.MECHANICAL,
    precaution=PACK_UNPLUGGED,
    source="common practice, no source (spread of cells at rest)",
    tolerances=(APART, DEAD),
)
def cells_apart(pack: fitted.Pack, on: Context) -> Outcome:
    """Do the cells of the pack read nearly the same at rest?

    The pack's voltage hides a cell that lags behind. It is empty first, and takes harm first.

    Reasoning: highest less lowest cell of the latest record of this pack's cells, or of one that names no pack.
    Found above ``cells_apart_mv`` by more than U, clear below by as much, otherwise too uncertain to tell. The scale
    of the one instrument cancels: U is 1.96 times √2 of q/√12 of its last digit and of a/√3 of the fixed part of its
    accuracy. Near empty, and life cells near full, good cells part by more (below 3.6 V of lipo and lipo-hv, 3.3 V of
    li-ion, 3.2 V of life, above 3.4 V of life; from memory): cells apart there tell nothing.

    Fails:

        packs: [{label: A1, chemistry: lipo, cells: 4}]
        records:
          cell_voltages:
            - {date: 2026-05-16, pack: A1, cells_v: [3.85, 3.85, 3.77, 3.84], reference: {resolution_v: 0.01}}

    Passes: the same with

        records:
          cell_voltages:
            - {date: 2026-05-16, pack: A1, cells_v: [3.85, 3.85, 3.83, 3.84], reference: {resolution_v: 0.01}}

    Not checked: whether the pack had rested, and how the cells part under load. Cells further apart than
    ``dead_cell_apart_mv`` are judged by dead-cell.
    """
    of_pack = perhaps_of(pack, on)
    if not of_pack:
        return NotApplicable("no cells of this pack are recorded")
    return on.tested("cell_voltages", of_pack, lambda record: together(record, pack, on), HOW, mind=PACK_UNPLUGGED)
