"""Power sensing: do the volts and amperes that the flight controller shows mean anything?"""

from __future__ import annotations

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
    records,
    rule,
)
from preflint.arrays import np
from preflint.frozen import dataclass

from ..draw import full_current_a, pack_window_v, settings
from ..limits import CURRENT_SCALE, VOLTAGE_SCALE

# V a cell: nominal, which a pack at rest lies above until most of its charge is gone; common practice, from memory.
_NOMINAL_V = {"lipo": 3.7, "lipo-hv": 3.8, "li-ion": 3.6, "life": 3.2}


@rule(
    "power_sensing/input-range",
    each="aircraft",
    severity=CAUTION,
    job=Job.MECHANICAL,
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
    told = settings(aircraft)
    reads = _Input(
        need(told.input_full_scale_mv), need(told.divider_ratio), need(told.sensor_mv_per_a), need(told.zero_mv)
    )
    if not aircraft.packs:
        message = "no pack is recorded, so the full voltage is not known"
        how = "write down cells and chemistry of each pack"
        raise Open(Unproven(place=aircraft.place, message=message, do=how, on_paper=True))
    if not 0 <= reads.zero.value <= reads.full_scale.value:
        return reads.zero_outside()
    full_v = max(pack_window_v(pack)[1] for pack in aircraft.packs)
    if reads.from_pack_mv(full_v) >= reads.full_scale.value:
        return reads.pack_too_high(full_v)
    draw_a = full_current_a(aircraft)
    if reads.from_sensor_mv(draw_a) >= reads.full_scale.value:
        return reads.draw_too_high(draw_a)
    evidence = (
        f"full pack {reads.from_pack_mv(full_v):.0f} mV, {draw_a:.0f} A at full throttle "
        f"{reads.from_sensor_mv(draw_a):.0f} mV, of {reads.full_scale.value:g} mV; "
        f"the display goes to {reads.stops_at_v:.1f} V and {reads.stops_at_a:.0f} A"
    )
    if not isinstance(told.input_bits, Known):
        return Clear(evidence)
    step_v, step_a = reads.step(told.input_bits.value)
    evidence += f"; one step is {1000 * step_v:.1f} mV of pack voltage and {1000 * step_a:.0f} mA"
    if step_v <= on.limit(VOLTAGE_SCALE) / 100 * full_v and step_a <= on.limit(CURRENT_SCALE) / 100 * draw_a:
        return Clear(evidence)
    return Finding(
        place=told.input_bits.place,
        message=f"one step of the input is {step_v:.2f} V of pack voltage and {step_a:.1f} A: too coarse",
        evidence=evidence,
        do="use an input of more bits, or a divider and sensor that fill its range",
        related=reads.related,
    )


@dataclass(frozen=True, slots=True)
class _Input:
    """The flight controller's input as set: what stands at it, and what is said where it reads no further."""

    full_scale: Known[float]
    ratio: Known[float]
    sensor: Known[float]
    zero: Known[float]

    @property
    def related(self) -> tuple[Related, ...]:
        return (Related(self.full_scale.place, f"the input reads up to {self.full_scale.value:g} mV"),)

    @property
    def stops_at_v(self) -> float:
        return self.full_scale.value / 1000 * self.ratio.value

    @property
    def stops_at_a(self) -> float:
        return (self.full_scale.value - self.zero.value) / self.sensor.value

    def from_pack_mv(self, volts: float) -> float:
        return 1000 * volts / self.ratio.value

    def from_sensor_mv(self, amperes: float) -> float:
        return self.zero.value + amperes * self.sensor.value

    def step(self, bits: int) -> tuple[float, float]:
        """One step of the input in volts of the pack and in amperes."""
        step_mv = self.full_scale.value / 2**bits
        return step_mv * self.ratio.value / 1000, step_mv / self.sensor.value

    def zero_outside(self) -> Finding:
        within = f"0 to {self.full_scale.value:g} mV"
        return Finding(
            place=self.zero.place,
            message=f"zero_mv {self.zero.value:g} lies outside the input's range of {within}",
            evidence=f"input range {within}",
            do="read zero_mv again, or fit a sensor that suits the input",
            related=self.related,
        )

    def pack_too_high(self, full_v: float) -> Finding:
        gives = self.from_pack_mv(full_v)
        return Finding(
            place=self.ratio.place,
            message=f"a full pack of {full_v:.1f} V gives {gives:.0f} mV, "
            f"but the input reads no more than {self.full_scale.value:g} mV",
            evidence=f"{full_v:.1f} V / divider_ratio {self.ratio.value:g} = {gives:.0f} mV; "
            f"the display stops at {self.stops_at_v:.1f} V",
            do=f"fit a divider of {1000 * full_v / self.full_scale.value:.1f} or more, or an input of wider range",
            related=self.related,
        )

    def draw_too_high(self, draw_a: float) -> Finding:
        return Finding(
            place=self.sensor.place,
            message=f"full throttle draws {draw_a:.0f} A, but the display stops at {self.stops_at_a:.0f} A",
            evidence=f"zero_mv {self.zero.value:g} + {draw_a:.0f} A × {self.sensor.value:g} mV/A = "
            f"{self.from_sensor_mv(draw_a):.0f} mV of {self.full_scale.value:g} mV",
            do="fit a sensor of fewer mV per ampere, or count no charge beyond that current",
            related=self.related,
        )


@rule(
    "power_sensing/cell-count",
    each="pack",
    severity=NO_GO,
    job=Job.PACK_IN,
    precaution=PACK_IN_PROPS_OFF,
    source="common practice, no source (cell voltages of each chemistry)",
    tolerances=(VOLTAGE_SCALE,),
)
def cell_count(pack: fitted.Pack, on: Context) -> Outcome:
    """Does the voltage that a meter read fit the pack's cells?

    Low-voltage warnings and the charger are set by the number of cells: one too many, and a charger may set
    the pack on fire; one too few, and the warning comes after the pack is empty or the motors stop.

    Reasoning: every meter reading of this pack must lie between cells × end of discharge and cells × full
    charge (lipo 3.0 to 4.20 V, lipo-hv 3.0 to 4.35 V, li-ion 2.5 to 4.20 V, life 2.5 to 3.65 V), widened by
    ``voltage_scale_percent``; and a record of its cells must have as many as the pack. A comparison
    that names no pack speaks for every pack where all are alike, else for none. Where the cells were never read one
    by one, and the highest voltage on record (of these readings, of sag runs and hovers) is below cells × nominal
    voltage (lipo 3.7 V, lipo-hv 3.8 V, li-ion 3.6 V, life 3.2 V), a cell may be too many: that is left open, since
    the pack may have been read half empty.

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
        if len(record.cells_v.value) != cells.value:
            return _another_count(cells, record)
    readings = _readings(on, pack)
    for volts, place in readings:
        if not low_v * (1 - slack) <= volts <= full_v * (1 + slack):
            between = f"of {need(pack.chemistry).value} lie between {low_v:.1f} and {full_v:.1f} V"
            return _beyond_the_cells(cells, between, volts, place)
    if not readings and not counted:
        raise _not_read(on, pack)
    if not counted and (low := _never_full(on, pack, readings)):
        return low
    return Clear(
        f"{len(readings)} meter readings and {len(counted)} records of cells "
        f"fit {cells.value} cells between {low_v:.1f} and {full_v:.1f} V"
    )


def _never_full(on: Context, pack: fitted.Pack, readings: list[tuple[float, Place]]) -> Unproven | None:
    """Why a cell may be too many: no voltage on record, of the meter or of the display, is that of a charged pack."""
    cells, nominal = need(pack.cells), _NOMINAL_V[need(pack.chemistry).value]
    of_records = on.aircraft.records
    shown = [volts for volts, _ in readings]
    shown += [
        float(run.table.value.column("voltage_v").max())
        for run in on.so_far(of_records.sag_run)
        if isinstance(run.table, Known) and _speaks_for(run.pack, pack)
    ]
    shown += [
        hover.mean_voltage_v.value
        for hover in on.so_far(of_records.hover)
        if isinstance(hover.mean_voltage_v, Known) and _speaks_for(hover.pack, pack)
    ]
    highest = max(shown)
    if highest >= cells.value * nominal:
        return None
    return Unproven(
        cause="uncertain",
        place=cells.place,
        message=f"the highest voltage on record is {highest:.2f} V, {highest / cells.value:.2f} V a cell of "
        f"{cells.value}: a cell may be too many",
        do="read every cell at the balance plug and record its cell voltages, or compare the voltage with a full pack",
        evidence=f"a charged pack of {need(pack.chemistry).value} has at least {nominal:g} V a cell",
        mind=PACK_UNPLUGGED,
    )


def _another_count(cells: Known[int], record: records.CellVoltages) -> Finding:
    seen = len(record.cells_v.value)
    return Finding(
        place=cells.place,
        message=f"the pack is written down with {cells.value} cells, "
        f"but {seen} cells were measured on {record.date.value}",
        evidence=f"cell voltages {', '.join(f'{v:.2f}' for v in record.cells_v.value)} V",
        do="count the wires of the balance plug less one, and write that",
        related=(Related(record.place, f"{seen} cells measured"),),
        mind=PACK_UNPLUGGED,
    )


def _beyond_the_cells(cells: Known[int], between: str, volts: float, place: Place) -> Finding:
    a_cell = volts / cells.value
    return Finding(
        place=cells.place,
        message=f"a meter read {volts:.2f} V, that is {a_cell:.2f} V a cell of {cells.value} cells",
        evidence=f"{cells.value} cells {between}",
        do="count the wires of the balance plug less one, and read chemistry and cells off the pack",
        related=(Related(place, f"{volts:.2f} V read"),),
        mind=PACK_UNPLUGGED,
    )


def _not_read(on: Context, pack: fitted.Pack) -> Open:
    """Why no reading speaks for the pack: none was taken, or nobody wrote of which pack it was."""
    unnamed = [record for record in on.aircraft.records.voltage_comparison if not isinstance(record.pack, Known)]
    if unnamed and _packs_differ(on):
        return Open(
            Unproven(
                place=unnamed[-1].place,
                message=f"which pack was read on {unnamed[-1].date.value} is not recorded, and the packs differ",
                do="write the label of the pack in the voltage comparison",
                on_paper=True,
            )
        )
    return Open(
        Unproven(
            place=pack.place,
            message="no meter reading of this pack is recorded",
            do="read this pack with a meter and record a voltage comparison or its cell voltages",
        )
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
    for record in on.so_far(on.aircraft.records.voltage_comparison):
        if (
            not isinstance(record.table, Known)
            or (must_name and not isinstance(record.pack, Known))
            or not _speaks_for(record.pack, pack)
        ):
            continue
        table = record.table.value
        volts = table.column("reference_v")
        for row in {int(np.argmin(volts)), int(np.argmax(volts))}:
            found.append((float(volts[row]), table.row_place(row)))
    return found
