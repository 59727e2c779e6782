"""What the flight controller makes of movements, sticks, the radio link and the air pressure."""

from collections.abc import Mapping
from typing import Literal

from preflint.aircraft.dated import INSTRUMENT, PROPS, Dated, Reference
from preflint.aircraft.declare import columns, group, kind, like, says
from preflint.aircraft.field import Field, Known
from preflint.aircraft.rung import Rung
from preflint.aircraft.weather import NOT_BOTH_PRESSURES, SEA_LEVEL_PRESSURE, STATION_PRESSURE
from preflint.aircraft.words import ATTITUDES, Position, Props
from preflint.frozen import dataclass
from preflint.load.tables.table import Table
from preflint.places import Place
from preflint.precautions import DESK, FIELD_CHECK, PROPS_REMOVED, SETTINGS

STICK_MOVES = (*ATTITUDES, "throttle-up", "throttle-down")


@kind(
    "Six positions", take="rest the aircraft on each of its six sides and read the accelerations",
    mind=SETTINGS, speaks_for="aircraft", rung=Rung.METER, minutes=10,
    asks=("table",),
)
class SixPositions(Dated):
    """The accelerations at rest on each of the six sides. Columns accel_x_m_s2, accel_y_m_s2, accel_z_m_s2 (forward,
    right, down).
    """

    table: Field[Table] = columns("accel_x_m_s2", "accel_y_m_s2", "accel_z_m_s2", rows=6)


@kind(
    "Barometer check", take="read the indicated pressure beside a barometer or the weather report",
    mind=FIELD_CHECK, speaks_for="aircraft", rung=Rung.METER, minutes=2,
    asks=("indicated_hpa", "station_pressure_hpa|sea_level_pressure_hpa", "reference.accuracy_hpa"),
    also=NOT_BOTH_PRESSURES,
)
class BarometerCheck(Dated):
    """What the aircraft indicates against a barometer or the weather report."""

    indicated_hpa: Known[float] = says(
        "Indicated pressure", "What the aircraft indicates, in hPa.",
        do="read the pressure on the aircraft's display", least=300, most=1100, examples=[987.0],
    )
    station_pressure_hpa: Field[float] = like(STATION_PRESSURE)
    sea_level_pressure_hpa: Field[float] = like(SEA_LEVEL_PRESSURE)
    reduced_by: Field[Literal["standard-atmosphere", "temperature"]] = says(
        "Reduced by",
        "How sea_level_pressure_hpa was reduced: by the standard atmosphere, as reports for flying give it, or by the "
        "temperature of the day, as weather maps give it.",
        do="ask whether the report is one for flying (standard-atmosphere) or a weather map (temperature)",
        on_paper=True, examples=["standard-atmosphere"],
    )
    temperature_c: Field[float] = says(
        "Air temperature", "Temperature of the air at the place then, in degrees Celsius; left out, that of the site.",
        do="read a thermometer", least=-60, most=60, examples=[14],
    )
    reference: Reference = like(INSTRUMENT)


@kind(
    "Position check",
    take="put the aircraft down under open sky at a place that the map shows, and read the position on the display",
    mind=FIELD_CHECK, speaks_for="aircraft", rung=Rung.METER, minutes=5,
    asks=(
        "shown_latitude_deg", "shown_longitude_deg", "place_latitude_deg", "place_longitude_deg",
        "reference.accuracy_m",
    ),
)
class PositionCheck(Dated):
    """The position that the aircraft shows against the place where it stands. Columns latitude_deg and longitude_deg:
    what it showed minute by minute.
    """

    shown_latitude_deg: Field[float] = says(
        "Shown latitude",
        "What the aircraft shows, in degrees, north positive. Left out, the mean of the rows is taken.",
        do="read the latitude on the aircraft's display, to five decimals", mind=FIELD_CHECK,
        least=-90, most=90, examples=[54.41237],
    )
    shown_longitude_deg: Field[float] = says(
        "Shown longitude",
        "What the aircraft shows, in degrees, east positive. Left out, the mean of the rows is taken.",
        do="read the longitude on the aircraft's display, to five decimals", mind=FIELD_CHECK,
        least=-180, most=180, examples=[-2.94118],
    )
    place_latitude_deg: Field[float] = says(
        "Latitude of the place", "Where it stands, in degrees, north positive. Left out, the site's is taken.",
        do="read the latitude of the place off a map, to five decimals", least=-90, most=90, examples=[54.41235],
    )
    place_longitude_deg: Field[float] = says(
        "Longitude of the place", "Where it stands, in degrees, east positive. Left out, the site's is taken.",
        do="read the longitude of the place off a map, to five decimals", least=-180, most=180, examples=[-2.94121],
    )
    minutes_on: Field[float] = says(
        "Minutes on", "Minutes from switching the receiver on to reading the position.",
        do="note how many minutes the receiver was on when the position was read", mind=DESK,
        least=0, most=1440, examples=[6],
    )
    satellites: Field[int] = says(
        "Satellites", "How many satellites the position was worked out from, as the display shows.",
        do="read the number of satellites on the display", mind=FIELD_CHECK, least=0, most=100, examples=[14],
    )
    hdop: Field[float] = says(
        "HDOP",
        "Horizontal dilution of precision, as the display shows: how much worse the position is than a distance to one "
        "satellite, by where they stand. No unit.",
        do="read the horizontal dilution (HDOP) on the display", mind=FIELD_CHECK, above=0, most=100, examples=[0.9],
    )
    reference: Reference = like(INSTRUMENT)
    table: Field[Table] = columns(
        "latitude_deg", "longitude_deg", rows=5, optional=True,
        do="write the position shown once a minute, five times or more, to five decimals: columns latitude_deg and "
        "longitude_deg",
        mind=FIELD_CHECK,
    )


