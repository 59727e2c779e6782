"""What is fed from the pack besides the motors."""

from preflint.aircraft.declare import group, says
from preflint.aircraft.field import Field
from preflint.places import Place
from preflint.precautions import DESK, SETTINGS


@group("Regulator", examples=[{"continuous_a": 5, "load_a": 1.4}])
class Regulator:
    """What feeds flight controller, receiver and servos from the pack."""

    place: Place
    continuous_a: Field[float] = says(
        "Continuous rating", "Current that it gives continuously, in A.",
        do="read the regulator's continuous rating off its label", mind=DESK, above=0, most=200, examples=[5],
    )
    load_a: Field[float] = says(
        "Load", "What all that hangs on it takes together at most, in A.",
        do="add up what hangs on the regulator, or read a meter in its output", mind=SETTINGS,
        least=0, most=200, examples=[1.4],
    )
    least_v: Field[float] = says(
        "Lowest input", "Least input at which it still holds its output, in V.",
        do="read the regulator's lowest input in its data sheet", mind=DESK, above=0, most=200, examples=[6.5],
    )
    most_v: Field[float] = says(
        "Highest input", "Most input that it bears, in V.",
        do="read the regulator's highest input in its data sheet", mind=DESK, above=0, most=200, examples=[30],
    )
