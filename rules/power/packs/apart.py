"""Do the cells of a pack hold together: a cell that lags behind, and one that is dead?"""

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
    Tolerance,
    Unproven,
    fitted,
    need,
    records,
    rule,
)
from preflint.compute.decision import t_factor, u_rectangular

from ..draw import CELL_WINDOW_V
from ..limits import VOLTMETER_FLOOR
from .cells import last_digit, meter_of, perhaps_of, u_of_the_highest

APART = Tolerance(
    "cells_apart_mv",
    "mV",
    50.0,
    "lower",
    "common practice, no source",
    "how far apart the cells of a pack at rest may read",
)
DEAD = Tolerance(
    "dead_cell_apart_mv",
    "mV",
    300.0,
    "lower",
    "common practice, no source",
    "how far below the highest cell of a pack at rest one may read that is not dead",
)
HOW = "let the pack rest, unplug it, and read every cell"
# V a cell, from memory: where the voltage hardly moves with the charge. Outside, good cells part by more.
_FLAT = {"lipo": (3.6, math.inf), "lipo-hv": (3.6, math.inf), "li-ion": (3.3, math.inf), "life": (3.2, 3.4)}
_LIFE_WHEN_FULL = (3.2, 3.75)  # V: a life cell in there is not empty, whatever another one reads


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
    return on.tested("cell_voltages", of_pack, lambda record: _alive(record, pack, on), HOW, mind=PACK_UNPLUGGED)


def _alive(record: records.CellVoltages, pack: fitted.Pack, on: Context) -> Outcome:
    """What the cells of one record show by themselves."""
    lowest, highest = min(record.cells_v.value), max(record.cells_v.value)
    chemistry = pack.chemistry.value if isinstance(pack.chemistry, Known) else None
    floor = CELL_WINDOW_V[chemistry][0] if chemistry else min(low for low, _ in CELL_WINDOW_V.values())
    u_apart = _expanded_apart(record)
    u_low = t_factor(math.inf) * u_of_the_highest(meter_of(record, on.limit(VOLTMETER_FLOOR)), record.cells_v.value)
    limit = on.limit(DEAD) / 1000
    evidence = (
        f"{_in_words(record)}: {highest - lowest:.2f} V ± {u_apart:.3f} V (95 %) apart, at most {limit:g} V; the "
        f"lowest {lowest:.2f} V ± {u_low:.3f} V, at least {floor:.1f} V"
    )
    if lowest + u_low < floor:
        return _dead(record, f"less than the {floor:.1f} V at which a cell is empty", evidence)
    full_life = _LIFE_WHEN_FULL[0] <= lowest and highest <= _LIFE_WHEN_FULL[1]
    if highest - lowest - u_apart > limit and not (full_life and need(pack.chemistry).value == "life"):
        return _dead(record, f"{highest - lowest:.2f} V below the highest", evidence)
    if highest - lowest + u_apart <= limit and lowest - u_low >= floor:
        need(pack.chemistry)
        return Clear(evidence)
    return Unproven(
        cause="uncertain",
        place=record.cells_v.place,
        message=f"the cells read {lowest:.2f} to {highest:.2f} V: too uncertain to tell whether one is dead",
        do="charge the pack, let it rest for an hour, and read every cell again with a good meter",
        evidence=evidence,
    )


def _dead(record: records.CellVoltages, why: str, evidence: str) -> Finding:
    return Finding(
        place=record.cells_v.place,
        message=f"{_which(record, min(record.cells_v.value))} reads {min(record.cells_v.value):.2f} V, {why}",
        evidence=evidence,
        do="neither fly nor charge this pack; clean the contacts of its balance plug and read every cell again; if the "
        "cell stays as low, dispose of the pack by local rules, and take it and its records out of the manifest",
    )


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
    return on.tested("cell_voltages", of_pack, lambda record: _together(record, pack, on), HOW, mind=PACK_UNPLUGGED)


def _together(record: records.CellVoltages, pack: fitted.Pack, on: Context) -> Outcome:
    """What the cells of one record show by themselves."""
    cells = record.cells_v.value
    lowest, highest, expanded = min(cells), max(cells), _expanded_apart(record)
    apart, limit = highest - lowest, on.limit(APART) / 1000
    evidence = f"{_in_words(record)}: {1000 * apart:.0f} mV ± {1000 * expanded:.0f} mV (95 %) apart"
    evidence += f", at most {1000 * limit:g} mV"
    if len(cells) == 1:
        return NotApplicable("the pack has one cell")
    if apart + expanded <= limit:
        return Clear(evidence)
    if apart - expanded > on.limit(DEAD) / 1000:
        return NotApplicable("said by power_sensing/dead-cell")
    steep_below, steep_above = _FLAT[need(pack.chemistry).value]
    do = "charge the pack with balancing, let it rest for an hour, and read every cell again"
    if lowest < steep_below or highest > steep_above or apart - expanded <= limit:
        return Unproven(
            cause="uncertain",
            place=record.cells_v.place,
            message=f"the cells read {1000 * apart:.0f} mV apart: too uncertain to tell",
            do=f"{do} with a meter that shows mV" if lowest >= steep_below and highest <= steep_above else do,
            evidence=evidence,
        )
    return Finding(
        place=record.cells_v.place,
        message=f"{_which(record, lowest)} reads {lowest:.2f} V, {1000 * apart:.0f} mV below the highest",
        evidence=evidence,
        do=f"{do}; if it lags behind again, land earlier, and fly the pack no more when it falls further back",
    )


def _expanded_apart(record: records.CellVoltages) -> float:
    """Of the difference of two cells read by one instrument, whose scale cancels; in V, 95 %."""
    reference, cells = record.reference, record.cells_v.value
    digit = reference.resolution_v.value if isinstance(reference.resolution_v, Known) else last_digit(cells)
    fixed = reference.accuracy_v.value if isinstance(reference.accuracy_v, Known) else 0.0
    return t_factor(math.inf) * math.sqrt(2) * math.hypot(digit / math.sqrt(12), u_rectangular(fixed))


def _which(record: records.CellVoltages, volts: float) -> str:
    cells = record.cells_v.value
    return f"cell {cells.index(volts) + 1} of {len(cells)}" if len(cells) > 1 else "the cell"


def _in_words(record: records.CellVoltages) -> str:
    return f"cells of {', '.join(f'{volts:.2f}' for volts in record.cells_v.value)} V on {record.date.value}"
