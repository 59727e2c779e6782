"""What the aircraft carries besides its rotors, and where it is flown."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from preflint.aircraft.field import Field, Known, learn
from preflint.aircraft.rotor import Turning
from preflint.places import Place
from preflint.precautions import PROPS_REMOVED


@dataclass(frozen=True, slots=True)
class Airframe:
    """The section ``aircraft``."""

    place: Place
    name: Known[str]
    layout: Known[str]
    owner: Field[str] = learn("write who answers for it")
    arm_mm: Field[float] = learn("measure from the centre to a motor shaft")
    takeoff_mass_g: Field[float] = learn("weigh it ready to fly, pack in")
    relies_on: Field[tuple[str, ...]] = learn(
        "say what flight relies on: compass, barometer, satellite, or nothing: []"
    )


@dataclass(frozen=True, slots=True)
class Site:
    """A place to fly. Either pressure; the temperature is the air's."""

    place: Place
    name: Field[str] = learn("name the site")
    latitude_deg: Field[float] = learn("read the site's latitude off a map, in degrees, north positive")
    longitude_deg: Field[float] = learn("read the site's longitude off a map, in degrees, east positive")
    elevation_m: Field[float] = learn("read the site's elevation off a map, in metres above sea level")
    temperature_c: Field[float] = learn("read a thermometer or the forecast")
    relative_humidity_percent: Field[float] = learn("read the weather report")
    station_pressure_hpa: Field[float] = learn("read a barometer at the place")
    sea_level_pressure_hpa: Field[float] = learn("read the weather report")


@dataclass(frozen=True, slots=True)
class Lead:
    """The wires between pack and aircraft; ``one_way_length_mm`` counts one of the two."""

    place: Place
    gauge_awg: Field[int] = learn("read it off the wire")
    one_way_length_mm: Field[float] = learn("measure one wire of the pair")


@dataclass(frozen=True, slots=True)
class Pack:
    """One labelled flight pack. The same label may not stand twice."""

    place: Place
    label: Field[str] = learn("label the pack")
    chemistry: Field[Literal["lipo", "lipo-hv", "li-ion", "life"]] = learn("read it off the pack")
    cells: Field[int] = learn("count the cells in series: wires of the balance plug less one")
    capacity_mah: Field[float] = learn("read it off the pack")
    rated_c: Field[float] = learn("read it off the pack")
    mass_g: Field[float] = learn("weigh it")
    lead: Lead = learn("")
    connector_continuous_a: Field[float] = learn("read the connector maker's continuous rating")


@dataclass(frozen=True, slots=True)
class PowerSensing:
    """Settings by which the flight controller turns what it senses into volts and amperes.

    volts = input volts × ``divider_ratio``; amperes = (input mV − ``zero_mv``) / ``sensor_mv_per_a``.
    """

    place: Place
    divider_ratio: Field[float] = learn(
        "read the ratio of the voltage divider in the flight controller's settings", PROPS_REMOVED
    )
    sensor_mv_per_a: Field[float] = learn(
        "read the current sensor's scale in the flight controller's settings", PROPS_REMOVED
    )
    zero_mv: Field[float] = learn("read the current sensor's zero in the flight controller's settings", PROPS_REMOVED)
    input_full_scale_mv: Field[float] = learn(
        "read the range of the flight controller's analogue input in its data sheet"
    )
    input_bits: Field[int] = learn(
        "read the number of bits of the flight controller's analogue input in its data sheet"
    )


@dataclass(frozen=True, slots=True)
class Compass:
    """What the flight controller adds to the measured field, in body axes (forward, right, down)."""

    place: Place
    interference_offset_ut_per_a: Field[tuple[float, ...]] = learn(
        "read the installed offset in the flight controller's settings", PROPS_REMOVED
    )
    hard_iron_ut: Field[tuple[float, ...]] = learn(
        "read the compass's hard-iron correction in the flight controller's settings", PROPS_REMOVED
    )
    soft_iron: Field[tuple[tuple[float, ...], ...]] = learn(
        "read the 3 by 3 matrix in the flight controller's settings", PROPS_REMOVED
    )
    noise_ut: Field[float] = learn("read the noise of one reading in the compass's data sheet")


@dataclass(frozen=True, slots=True)
class Barometer:
    """A pressure sensor on board."""

    place: Place
    accuracy_hpa: Field[float] = learn("read it in the sensor's data sheet")


@dataclass(frozen=True, slots=True)
class SatelliteReceiver:
    """A satellite position receiver on board."""

    place: Place
    make: Field[str] = learn("read it off the receiver")


@dataclass(frozen=True, slots=True)
class FlightController:
    """What the flight controller was told about the rotors."""

    place: Place
    make: Field[str] = learn("read it off the board")
    expects_spin: Mapping[str, Known[Turning]] = learn("")
