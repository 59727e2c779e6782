"""Power sensing: do the volts and amperes that the flight controller shows mean anything?"""

import numpy as np

from preflint.api import (
    CAUTION,
    NO_GO,
    PACK_IN_PROPS_OFF,
    PACK_UNPLUGGED,
    Aircraft,
    Clear,
    Context,
    Finding,
    Job,
    Known,
    NotApplicable,
    NotFitted,
    Open,
    Outcome,
    Place,
    Related,
    Unproven,
    fitted,
    need,
    rule,
)

from ..draw import full_current_a, pack_window_v, settings
from ..limits import CURRENT_SCALE, VOLTAGE_SCALE


@rule(
    "power_sensing/input-range",
    each="aircraft",
    severity=CAUTION,
    job=Job.POWER_SENSING,
    precaution=PACK_UNPLUGGED,
    source="derived: volts = input × divider_ratio, amperes = (input - zero_mv) / sensor_mv_per_a",
    tolerances=(VOLTAGE_SCALE, CURRENT_SCALE),
)
def input_range(aircraft: Aircraft, on: Context) -> Outcome:
    """Can the flight controller's input read the full pack and the greatest draw?

    An input at the end of its range shows the same number whatever happens beyond: the current stands still
    while the pack empties faster.

    Reasoning: at the input stand full pack voltage / divider_ratio, and zero_mv + sensor_mv_per_a × the sum
    of ``full_throttle_draw_a``; both must lie below ``input_full_scale_mv``, and zero_mv between 0 and it.
    Where ``input_bits`` is known, one step must be smaller than the error allowed of either scale, at full
    pack and greatest draw.

    Fails:

        packs: [{label: A1, chemistry: lipo, cells: 4}]
        every_rotor: {motor: {full_throttle_draw_a: 21}}
        power_sensing: {divider_ratio: 5.0, sensor_mv_per_a: 26.4, zero_mv: 512, input_full_scale_mv: 3300}

    Passes: the same with

        power_sensing: {divider_ratio: 6.2, sensor_mv_per_a: 26.4, zero_mv: 512, input_full_scale_mv: 3300}

    Not checked: noise of the input, and what the input's maker guarantees near the ends of its range.
    """
    if isinstance(aircraft.power_sensing, NotFitted):
        return NotApplicable("no power sensing is fitted")
    set_now = settings(aircraft)
    full_scale = need(set_now.input_full_scale_mv)
    ratio, sensor, zero = need(set_now.divider_ratio), need(set_now.sensor_mv_per_a), need(set_now.zero_mv)
    related = (Related(full_scale.place, f"the input reads up to {full_scale.value:g} mV"),)
    if not aircraft.packs:
        raise Open(
            Unproven(
                place=aircraft.place,
                message="no pack is recorded, so the full voltage is not known",
                do="write down cells and chemistry of each pack",
                on_paper=True,
            )
        )
    if not 0 <= zero.value <= full_scale.value:
        message = f"zero_mv {zero.value:g} lies outside the input's range of 0 to {full_scale.value:g} mV"
        return Finding(
            place=zero.place,
            message=message,
            evidence=f"input range 0 to {full_scale.value:g} mV",
            do="read zero_mv again, or fit a sensor that suits the input",
            related=related,
        )
    stops_at_v = full_scale.value / 1000 * ratio.value
    full_v = max(pack_window_v(pack)[1] for pack in aircraft.packs)
    from_pack_mv = 1000 * full_v / ratio.value
    if from_pack_mv >= full_scale.value:
        message = (
            f"a full pack of {full_v:.1f} V gives {from_pack_mv:.0f} mV, "
            f"but the input reads no more than {full_scale.value:g} mV"
        )
        evidence = (
            f"{full_v:.1f} V / divider_ratio {ratio.value:g} = {from_pack_mv:.0f} mV; "
            f"the display stops at {stops_at_v:.1f} V"
        )
        return Finding(
            place=ratio.place,
            message=message,
            evidence=evidence,
            do=f"fit a divider of {1000 * full_v / full_scale.value:.1f} or more, or an input of wider range",
            related=related,
        )
    draw_a = full_current_a(aircraft)
    from_sensor_mv = zero.value + draw_a * sensor.value
    stops_at_a = (full_scale.value - zero.value) / sensor.value
    if from_sensor_mv >= full_scale.value:
        message = f"full throttle draws {draw_a:.0f} A, but the display stops at {stops_at_a:.0f} A"
        evidence = (
            f"zero_mv {zero.value:g} + {draw_a:.0f} A × {sensor.value:g} mV/A = {from_sensor_mv:.0f} mV "
            f"of {full_scale.value:g} mV"
        )
        return Finding(
            place=sensor.place,
            message=message,
            evidence=evidence,
            do="fit a sensor of fewer mV per ampere, or count no charge beyond that current",
            related=related,
        )
    evidence = (
        f"full pack {from_pack_mv:.0f} mV, {draw_a:.0f} A at full throttle {from_sensor_mv:.0f} mV, "
        f"of {full_scale.value:g} mV; "
        f"the display goes to {stops_at_v:.1f} V and {stops_at_a:.0f} A"
    )
    if isinstance(set_now.input_bits, Known):
        step_mv = full_scale.value / 2**set_now.input_bits.value
        step_v, step_a = step_mv * ratio.value / 1000, step_mv / sensor.value
        evidence += f"; one step is {1000 * step_v:.1f} mV of pack voltage and {1000 * step_a:.0f} mA"
        if step_v > on.limit(VOLTAGE_SCALE) / 100 * full_v or step_a > on.limit(CURRENT_SCALE) / 100 * draw_a:
            message = f"one step of the input is {step_v:.2f} V of pack voltage and {step_a:.1f} A: too coarse"
            return Finding(
                place=set_now.input_bits.place,
                message=message,
                evidence=evidence,
                do="use an input of more bits, or a divider and sensor that fill its range",
                related=related,
            )
    return Clear(evidence)


