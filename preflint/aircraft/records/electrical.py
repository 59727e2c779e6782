"""Volts, amperes and charge, as the aircraft shows them and as other instruments do."""

from preflint.aircraft.dated import INSTRUMENT, LOAD, PACK_LABEL, SETTINGS_IN_FORCE, Dated, InForce, Reference
from preflint.aircraft.declare import columns, kind, like, says
from preflint.aircraft.field import Field, Known
from preflint.aircraft.rung import Rung
from preflint.aircraft.words import Route
from preflint.frozen import dataclass
from preflint.load.tables.table import Table
from preflint.precautions import ANY_LOADED_RUN, DESK, HOVER_LOG, PACK_IN_PROPS_OFF, PACK_UNPLUGGED


@kind(
    "Voltage comparison", take="read the display and a meter at the same moment, at two pack voltages",
    mind=PACK_IN_PROPS_OFF, speaks_for="aircraft", rung=Rung.METER, minutes=10,
    asks=(
        "pack", "in_force.divider_ratio", "loaded", "reference.accuracy_percent", "reference.resolution_v",
        "table",
    ),
)
class VoltageComparison(Dated):
    """Display and meter read at the same moment. Columns indicated_v and reference_v."""

    pack: Field[str] = like(PACK_LABEL, do="write the label of the pack that was plugged in", on_paper=True)
    in_force: InForce = like(SETTINGS_IN_FORCE)
    loaded: Field[bool] = says(
        "Loaded", "true where motors ran while the readings were taken.",
        do="say whether motors ran while the readings were taken", mind=DESK, examples=[False],
    )
    same_terminals: Field[bool] = says(
        "Same terminals", "true where the meter touched the terminals that the aircraft senses.",
        do="say whether the meter touched the terminals that the aircraft senses", mind=DESK, examples=[True],
    )
    reference: Reference = like(INSTRUMENT)
    table: Field[Table] = columns(
        "indicated_v", "reference_v",
        do="with the pack plugged in, read the display and a meter at the same moment", mind=PACK_IN_PROPS_OFF, rows=2,
    )


@kind(
    "Current comparison",
    take=(
        "read display and meter at the same moment and note the throttle: motors still, then four steps or more up to "
        "hover current or more"
    ),
    mind=ANY_LOADED_RUN, speaks_for="aircraft", rung=Rung.LOAD, minutes=30,
    asks=(
        "pack", "route", "in_force.sensor_mv_per_a", "in_force.zero_mv", "reference.accuracy_percent",
        "reference.resolution_a", "table",
    ),
)
class CurrentComparison(Dated):
    """Display and meter read at the same moment, at no load and under load. Columns indicated_a and reference_a, and
    throttle_percent if you like.
    """

    pack: Field[str] = like(PACK_LABEL, do="write the label of the pack that was plugged in", on_paper=True)
    route: Field[Route] = like(LOAD)
    in_force: InForce = like(SETTINGS_IN_FORCE)
    reference: Reference = like(INSTRUMENT)
    table: Field[Table] = columns(
        "throttle_percent?", "indicated_a", "reference_a",
        do="read the display and a meter at the same moment, at no load and at half throttle or more",
        mind=ANY_LOADED_RUN, rows=5,
    )


@kind(
    "Cell voltages", take="let the pack rest and read every cell",
    mind=PACK_UNPLUGGED, speaks_for="aircraft", rung=Rung.METER, minutes=5,
    asks=("pack", "full", "cells_v", "pack_v", "reference.accuracy_percent"),
)
class CellVoltages(Dated):
    """The cells of one pack at rest."""

    pack: Field[str] = like(PACK_LABEL)
    cells_v: Known[tuple[float, ...]] = says(
        "Cells", "Voltage of each cell, in V.",
        do="read every cell at the balance plug",
        count=(1, 30), least=0, most=5, examples=[[3.85, 3.85, 3.84, 3.85, 3.86, 3.85]],
    )
    rested_min: Field[float] = says(
        "Rested", "How long the pack had rested, in minutes.",
        do="say how long the pack had rested", mind=DESK, least=0, most=100000, examples=[60],
    )
    full: Field[bool] = says(
        "Full", "true where the pack had just been charged full.",
        do="say whether the pack had just been charged full", mind=DESK, examples=[True],
    )
    temperature_c: Field[float] = says(
        "Pack temperature", "In degrees Celsius.",
        do="say how warm the pack was", mind=DESK, least=-60, most=100, examples=[18],
    )
    pack_v: Field[float] = says(
        "Whole pack", "Voltage of the whole pack read with the same instrument, in V.",
        do="read the whole pack with the same instrument", least=0, most=200, examples=[23.11],
    )
    reference: Reference = like(INSTRUMENT)


@kind(
    "Recharge", take="fly from full, charge full again, and note what was counted and what was put back",
    mind=HOVER_LOG, speaks_for="aircraft", rung=Rung.LOAD, minutes=45,
    asks=(
        "pack", "full_before", "counted_mah", "put_back_mah", "in_force.sensor_mv_per_a", "in_force.zero_mv",
        "reference.accuracy_percent",
    ),
)
class Recharge(Dated):
    """What the aircraft counted against what the charger put back, from full to full."""

    pack: Field[str] = like(PACK_LABEL)
    counted_mah: Known[float] = says(
        "Counted", "Charge that the aircraft counted, in mAh.",
        do="read the display after the flight", least=0, most=1000000, examples=[4180],
    )
    put_back_mah: Known[float] = says(
        "Put back", "Charge that the charger put back, in mAh.",
        do="read the charger when the pack is full again", least=0, most=1000000, examples=[4260],
    )
    full_before: Field[bool] = says(
        "Full before", "true where the pack was full before the flight.",
        do="say whether the pack was full before the flight", mind=DESK, examples=[True],
    )
    in_force: InForce = like(SETTINGS_IN_FORCE)
    reference: Reference = like(INSTRUMENT)


@dataclass(frozen=True)
class ElectricalRecords:
    """The records of volts, amperes and charge, each kind in the order written."""

    voltage_comparison: tuple[VoltageComparison, ...]
    current_comparison: tuple[CurrentComparison, ...]
    cell_voltages: tuple[CellVoltages, ...]
    recharge: tuple[Recharge, ...]
