"""The cells of the pack of the day: dead, overcharged, apart."""

from collections.abc import Callable

from preflint.api import (
    CAUTION,
    NO_GO,
    PACK_CHECK,
    PACK_UNPLUGGED,
    Clear,
    Context,
    Finding,
    Job,
    Known,
    NotApplicable,
    Outcome,
    Related,
    Unproven,
    fitted,
    need,
    records,
    rule,
)

from ..power.limits import VOLTMETER_FLOOR
from ..power.packs.at_rest import APART, DEAD, FULL_ABOVE, alive, bearable, together
from .day import cells_of, checks_of

_HOW = "read every cell of the pack at its balance plug and write them in a pack_check (cells_v)"
# V a cell: below it the voltage falls off with the charge, and good cells part. Common practice, no source.
_CHARGED_V = 3.7


@rule(
    "packs/cells",
    each="pack",
    severity=NO_GO,
    job=Job.MECHANICAL,
    precaution=PACK_UNPLUGGED,
    source="common practice, no source (cell voltages of each chemistry)",
    tolerances=(DEAD, FULL_ABOVE, VOLTMETER_FLOOR),
)
def cells(pack: fitted.Pack, on: Context) -> Outcome:
    """Is no cell of the pack of the day dead, empty or overcharged?

    The weakest cell ends the flight, and a cell charged too high may burn in it. What a pack had weeks ago says
    nothing of a cell that failed since.

    Reasoning: as power_sensing/dead-cell and power_sensing/cell-overcharged judge the cells at rest, of `cells_v` in
    the latest pack_check of this pack; one that failed stands until a later one of the pack passes. Where the same
    cells stand under cell_voltages of that day those rules tell it.

    Fails:

        packs: [{label: A1, chemistry: lipo, cells: 4}]
        records:
          pack_check: [{date: 2026-05-21, pack: A1, cells_v: [4.17, 3.41, 4.17, 4.16],
                        reference: {accuracy_percent: 0.5}}]

    Passes: the same with

        records:
          pack_check: [{date: 2026-05-21, pack: A1, cells_v: [4.17, 4.17, 4.17, 4.16],
                        reference: {accuracy_percent: 0.5}}]

    It does not check what a cell does under load, nor whether the pack is charged full.
    """
    return _asked(pack, on, lambda check: _sound(check, pack, on))


def _sound(check: records.PackCheck, pack: fitted.Pack, on: Context) -> Outcome:
    reading = cells_of(check)
    if said := _said_elsewhere(check, on, "dead-cell and cell-overcharged"):
        return said
    count, listed = len(reading.cells_v.value), pack.cells
    if isinstance(listed, Known) and listed.value != count:
        return Unproven(
            cause="uncertain",
            place=reading.cells_v.place,
            message=f"{count} cells are written down; the pack has {listed.value}",
            do=f"look how many cells the pack has; {_HOW}",
            related=(Related(listed.place, f"{listed.value} cells"),),
            mind=PACK_CHECK,
            record="pack_check",
        )
    outcomes = alive(reading, pack, on), bearable(reading, pack, on)
    for kind in (Finding, Unproven):
        for outcome in outcomes:
            if isinstance(outcome, kind):
                return outcome
    lowest, highest = min(reading.cells_v.value), max(reading.cells_v.value)
    return Clear(f"cells of {lowest:.2f} to {highest:.2f} V on {check.date.value}")


@rule(
    "packs/spread",
    each="pack",
    severity=CAUTION,
    job=Job.MECHANICAL,
    precaution=PACK_UNPLUGGED,
    source="common practice, no source (spread of cells at rest)",
    tolerances=(APART, DEAD),
)
def spread(pack: fitted.Pack, on: Context) -> Outcome:
    """Are the cells of the pack of the day charged alike?

    A cell that lags behind is empty first: the pack's voltage still looks good when that cell takes harm.

    Reasoning: as power_sensing/cells-apart judges them, of `cells_v` in the latest pack_check of this pack: highest
    less lowest against ``cells_apart_mv``, with U of the last digit. Judged above 3.7 V a cell only (life cells in
    their own flat stretch): towards empty, and at storage charge near it, good cells part by more. Where the same
    cells stand under cell_voltages of that day that rule tells it.

    Fails:

        packs: [{label: A1, chemistry: lipo, cells: 4}]
        records:
          pack_check: [{date: 2026-05-21, pack: A1, cells_v: [4.17, 4.08, 4.17, 4.16]}]

    Passes: the same with

        records:
          pack_check: [{date: 2026-05-21, pack: A1, cells_v: [4.17, 4.15, 4.17, 4.16]}]

    It does not check how the cells part under load.
    """
    return _asked(pack, on, lambda check: _alike(check, pack, on))


def _alike(check: records.PackCheck, pack: fitted.Pack, on: Context) -> Outcome:
    reading = cells_of(check)
    if said := _said_elsewhere(check, on, "cells-apart"):
        return said
    if isinstance(check.rocks_on_flat, Known) and check.rocks_on_flat.value:
        return NotApplicable("a swollen pack is not charged any more: see packs/swollen")
    lowest = min(reading.cells_v.value)
    if need(pack.chemistry).value != "life" and lowest <= _CHARGED_V:
        return NotApplicable(f"at {lowest:.2f} V cells part by themselves; above {_CHARGED_V} V it is judged")
    return together(reading, pack, on, "packs/cells")


def _asked(pack: fitted.Pack, on: Context, judge: Callable[[records.PackCheck], Outcome]) -> Outcome:
    read = tuple(check for check in checks_of(pack, on) if isinstance(check.cells_v, Known))
    return on.tested(
        "pack_check", read, judge, _HOW, mind=PACK_CHECK, says=lambda check: cells_of(check).cells_v.value
    )


def _said_elsewhere(check: records.PackCheck, on: Context, whom: str) -> NotApplicable | None:
    """Where the same readings stand under cell_voltages, too: nothing is told twice."""
    same = any(
        record.date.value.date == check.date.value.date
        and isinstance(record.pack, Known)
        and record.pack.value == check.pack.value
        and record.cells_v.value == need(check.cells_v).value
        for record in on.aircraft.records.cell_voltages
    )
    return NotApplicable(f"said by power_sensing/{whom}") if same else None
