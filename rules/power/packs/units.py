"""Numbers written down in another unit: volts of one cell for those of the pack, ampere-hours for milliampere-hours."""

from preflint.api import (
    CAUTION,
    PACK_UNPLUGGED,
    Aircraft,
    Clear,
    Context,
    Finding,
    Job,
    NotApplicable,
    Outcome,
    Place,
    Related,
    fitted,
    need,
    rule,
)

from ..draw import WINDOW_WITHIN, flown, is_a_cells, pack_window_v
from .counted import capacity_of, in_ampere_hours


@rule(
    "power_sensing/hover-volts",
    each="aircraft",
    severity=CAUTION,
    job=Job.RECORD,
    precaution=PACK_UNPLUGGED,
    source="common practice, no source (cell voltages of each chemistry)",
)
def hover_volts(aircraft: Aircraft, on: Context) -> Outcome:
    """Is the voltage of the hover one that its pack can have?

    Many displays show volts a cell. Written down as those of the pack, they make the hover's power a fraction of
    what it was, and a scale that is right looks wrong.

    Reasoning: the mean voltage of the latest hover must lie between cells × end of discharge and cells × full
    charge of the pack flown (lipo 3.0 to 4.20 V a cell, lipo-hv 3.0 to 4.35 V, li-ion 2.5 to 4.20 V, life 2.5 to
    3.65 V), within 5 %. Where the hover names no pack it may be any of them.

    Fails:

        packs: [{label: A1, chemistry: lipo, cells: 4}]
        records:
          hover:
            - {date: 2026-05-16, mean_voltage_v: 3.8}

    Passes: the same with

        records:
          hover:
            - {date: 2026-05-16, mean_voltage_v: 15.2}

    Not checked: whether the voltage shown is right: see voltage-scale.
    """
    hover = on.latest(aircraft.records.hover)
    if hover is None:
        return NotApplicable("no hover is recorded")
    volts, packs = need(hover.mean_voltage_v), flown(aircraft.packs, hover.pack)
    if not packs:
        return NotApplicable("no pack is recorded that may have flown it")
    return _of_a_pack(volts.value, volts.place, packs, f"the hover of {hover.date.value}", "the mean voltage")


@rule(
    "power_sensing/sag-volts",
    each="pack",
    severity=CAUTION,
    job=Job.RECORD,
    precaution=PACK_UNPLUGGED,
    source="common practice, no source (cell voltages of each chemistry)",
)
def sag_volts(pack: fitted.Pack, on: Context) -> Outcome:
    """Are the voltages of the sag run ones that its pack can have?

    Volts of one cell, written down as those of the pack, sag by a fraction of what the pack does: the pack looks
    stronger than it is by as many times as it has cells.

    Reasoning: as for hover-volts, of the highest voltage of the latest sag run of this pack, which is that with
    hardly any load.

    Fails:

        packs: [{label: A1, chemistry: lipo, cells: 4}]
        records:
          sag_run:
            - {date: 2026-05-16, pack: A1, columns: [current_a, voltage_v, used_mah],
               rows: [[0, 4.01, 0], [25, 3.91, 70]]}

    Passes: the same with

        records:
          sag_run:
            - {date: 2026-05-16, pack: A1, columns: [current_a, voltage_v, used_mah],
               rows: [[0, 16.02, 0], [25, 15.63, 70]]}

    Not checked: how far the pack sags: see sag.
    """
    run = on.latest(run for run in on.aircraft.records.sag_run if pack in flown(on.aircraft.packs, run.pack))
    if run is None:
        return NotApplicable("no sag run of this pack is recorded")
    table = need(run.table).value
    volts = table.column("voltage_v")
    row, whose = int(volts.argmax()), f"the sag run of {run.date.value}"
    return _of_a_pack(float(volts[row]), table.row_place(row), (pack,), whose, "the highest voltage")


def _of_a_pack(volts: float, place: Place, packs: tuple[fitted.Pack, ...], whose: str, what: str) -> Outcome:
    windows = [pack_window_v(pack) for pack in packs]
    low, full = min(low for low, _ in windows), max(full for _, full in windows)
    lives = f"{what} {volts:.2f} V; the pack lives between {low:.1f} and {full:.1f} V"
    if any(low * (1 - WINDOW_WITHIN) <= volts <= full * (1 + WINDOW_WITHIN) for low, full in windows):
        return Clear(lives)
    related = tuple(Related(need(pack.cells).place, f"{need(pack.cells).value} cells") for pack in packs)
    if all(is_a_cells(volts, pack) for pack in packs):
        return Finding(
            place=place,
            message=f"{whose} has {volts:.2f} V, which is the voltage of one cell",
            evidence=lives,
            do="write down the voltage of the whole pack",
            related=related,
        )
    return Finding(
        place=place,
        message=f"{whose} has {volts:.2f} V, which no pack of this aircraft has",
        evidence=lives,
        do="look at the voltage written down, at the pack used and at its cells",
        related=related,
    )


@rule(
    "power_sensing/recharge-unit",
    each="aircraft",
    severity=CAUTION,
    job=Job.RECORD,
    precaution=PACK_UNPLUGGED,
    source="derived: 1 Ah is 1000 mAh",
)
def recharge_unit(aircraft: Aircraft, on: Context) -> Outcome:
    """Is the charge of the recharge written down in mAh?

    Chargers show ampere-hours, displays milliampere-hours. Mixed up, they make an error of a thousand, or none
    where both are wrong, of a charge that no flight is as small as.

    Reasoning: counted_mah and put_back_mah of the latest recharge. A number is one of Ah if it is below 2 % of the
    pack's capacity, and a thousand times it is at most 1.5 times that; where no capacity is recorded, if it lies
    between 0 and 20.

    Fails:

        packs: [{label: A1, chemistry: lipo, cells: 4, capacity_mah: 5000}]
        records:
          recharge:
            - {date: 2026-05-16, pack: A1, counted_mah: 3180, put_back_mah: 3.2}

    Passes: the same with

        records:
          recharge:
            - {date: 2026-05-16, pack: A1, counted_mah: 3180, put_back_mah: 3200}

    Not checked: whether as much was counted as put back: see recharge.
    """
    record = on.latest(aircraft.records.recharge)
    if record is None:
        return NotApplicable("no recharge is recorded")
    capacity = capacity_of(aircraft, record)
    for name, charge in (("put_back_mah", record.put_back_mah), ("counted_mah", record.counted_mah)):
        if in_ampere_hours(charge.value, capacity):
            return Finding(
                place=charge.place,
                message=f"{name} of {record.date.value} is {charge.value:g}, which is a number of Ah",
                evidence=f"{charge.value:g} Ah are {1000 * charge.value:g} mAh"
                + (f"; the pack has {capacity:g} mAh" if capacity else ""),
                do=f"write {name}: {1000 * charge.value:g}, if the charge was {charge.value:g} Ah",
            )
    return Clear(f"{record.counted_mah.value:g} mAh counted and {record.put_back_mah.value:g} mAh put back")
