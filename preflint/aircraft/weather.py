"""The weather of a place: as it usually is, and as it is forecast or measured for one day."""

from typing import Literal

from preflint.aircraft.declare import group, like, says
from preflint.aircraft.field import Field, Known
from preflint.aircraft.moment import Moment
from preflint.places import Place
from preflint.precautions import DESK

STATION_PRESSURE = says(
    "Pressure at the place", "Air pressure at the place itself, in hPa. Not together with sea_level_pressure_hpa.",
    do="read a barometer at the place", mind=DESK, least=300, most=1100, examples=[986.4],
)
SEA_LEVEL_PRESSURE = says(
    "Pressure at sea level",
    "Air pressure reduced to sea level, as weather reports give it, in hPa. Not together with station_pressure_hpa.",
    do="read the weather report", least=850, most=1100, examples=[1013.2],
)
NOT_BOTH_PRESSURES = {"not": {"required": ["station_pressure_hpa", "sea_level_pressure_hpa"]}}
TEMPERATURE = says(
    "Air temperature", "Temperature of the air, in degrees Celsius.",
    do="read a thermometer or the forecast", mind=DESK, least=-60, most=60, examples=[14],
)
HUMIDITY = says(
    "Relative humidity", "In per cent.",
    do="read the weather report", mind=DESK, least=0, most=100, examples=[70],
)

_FORECAST = "read the forecast of the day"


@group(
    "Day",
    examples=[{"date": "2026-05-23", "wind_m_s": 4, "at_height_m": 10, "gust_m_s": 7, "source": "forecast"}],
    also=NOT_BOTH_PRESSURES,
)
class Day:
    """The weather of one day, as forecast or measured. It counts where the aircraft is judged for that day, and its
    temperature, humidity and pressure then take the place of the site's.
    """

    place: Place
    date: Known[Moment] = says("Date", "The day, YYYY-MM-DD.", examples=["2026-05-23"])
    wind_m_s: Field[float] = says(
        "Wind", "Mean wind of ten minutes, in m/s.",
        do=f"{_FORECAST}, or hold an anemometer into the wind for ten minutes; write wind_m_s", mind=DESK,
        least=0, most=100, examples=[4],
    )
    at_height_m: Field[float] = says(
        "Height of the wind",
        "Height above the ground at which the wind was measured, in m; of a forecast 10 m where it is left out.",
        do="write how high above the ground the wind was measured", mind=DESK, on_paper=True,
        above=0, most=1000, examples=[2],
    )
    gust_m_s: Field[float] = says(
        "Gusts", "Highest gust, in m/s.",
        do=f"{_FORECAST}; write gust_m_s", mind=DESK, least=0, most=150, examples=[7],
    )
    temperature_c: Field[float] = like(
        TEMPERATURE, do="read a thermometer in the shade, or the forecast; write temperature_c", mind=DESK,
    )
    relative_humidity_percent: Field[float] = says(
        "Relative humidity", "In per cent.",
        do=f"{_FORECAST}; write relative_humidity_percent", mind=DESK, above=0, most=100, examples=[70],
    )
    station_pressure_hpa: Field[float] = like(STATION_PRESSURE)
    sea_level_pressure_hpa: Field[float] = like(SEA_LEVEL_PRESSURE)
    rain: Field[Literal["none", "light", "heavy"]] = says(
        "Rain", "none, light (drizzle or a few drops; snow as well) or heavy.",
        do="look at the sky and at the forecast; write rain: none, light or heavy", mind=DESK, examples=["none"],
    )
    fog: Field[bool] = says(
        "Fog", "true in fog or mist, or where the flight reaches cloud.",
        do="look at the sky; write fog: true or false", mind=DESK, examples=[False],
    )
    source: Field[Literal["forecast", "anemometer"]] = says(
        "Source", "Where the wind is from: forecast, or anemometer where it was measured at the place.",
        do="write source: forecast or anemometer", mind=DESK, on_paper=True, examples=["forecast"],
    )
