"""What weather the aircraft is made for."""

from typing import Literal

from preflint.aircraft.declare import group, says
from preflint.aircraft.field import Field
from preflint.places import Place
from preflint.precautions import DESK

_OF_MAKER = "by its maker, or by what it has flown in"


@group(
    "Limits of the aircraft",
    examples=[{"wind_m_s": 9, "gust_m_s": 12, "airspeed_m_s": 18, "least_c": -5, "most_c": 40, "rain": "none"}],
)
class Limits:
    """The weather that the aircraft is made for, by the maker of its kit or by what it has flown in."""

    place: Place
    wind_m_s: Field[float] = says(
        "Wind limit", "Most mean wind that it is flown in, in m/s.",
        do=f"write the most wind that it is flown in, {_OF_MAKER}, as wind_m_s under limits_of_aircraft",
        mind=DESK, above=0, most=100, examples=[9],
    )
    gust_m_s: Field[float] = says(
        "Gust limit", "Strongest gust that it is flown in, in m/s; left out, the wind limit counts for gusts as well.",
        do=f"write the strongest gust that it is flown in, {_OF_MAKER}",
        mind=DESK, above=0, most=150, examples=[12],
    )
    airspeed_m_s: Field[float] = says(
        "Airspeed", "The speed that it reaches level through the air, fully loaded, in m/s.",
        do="read it in the maker's data sheet, or off a log of a flight in still air",
        mind=DESK, above=0, most=150, examples=[18],
    )
    least_c: Field[float] = says(
        "Coldest air", "Lowest air temperature that it is flown in, in degrees Celsius.",
        do=f"write the lowest air temperature that it is flown in, {_OF_MAKER}, as least_c under limits_of_aircraft",
        mind=DESK, least=-60, most=60, examples=[-5],
    )
    most_c: Field[float] = says(
        "Warmest air", "Highest air temperature that it is flown in, in degrees Celsius.",
        do=f"write the highest air temperature that it is flown in, {_OF_MAKER}, as most_c under limits_of_aircraft",
        mind=DESK, least=-60, most=60, examples=[40],
    )
    rain: Field[Literal["none", "light"]] = says(
        "Rain limit", "Most rain that it is flown in: none, or light.",
        do=f"write rain: none or light under limits_of_aircraft, {_OF_MAKER}", mind=DESK, examples=["none"],
    )
