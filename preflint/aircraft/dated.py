"""What the records of all kinds share: a date, the settings in force, the instrument compared with."""

from dataclasses import dataclass

from preflint.aircraft.field import Field, Known, learn
from preflint.aircraft.moment import Moment
from preflint.places import Place


@dataclass(frozen=True, slots=True)
class InForce:
    """The settings that were in the flight controller while the record was taken."""

    place: Place
    divider_ratio: Field[float] = learn("write the divider_ratio that was set while the readings were taken")
    sensor_mv_per_a: Field[float] = learn("write the sensor_mv_per_a that was set while the readings were taken")
    zero_mv: Field[float] = learn("write the zero_mv that was set while the readings were taken")
    interference_offset_ut_per_a: Field[tuple[float, ...]] = learn("write the offset that was set during the run")
    hard_iron_ut: Field[tuple[float, ...]] = learn("write the hard_iron_ut that was set during the readings")
    soft_iron: Field[tuple[tuple[float, ...], ...]] = learn("write the soft_iron that was set during the readings")


@dataclass(frozen=True, slots=True)
class Reference:
    """The instrument compared with. Its accuracy is one error common to all its rows."""

    place: Place
    instrument: Field[str] = learn("name the instrument")
    accuracy_percent: Field[float] = learn("read the accuracy in the instrument's manual, in per cent of the reading")
    accuracy_v: Field[float] = learn("read the fixed part of the accuracy in the manual, in V")
    accuracy_a: Field[float] = learn("read the fixed part of the accuracy in the manual, in A")
    accuracy_deg: Field[float] = learn("say how well the true heading was known")
    accuracy_hpa: Field[float] = learn("read the accuracy in the barometer's manual")
    resolution_v: Field[float] = learn("the last digit of the display, in V")
    resolution_a: Field[float] = learn("the last digit of the display, in A")


@dataclass(frozen=True, slots=True)
class Dated:
    """What every record has. ``place`` is the key or the entry that people are pointed at."""

    place: Place
    date: Known[Moment]
