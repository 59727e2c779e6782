"""What the records of several kinds share: a date, the settings in force, the instrument compared with."""

from preflint.aircraft.declare import group, like, says
from preflint.aircraft.field import Field, Known
from preflint.aircraft.moment import Moment
from preflint.aircraft.settings import (
    DIVIDER_RATIO,
    HARD_IRON_UT,
    INTERFERENCE_OFFSET_UT_PER_A,
    SENSOR_MV_PER_A,
    ZERO_MV,
)
from preflint.places import Place
from preflint.precautions import DESK


@group("Record", examples=[{"date": "2026-04-18"}])
class Dated:
    """What every record has."""

    place: Place  # the key or the entry that people are pointed at
    date: Known[Moment] = says(
        "Date", "When it was done: YYYY-MM-DD or YYYY-MM-DD HH:MM, local.", examples=["2026-04-18"]
    )


@group("Settings in force", examples=[{"divider_ratio": 14.6}])
class InForce:
    """The settings that were in the flight controller while the record was taken."""

    place: Place
    divider_ratio: Field[float] = like(
        DIVIDER_RATIO, do="write the divider_ratio that was set while the readings were taken", on_paper=True,
    )
    sensor_mv_per_a: Field[float] = like(
        SENSOR_MV_PER_A, do="write the sensor_mv_per_a that was set while the readings were taken", on_paper=True,
    )
    zero_mv: Field[float] = like(
        ZERO_MV, do="write the zero_mv that was set while the readings were taken", on_paper=True,
    )
    interference_offset_ut_per_a: Field[tuple[float, ...]] = like(
        INTERFERENCE_OFFSET_UT_PER_A, do="write the offset that was set during the run", on_paper=True,
    )
    hard_iron_ut: Field[tuple[float, ...]] = like(
        HARD_IRON_UT, do="write the hard_iron_ut that was set during the readings", on_paper=True,
    )
    soft_iron: Field[tuple[tuple[float, ...], ...]] = says(
        "Soft-iron matrix",
        "3 by 3 matrix that the flight controller multiplied the field by, row by row, after it added the "
        "hard-iron correction; no unit.",
        do="write the soft_iron that was set during the readings", on_paper=True,
        count=3, least=-10, most=10, examples=[[[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]]],
    )


@group("Reference", examples=[{"instrument": "inline meter", "accuracy_percent": 0.5, "resolution_v": 0.01}])
class Reference:
    """The instrument compared with. Its accuracy is one error common to all its readings."""

    place: Place
    instrument: Field[str] = says(
        "Instrument", "What it is, or its name.",
        do="name the instrument", examples=["inline meter"],
    )
    accuracy_percent: Field[float] = says(
        "Accuracy", "In per cent of the reading.",
        do="read the accuracy in the instrument's manual, in per cent of the reading", mind=DESK,
        least=0, most=50, examples=[0.5],
    )
    accuracy_v: Field[float] = says(
        "Fixed accuracy, volts", "Fixed part of the accuracy, in V.",
        do="read the fixed part of the accuracy in the manual, in V", mind=DESK, least=0, most=10, examples=[0.02],
    )
    accuracy_a: Field[float] = says(
        "Fixed accuracy, amperes", "Fixed part of the accuracy, in A.",
        do="read the fixed part of the accuracy in the manual, in A", mind=DESK, least=0, most=100, examples=[0.1],
    )
    accuracy_deg: Field[float] = says(
        "Accuracy of the true heading", "In degrees.",
        do="say how well the true heading was known", mind=DESK, least=0, most=45, examples=[2],
    )
    accuracy_hpa: Field[float] = says(
        "Accuracy of the barometer", "In hPa.",
        do="read the accuracy in the barometer's manual", mind=DESK, least=0, most=50, examples=[0.5],
    )
    accuracy_m: Field[float] = says(
        "Accuracy of the place", "How well the place is known, in m.",
        do="say how well the place is known", least=0, most=100000, examples=[5],
    )
    resolution_v: Field[float] = says(
        "Last digit, volts", "In V.",
        do="the last digit of the display, in V", above=0, most=10, examples=[0.01],
    )
    resolution_a: Field[float] = says(
        "Last digit, amperes", "In A.",
        do="the last digit of the display, in A", above=0, most=100, examples=[0.1],
    )
    zero_a: Field[float] = says(
        "Zero, amperes", "What the meter showed with no current through it, in A; it is taken off its readings.",
        do="note what the meter shows with nothing in its clamp, or with nothing plugged in",
        least=-20, most=20, examples=[0.1],
    )


ROTOR = says("Position", "Which rotor.", examples=["rear-left"])
EACH_ROTOR = says(
    "Position", "Which rotor; all where it was done at every rotor, with this outcome at each.",
    examples=["rear-left", "all"],
)
PACK_LABEL = says(
    "Pack", "The label of the pack that was plugged in.",
    do="write the pack's label", on_paper=True, examples=["A1"],
)
PROPS = says(
    "Props", "Whether the props were removed or fitted while this was done.",
    do="say whether the props were removed", mind=DESK, examples=["removed"],
)
LOAD = says(
    "Load",
    "How the load was made: inverted-load (props exchanged and turned over, pushing down), restrained (tied down in "
    "the flight rig) or hover-log (from flight).",
    do="say how the load was made: inverted-load, restrained or hover-log", mind=DESK, examples=["inverted-load"],
)
FIELD_IS = says(
    "Field is", "raw (as measured) or compensated (offset or corrections already added).", examples=["raw"]
)
SETTINGS_IN_FORCE = says(
    "Settings in force",
    "The settings that were in the flight controller while this was taken, as far as they matter here.",
    examples=[{"divider_ratio": 14.6}],
)
INSTRUMENT = says(
    "Reference", "The instrument compared with.", examples=[{"instrument": "inline meter", "accuracy_percent": 0.5}]
)
