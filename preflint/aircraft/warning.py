"""What tells the pilot that a pack runs low, and at which number."""

from typing import Literal

from preflint.aircraft.declare import group, says
from preflint.aircraft.field import Field, Known
from preflint.aircraft.rung import Rung
from preflint.places import Place
from preflint.precautions import DESK, SETTINGS

# What a warning watches.
Watched = Literal["pack-voltage", "lowest-cell", "charge-used", "flight-time"]

_READ = "read it in the settings of the flight controller, the transmitter or the buzzer"


@group(
    "Battery warning",
    examples=[{"watches": "pack-voltage", "at_cell_v": 3.5, "does": "tells"}],
    rung=Rung.METER,
    minutes=2,
)
class BatteryWarning:
    """One number that is watched in flight, and what happens there."""

    place: Place
    watches: Known[Watched] = says(
        "Watches",
        "pack-voltage (of the whole pack), lowest-cell (through the balance plug), charge-used (as counted), or "
        "flight-time (a timer).",
        do="say what the warning watches", mind=DESK, examples=["pack-voltage"],
    )
    at_v: Field[float] = says(
        "At", "Of pack-voltage: at which voltage of the whole pack as the display shows it, in V.",
        do=_READ, mind=SETTINGS, above=0, most=200, examples=[21.0],
    )
    at_cell_v: Field[float] = says(
        "At, a cell", "At which voltage of a cell: the lowest one, or the pack's divided by its cells; in V.",
        do=_READ, mind=SETTINGS, above=0, most=5, examples=[3.5],
    )
    at_used_mah: Field[float] = says(
        "At, charge used", "Of charge-used: at how much charge used since full, in mAh.",
        do=_READ, mind=SETTINGS, above=0, most=1000000, examples=[4500],
    )
    at_min: Field[float] = says(
        "At, flight time", "Of flight-time: after how many minutes.",
        do=_READ, mind=SETTINGS, above=0, most=600, examples=[6],
    )
    does: Field[Literal["tells", "comes-home", "lands"]] = says(
        "Does", "tells (a sound, a light, a word on the display), comes-home or lands (by itself).",
        do="say what happens then: tells, comes-home or lands", mind=DESK, on_paper=True, examples=["tells"],
    )