@group(
    "Movement",
    examples=[{"did": "nose-down", "indicated": "nose-down", "sped_up": ["front-left", "front-right"]}],
    asks=("indicated", "sped_up"),
)
class Move:
    """One movement of the aircraft by hand: what was done, what was indicated and which rotors answered."""

    place: Place
    did: Known[str] = says("Did", "How the aircraft was moved.", one_of=ATTITUDES, examples=["nose-down"])
    indicated: Field[str] = says(
        "Indicated", "What the flight controller indicated.",
        do="write what the flight controller indicated", on_paper=True, one_of=ATTITUDES, examples=["nose-down"],
    )
    sped_up: Field[tuple[Known[Position], ...]] = says(
        "Sped up", "The positions of the rotors that sped up in answer; [] where none did, all where every rotor did.",
        short="all", do="write which rotors sped up", on_paper=True, examples=[["front-left", "front-right"]],
    )
    slowed_down: Field[tuple[Known[Position], ...]] = says(
        "Slowed down",
        "The positions of the rotors that slowed down or stopped in answer; [] where none did, all where every rotor "
        "did.",
        short="all", do="write which rotors slowed down", on_paper=True, examples=[["rear-left", "rear-right"]],
    )


@group(
    "Stick movement",
    examples=[
        {
            "did": "throttle-up",
            "indicated": "throttle-up",
            "sped_up": "all",
        }
    ],
    asks=("indicated", "sped_up"),
)
class StickMove(Move):
    """One movement of a stick: what it asked for, what was indicated and which rotors answered."""

    did: Known[str] = says(
        "Did",
        "What the stick was moved for: an attitude, or the throttle up or down from a low setting at which every "
        "motor turns.",
        one_of=STICK_MOVES, examples=["throttle-up"],
    )
    indicated: Field[str] = says(
        "Indicated", "What the flight controller indicated.",
        do="write what the flight controller indicated", on_paper=True,
        one_of=STICK_MOVES, examples=["throttle-up"],
    )


@kind(
    "Tilt test",
    take=(
        "tip the nose down, tip the right side down and turn to the right, and note what is indicated and which "
        "rotors answer"
    ),
    mind=PROPS_REMOVED, speaks_for="aircraft", rung=Rung.BENCH_LOOK, minutes=2,
    asks=("props", "moves.nose-down", "moves.right-down", "moves.turned-right"),
)
class TiltTest(Dated):
    """Props removed: the aircraft moved by hand, and what the flight controller made of it."""

    props: Field[Props] = like(PROPS)
    moves: tuple[Move, ...] = says(
        "Movements", "One entry a movement.",
        count=(1, None), entry="move", needed=True, examples=[[{"did": "nose-down", "indicated": "nose-down"}]],
    )


@kind(
    "Stick check",
    take=(
        "move each stick, note which rotors answer and where each motor begins to turn, and try to arm with the "
        "throttle raised"
    ),
    mind=PROPS_REMOVED, speaks_for="aircraft", rung=Rung.BENCH_LOOK, minutes=3,
    asks=(
        "props", "moves.nose-down", "moves.right-down", "moves.turned-right", "moves.throttle-up",
        "start_throttle_percent", "arms_at_raised_throttle",
    ),
)
class StickCheck(Dated):
    """Props removed: the sticks moved, and what the flight controller made of it."""

    props: Field[Props] = like(PROPS)
    moves: tuple[StickMove, ...] = says(
        "Movements", "One entry a movement.",
        count=(1, None), entry="move", examples=[[{"did": "nose-down", "indicated": "nose-down"}]],
    )
    start_throttle_percent: Mapping[str, Known[float]] = says(
        "Start of turning", "For each position the throttle at which the motor begins to turn, in per cent.",
        least=0, most=100, examples=[{"front-left": 6.0}],
    )
    arms_at_raised_throttle: Field[bool] = says(
        "Arms at raised throttle", "true where the aircraft arms with the throttle raised.",
        do="try to arm with the throttle raised", mind=PROPS_REMOVED, examples=[False],
    )


