"""The look after a flight, and the settings as they were saved."""

from collections.abc import Mapping
from typing import Literal

from preflint.aircraft.dated import PACK_LABEL, Dated
from preflint.aircraft.declare import kind, like, says
from preflint.aircraft.field import Field, Known
from preflint.aircraft.rung import Rung
from preflint.aircraft.words import Position
from preflint.frozen import dataclass
from preflint.precautions import AFTER_FLIGHT, DESK, SETTINGS

Warmth = Literal["cool", "warm", "hot"]


@kind(
    "After-flight look",
    take="unplug the pack right after landing; feel every motor and every nut; note what is hot and what moved",
    mind=AFTER_FLIGHT, speaks_for="rotors", rung=Rung.LOAD, minutes=2,
    asks=("motors", "nuts_moved", "pack", "minutes"),
)
class AfterFlightLook(Dated):
    """Pack unplugged, within minutes of a landing: how warm the motors are, and whether a nut has moved."""

    after: Field[Literal["flight", "tied-down"]] = says(
        "After", "After what it was: flight, or tied-down for a run in ties. Left out, it was a flight.",
        do="say whether it was a flight or a run tied down", on_paper=True, examples=["tied-down"],
    )
    minutes: Field[float] = says(
        "Minutes", "How long the motors ran before, in minutes.",
        do="say how long the motors ran", mind=DESK, above=0, most=600, examples=[4],
    )
    motors: Mapping[str, Known[Warmth]] = says(
        "Motors",
        "For each position how warm the motor is: cool, warm, or hot, which is too hot to keep a finger on for a "
        "second; others stands for every position not named.",
        examples=[{"front-left": "warm", "front-right": "hot"}, {"front-right": "hot", "others": "warm"}],
    )
    motors_c: Mapping[str, Known[float]] = says(
        "Motor temperatures", "For each position the temperature of the motor, in degrees Celsius.",
        least=-60, most=300, examples=[{"front-left": 41, "front-right": 63}],
    )
    nuts_moved: Field[tuple[Known[Position], ...]] = says(
        "Nuts moved", "The positions whose nut had moved or come loose; [] where none had.",
        do="write at which rotors the nut had moved, or nuts_moved: []", mind=AFTER_FLIGHT,
        examples=[[], ["rear-left"]],
    )
    pack_c: Field[float] = says(
        "Pack temperature", "Temperature of the pack, in degrees Celsius.",
        do="read a thermometer held at the pack", mind=AFTER_FLIGHT, least=-60, most=200, examples=[38],
    )
    output_percent: Mapping[str, Known[float]] = says(
        "Mean output", "For each position the mean of its motor's output over a steady hover, in per cent of full.",
        least=0, most=100, examples=[{"front-left": 52, "front-right": 54}],
    )
    pack: Field[str] = like(PACK_LABEL)


@kind(
    "Saved settings",
    take="save all settings of the flight controller to a file, and note the SHA-256 of that file",
    mind=SETTINGS, speaks_for="aircraft", rung=Rung.METER, minutes=2,
    asks=("sha256",),
)
class SavedSettings(Dated):
    """All settings of the flight controller, saved to a file: its SHA-256 tells whether any of them changed."""

    sha256: Known[str] = says(
        "SHA-256", "The SHA-256 of the file, in hexadecimal: all 64 digits, or the first 8 or more.",
        pattern="^[0-9a-fA-F]{8,64}$", examples=["9f86d081884c7d65"],
    )


@dataclass(frozen=True)
class FlightRecords:
    """The records of what is looked at and kept around a flight, each kind in the order written."""

    after_flight_look: tuple[AfterFlightLook, ...]
    saved_settings: tuple[SavedSettings, ...]
