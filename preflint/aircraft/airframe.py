"""The aircraft as a whole, and where it is flown."""

from typing import Literal

from preflint.aircraft.declare import group, like, says
from preflint.aircraft.field import Field, Known
from preflint.aircraft.layouts import NAMES
from preflint.aircraft.rung import Rung
from preflint.aircraft.weather import (
    HUMIDITY,
    NOT_BOTH_PRESSURES,
    SEA_LEVEL_PRESSURE,
    STATION_PRESSURE,
    TEMPERATURE,
    Day,
)
from preflint.places import Place
from preflint.precautions import DESK


@group(
    "Aircraft",
    examples=[{"name": "Lapwing", "layout": "quad-x", "arm_mm": 310}],
    rung=Rung.METER,
    minutes=3,
    shows="Take-off mass and thrust",
)
class Airframe:
    """What the aircraft is."""

    place: Place
    name: Known[str] = says("Name", "What you call the aircraft.", examples=["Lapwing"], unjudged="label")
    layout: Known[str] = says(
        "Layout",
        "Where the rotors sit. Anything not in the list is custom: each rotor then gets a name (at) and place_mm.",
        one_of=NAMES, examples=["quad-x"],
    )
    owner: Field[str] = says(
        "Owner", "Who answers for the aircraft.",
        do="write who answers for it", on_paper=True, examples=["R. Ashdown"], unjudged="label",
    )
    arm_mm: Field[float] = says(
        "Arm length", "Centre of the rotors to a motor shaft, in mm.",
        do="measure from the centre to a motor shaft", least=10, most=5000, examples=[310],
    )
    takeoff_mass_g: Field[float] = says(
        "Take-off mass", "Mass ready to fly, in g.",
        do="weigh it ready to fly, with its pack, unplugged", least=10, most=150000, examples=[2650],
    )
    relies_on: Field[tuple[Literal["compass", "barometer", "satellite"], ...]] = says(
        "Relies on",
        "What flight relies on: any of compass, barometer, satellite (position). Left out, it means whatever of "
        "these is fitted; [] means nothing.",
        do="write relies_on: with any of compass, barometer, satellite, or relies_on: [] for none", on_paper=True,
        examples=[["compass", "barometer"]],
    )


@group(
    "Site",
    examples=[{"latitude_deg": 54.61, "longitude_deg": -3.12, "elevation_m": 180}],
    also=NOT_BOTH_PRESSURES,
)
class Site:
    """Where the aircraft is flown."""

    place: Place
    name: Field[str] = says(
        "Name", "What the site is called.", do="name the site", examples=["Tarn Meadow"], unjudged="label",
    )
    latitude_deg: Field[float] = says(
        "Latitude", "Degrees north of the equator; south is negative.",
        do="read the site's latitude off a map, in degrees, north positive", mind=DESK,
        least=-90, most=90, examples=[54.61],
    )
    longitude_deg: Field[float] = says(
        "Longitude", "Degrees east of Greenwich; west is negative.",
        do="read the site's longitude off a map, in degrees, east positive", mind=DESK,
        least=-180, most=180, examples=[-3.12],
    )
    elevation_m: Field[float] = says(
        "Elevation", "Metres above sea level.",
        do="read the site's elevation off a map, in metres above sea level", mind=DESK,
        least=-450, most=9000, examples=[180],
    )
    highest_obstacle_m: Field[float] = says(
        "Highest obstacle",
        "The highest tree, mast, roof or hilltop that it may fly over, in m above the take-off place.",
        do="look how high the highest tree, mast, roof or hilltop stands above the take-off place, in m", mind=DESK,
        least=0, most=5000, examples=[18],
    )
    temperature_c: Field[float] = like(TEMPERATURE)
    relative_humidity_percent: Field[float] = like(HUMIDITY)
    station_pressure_hpa: Field[float] = like(STATION_PRESSURE)
    sea_level_pressure_hpa: Field[float] = like(SEA_LEVEL_PRESSURE)
    days: tuple[Day, ...] = says(
        "Days", "The weather of single days, one entry a day; a club writes it once for all, in its policy.",
        entry="day", examples=[[{"date": "2026-05-23", "wind_m_s": 4, "source": "forecast"}]],
    )