@rule(
    "power_sensing/cell-count",
    each="pack",
    severity=NO_GO,
    job=Job.RECORD,
    precaution=PACK_IN_PROPS_OFF,
    source="common practice, no source (cell voltages of each chemistry)",
    tolerances=(VOLTAGE_SCALE,),
)
def cell_count(pack: fitted.Pack, on: Context) -> Outcome:
    """Does the voltage that a meter read fit the pack's cells?

    Low-voltage warnings and the charger are set by the number of cells: one too few, and a charger may set
    the pack on fire; one too many, and the warning comes after the pack is ruined or the motors stop.

    Reasoning: every meter reading of this pack must lie between cells × end of discharge and cells × full
    charge (lipo 3.0 to 4.20 V, lipo-hv 3.0 to 4.35 V, li-ion 2.5 to 4.20 V, life 2.5 to 3.65 V), widened by
    ``voltage_scale_percent``; and a record of its cells must have as many as the pack. A comparison
    that names no pack speaks for every pack where all are alike, else for none.

    Fails:

        packs: [{label: A1, chemistry: lipo, cells: 5}]
        records:
          voltage_comparison:
            - {date: 2026-05-16, columns: [indicated_v, reference_v], rows: [[24.02, 24.11]]}

    Passes: the same with

        packs: [{label: A1, chemistry: lipo, cells: 6}]

    Not checked: what the flight controller takes the number of cells to be.
    """
    cells = need(pack.cells)
    low_v, full_v = pack_window_v(pack)
    slack = on.limit(VOLTAGE_SCALE) / 100
    counted = [r for r in on.aircraft.records.cell_voltages if _speaks_for(r.pack, pack) and isinstance(r.pack, Known)]
    for record in counted:
        seen = len(record.cells_v.value)
        if seen != cells.value:
            message = (
                f"the pack is written down with {cells.value} cells, "
                f"but {seen} cells were measured on {record.date.value}"
            )
            evidence = f"cell voltages {', '.join(f'{v:.2f}' for v in record.cells_v.value)} V"
            related = (Related(record.place, f"{seen} cells measured"),)
            return Finding(
                place=cells.place,
                message=message,
                evidence=evidence,
                do="count the wires of the balance plug less one, and write that",
                related=related,
                mind=PACK_UNPLUGGED,
            )
    readings = _readings(on, pack)
    for volts, place in readings:
        if not low_v * (1 - slack) <= volts <= full_v * (1 + slack):
            a_cell = volts / cells.value
            message = f"a meter read {volts:.2f} V, that is {a_cell:.2f} V a cell of {cells.value} cells"
            chemistry = need(pack.chemistry).value
            evidence = f"{cells.value} cells of {chemistry} lie between {low_v:.1f} and {full_v:.1f} V"
            related = (Related(place, f"{volts:.2f} V read"),)
            return Finding(
                place=cells.place,
                message=message,
                evidence=evidence,
                do="count the wires of the balance plug less one, and read chemistry and cells off the pack",
                related=related,
                mind=PACK_UNPLUGGED,
            )
    unnamed = [record for record in on.aircraft.records.voltage_comparison if not isinstance(record.pack, Known)]
    if not readings and not counted and unnamed and _packs_differ(on):
        message = f"which pack was read on {unnamed[-1].date.value} is not recorded, and the packs differ"
        raise Open(
            Unproven(
                place=unnamed[-1].place,
                message=message,
                do="write the label of the pack in the voltage comparison",
                on_paper=True,
            )
        )
    if not readings and not counted:
        message = "no meter reading of this pack is recorded"
        raise Open(
            Unproven(
                place=pack.place,
                message=message,
                do="read this pack with a meter and record a voltage comparison or its cell voltages",
            )
        )
    return Clear(
        f"{len(readings)} meter readings and {len(counted)} records of cells "
        f"fit {cells.value} cells between {low_v:.1f} and {full_v:.1f} V"
    )


def _packs_differ(on: Context) -> bool:
    """Whether it matters of which pack a comparison was that names none."""
    kinds = {
        tuple(one.value if isinstance(one, Known) else None for one in (pack.cells, pack.chemistry))
        for pack in on.aircraft.packs
    }
    return len(kinds) > 1


def _speaks_for(named: object, pack: fitted.Pack) -> bool:
    """Whether a record taken with the pack so named, or with none named, speaks for this pack."""
    if not isinstance(named, Known) or not isinstance(pack.label, Known):
        return True
    return bool(named.value == pack.label.value)


def _readings(on: Context, pack: fitted.Pack) -> list[tuple[float, Place]]:
    """Lowest and highest meter reading of each voltage comparison up to the day judged, with its row."""
    found, must_name = [], _packs_differ(on)
    for record in on.aircraft.records.voltage_comparison:
        if (
            not isinstance(record.table, Known)
            or (must_name and not isinstance(record.pack, Known))
            or record.date.value.date > on.judged_on
            or not _speaks_for(record.pack, pack)
        ):
            continue
        table = record.table.value
        volts = table.column("reference_v")
        for row in {int(np.argmin(volts)), int(np.argmax(volts))}:
            found.append((float(volts[row]), table.row_place(row)))
    return found
