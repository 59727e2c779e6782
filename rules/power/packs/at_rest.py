"""What the cells of one reading at rest show by themselves: dead, apart, overcharged. Several rules judge by it."""

import math

from preflint.api import (
    Clear,
    Context,
    Finding,
    Known,
    NotApplicable,
    Outcome,
    Related,
    Tolerance,
    Unproven,
    fitted,
    need,
)
from preflint.compute.decision import t_factor, u_rectangular

from ..draw import CELL_WINDOW_V
from ..limits import VOLTMETER_FLOOR
from .cells import Reading, last_digit, meter_of, u_of_the_highest

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
FULL_ABOVE = Tolerance(
    "full_cell_above_mv",
    "mV",
    50.0,
    "lower",
    "common practice, no source",
    "how far a cell may read above full charge when it was just charged full",
)
# V a cell, from memory: where the voltage hardly moves with the charge. Outside, good cells part by more.
_FLAT = {"lipo": (3.6, math.inf), "lipo-hv": (3.6, math.inf), "li-ion": (3.3, math.inf), "life": (3.2, 3.4)}
_LIFE_WHEN_FULL = (3.2, 3.75)  # V: a life cell in there is not empty, whatever another one reads


def alive(record: Reading, pack: fitted.Pack, on: Context) -> Outcome:
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


def _dead(record: Reading, why: str, evidence: str) -> Finding:
    return Finding(
        place=record.cells_v.place,
        message=f"{_which(record, min(record.cells_v.value))} reads {min(record.cells_v.value):.2f} V, {why}",
        evidence=evidence,
        do="neither fly nor charge this pack; clean the contacts of its balance plug and read every cell again; if the "
        "cell stays as low, dispose of the pack by local rules, and take it and its records out of the manifest",
    )


def together(
    record: Reading, pack: fitted.Pack, on: Context, dead_said_by: str = "power_sensing/dead-cell"
) -> Outcome:
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
        return NotApplicable(f"said by {dead_said_by}")
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


def _expanded_apart(record: Reading) -> float:
    """Of the difference of two cells read by one instrument, whose scale cancels; in V, 95 %."""
    reference, cells = record.reference, record.cells_v.value
    digit = reference.resolution_v.value if isinstance(reference.resolution_v, Known) else last_digit(cells)
    fixed = reference.accuracy_v.value if isinstance(reference.accuracy_v, Known) else 0.0
    return t_factor(math.inf) * math.sqrt(2) * math.hypot(digit / math.sqrt(12), u_rectangular(fixed))


def _which(record: Reading, volts: float) -> str:
    cells = record.cells_v.value
    return f"cell {cells.index(volts) + 1} of {len(cells)}" if len(cells) > 1 else "the cell"


def _in_words(record: Reading) -> str:
    return f"cells of {', '.join(f'{volts:.2f}' for volts in record.cells_v.value)} V on {record.date.value}"


def bearable(record: Reading, pack: fitted.Pack, on: Context) -> Outcome:
    """What the cells of one record show by themselves."""
    named = pack.chemistry.value if isinstance(pack.chemistry, Known) else None
    full_v = CELL_WINDOW_V[named][1] if named else max(full for _, full in CELL_WINDOW_V.values())
    highest, limit = max(record.cells_v.value), full_v + on.limit(FULL_ABOVE) / 1000
    expanded = t_factor(math.inf) * u_of_the_highest(meter_of(record, on.limit(VOLTMETER_FLOOR)), record.cells_v.value)
    of_which = f"a full {named} cell has {full_v:.2f} V" if named else f"a full cell has at most {full_v:.2f} V"
    evidence = (
        f"the highest cell {highest:.2f} V ± {expanded:.3f} V (95 %) on {record.date.value}; {of_which}, and may read "
        f"up to {limit:.2f} V"
    )
    if highest - expanded > limit:
        return Finding(
            place=record.cells_v.place,
            message=f"a cell reads {highest:.2f} V, {1000 * (highest - full_v):.0f} mV above full: overcharged, or "
            "the meter reads high",
            evidence=evidence,
            do="lay the pack outdoors, away from people and anything that burns, and neither charge nor fly it; look "
            "at the chemistry on its label and at what the charger is set to; read the meter against another one on "
            "something else; if the meter was wrong, read the cells again",
            related=(Related(pack.chemistry.place, of_which),) if named else (),
        )
    if highest + expanded <= limit:
        need(pack.chemistry)
        return Clear(evidence)
    return Unproven(
        cause="uncertain",
        place=record.cells_v.place,
        message=f"a cell reads {highest:.2f} V: too uncertain to tell whether it is overcharged",
        do="write down how good the meter is, or read every cell again with a better one",
        evidence=evidence,
    )
