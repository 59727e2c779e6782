"""What the next flights are to be: how far, how high, how fast, how long."""

from preflint.aircraft.declare import group, says
from preflint.aircraft.field import Field
from preflint.places import Place
from preflint.precautions import DESK


@group("Plan", examples=[{"farthest_m": 300, "airspeed_m_s": 10, "flight_min": 8}])
class Plan:
    """The flight that is planned with this aircraft: the farthest, the highest, the longest that it is to fly."""

    place: Place
    farthest_m: Field[float] = says(
        "Farthest", "How far from the pilot the aircraft is to fly at most, over the ground, in m.",
        do="say how far out you will fly at most", mind=DESK, on_paper=True, least=0, most=20000, examples=[300],
    )
    height_m: Field[float] = says(
        "Height", "How high above the pilot it is to fly at most, in m.",
        do="say how high you will fly at most", mind=DESK, on_paper=True, least=0, most=5000, examples=[30],
    )
    airspeed_m_s: Field[float] = says(
        "Airspeed", "How fast it flies home through still air, in m/s; not the most that it can do.",
        do="read the speed of a flight home on a still day", mind=DESK, on_paper=True, above=0, most=100, examples=[10],
    )
    descent_m_s: Field[float] = says(
        "Descent", "How fast it comes down, in m/s.",
        do="say how fast it comes down", mind=DESK, on_paper=True, above=0, most=30, examples=[1.5]
    )
    wind_m_s: Field[float] = says(
        "Wind", "The strongest wind, at the height of the flight, in which it is to fly, in m/s.",
        do="say in how much wind you will fly at most: the forecast's at that height, or your own limit",
        mind=DESK, on_paper=True, least=0, most=60, examples=[6],
    )
    flight_min: Field[float] = says(
        "Flight time", "How long the flight is to last from take-off until it turns home, in minutes.",
        do="say after how many minutes you will turn home", mind=DESK, on_paper=True, above=0, most=600, examples=[8]
    )
    reserve_percent: Field[float] = says(
        "Reserve", "What is to be left in the pack when it has landed, in per cent of the charge it can give.",
        do="say how much charge you want left after landing", mind=DESK, on_paper=True, least=0, most=90, examples=[20]
    )
