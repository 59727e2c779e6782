"""What the aircraft does in the air when the link is lost, and how far it may go."""

from typing import Literal

from preflint.aircraft.declare import group, says
from preflint.aircraft.field import Field
from preflint.aircraft.rung import Rung
from preflint.places import Place
from preflint.precautions import SETTINGS


@group(
    "Loss of link in the air",
    examples=[{"on_link_loss": "comes-home", "height_m": 40}],
    rung=Rung.METER,
    minutes=3,
)
class Home:
    """What the flight controller is set to do in the air when the link is lost, and the fence that it keeps to."""

    place: Place
    on_link_loss: Field[Literal["comes-home", "lands", "holds", "stops"]] = says(
        "On loss of link",
        "What it does in the air: comes-home (to where it took off), lands (where it is), holds (its place) or stops "
        "(every motor: it falls).",
        do="look in the flight controller's settings what it does in the air when the link is lost", mind=SETTINGS,
        examples=["comes-home"],
    )
    height_m: Field[float] = says(
        "Return height", "How high it comes home, in m above the take-off place.",
        do="read the height at which it comes home in the flight controller's settings", mind=SETTINGS,
        least=0, most=10000, examples=[40],
    )
    fence_radius_m: Field[float] = says(
        "Fence, radius",
        "How far from the take-off place the flight controller lets it fly, in m; left out where it sets no bound.",
        do="read the radius of the fence in the flight controller's settings", mind=SETTINGS,
        above=0, most=100000, examples=[400],
    )
    fence_height_m: Field[float] = says(
        "Fence, height",
        "How high above the take-off place the flight controller lets it fly, in m; left out where it sets no bound.",
        do="read the height of the fence in the flight controller's settings", mind=SETTINGS,
        above=0, most=10000, examples=[100],
    )