@kind(
    "Link-loss test",
    take="with the motors running slowly switch the transmitter off, and time until the last one rests",
    mind=PROPS_REMOVED, speaks_for="aircraft", rung=Rung.BENCH_LOOK, minutes=3,
    asks=("props", "outputs_stopped", "seconds_to_stop", "restarted_on_regain"),
)
class LinkLossTest(Dated):
    """Props removed: the transmitter switched off with the motors running slowly."""

    props: Field[Props] = like(PROPS)
    outputs_stopped: Field[bool] = says(
        "Outputs stopped", "true where every output stopped.",
        do="say whether every output stopped", mind=DESK, examples=[True],
    )
    seconds_to_stop: Field[float] = says(
        "Time to stop", "From switching off to the last motor at rest, in s.",
        do="time from switching off to the last motor at rest", mind=PROPS_REMOVED, least=0, most=600, examples=[1.5],
    )
    restarted_on_regain: Field[bool] = says(
        "Restarted on regain", "true where any motor started again by itself when the link came back.",
        do="say whether any motor started again by itself when the link came back", mind=DESK, examples=[False],
    )


@kind(
    "Cut-off test",
    take="with the motors running slowly use the cut-off, and note whether every motor stops and stays stopped",
    mind=PROPS_REMOVED, speaks_for="aircraft", rung=Rung.BENCH_LOOK, minutes=2,
    asks=("props", "motors_stopped"),
)
class CutOffTest(Dated):
    """Props removed: the switch or stick position that stops the motors, used while they run slowly."""

    props: Field[Props] = like(PROPS)
    motors_stopped: Field[bool] = says(
        "Motors stopped",
        "true where every motor stopped at once, and stayed stopped with the throttle raised a little.",
        do="say whether every motor stopped and stayed stopped", examples=[True],
    )


@kind(
    "Range test",
    take="put the aircraft about 1 m above the ground, walk away with the transmitter and note how far control is "
    "complete",
    mind=PROPS_REMOVED, speaks_for="aircraft", rung=Rung.METER, minutes=5,
    asks=("distance_m", "reduced_power", "control_held"),
)
class RangeTest(Dated):
    """How far the radio link held."""

    distance_m: Field[float] = says(
        "Distance", "Greatest distance at which control was still complete, in m.",
        do="pace out the distance at which control was still complete", mind=PROPS_REMOVED,
        least=0, most=100000, examples=[60],
    )
    reduced_power: Field[bool] = says(
        "Reduced power", "true where the transmitter was set to reduced power.",
        do="say whether the transmitter was set to reduced power", mind=DESK, examples=[True],
    )
    reduced_by_db: Field[float] = says(
        "Reduced by", "By how much the transmitter reduced its power, in dB.",
        do="read in the transmitter's manual by how many dB the range test reduces its power", mind=DESK,
        least=0, most=80, examples=[30],
    )
    maker_asks_m: Field[float] = says(
        "Maker asks for", "Distance at which the maker of the transmitter asks control to hold in this test, in m.",
        do="read the distance of the range test in the transmitter's manual", mind=DESK,
        above=0, most=100000, examples=[30],
    )
    frequency_mhz: Field[float] = says(
        "Frequency", "Frequency of the radio link, in MHz.",
        do="read the frequency in the transmitter's manual", mind=DESK, least=1, most=100000, examples=[2400],
    )
    control_held: Field[bool] = says(
        "Control held", "true where control held all the way.",
        do="say whether control held all the way", mind=DESK, examples=[True],
    )


@dataclass(frozen=True)
class ControlRecords:
    """The records of answers to tilts, sticks and a lost link, each kind in the order written."""

    six_positions: tuple[SixPositions, ...]
    barometer_check: tuple[BarometerCheck, ...]
    position_check: tuple[PositionCheck, ...]
    tilt_test: tuple[TiltTest, ...]
    stick_check: tuple[StickCheck, ...]
    link_loss_test: tuple[LinkLossTest, ...]
    cut_off_test: tuple[CutOffTest, ...]
    range_test: tuple[RangeTest, ...]
