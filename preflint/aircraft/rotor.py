"""What sits at one place of the frame."""

from typing import Literal

from preflint.aircraft.declare import group, says
from preflint.aircraft.field import Field
from preflint.aircraft.motor import Esc as Esc
from preflint.aircraft.motor import Motor as Motor
from preflint.aircraft.motor import MotorScrews as MotorScrews
from preflint.aircraft.prop import Fixing as Fixing
from preflint.aircraft.prop import Prop as Prop
from preflint.aircraft.words import Position
from preflint.aircraft.words import Turning as Turning
from preflint.places import Place
from preflint.precautions import PROPS_REMOVED


@group("Rotor", examples=[{"at": "front-left", "spin": "cw"}])
class Rotor:
    """One rotor: motor, speed controller, prop and how the prop is held."""

    place: Place
    at: Field[Position] = says(
        "Position", "Where the rotor sits.",
        do="give the rotor its position", needed=True, examples=["front-left"],
    )
    place_mm: Field[tuple[float, ...]] = says(
        "Place", "Forward, right and down from the centre of the rotors, in mm. Needed for layout custom.",
        do="measure forward, right and down from the centre of the rotors, in mm",
        count=3, least=-10000, most=10000, examples=[[220, -220, 0]],
    )
    spin: Field[Turning] = says(
        "Spin", "The way the motor turns, as seen from above the aircraft.",
        do=(
            "let each motor turn briefly; look from above the aircraft; write its spin under rotors and in a "
            "spin_test"
        ),
        mind=PROPS_REMOVED,
        examples=["cw"],
    )
    nut_points: Field[Literal["up", "down"]] = says(
        "Nut points", "Which way the shaft's nut end points. Left out: down for -lower rotors, up for all others.",
        do="look which way the shaft's nut end points", examples=["up"],
    )
    ducted: Field[bool] = says(
        "Ducted",
        "true where the prop turns in a duct that closes round its tips, which lifts too; false for an open "
        "rotor. A guard or a cage is no duct. Left out: taken as open, and said so.",
        do="look whether a duct closes round the prop's tips; a guard or a cage is no duct", examples=[False],
    )
    tip_gap_mm: Field[float] = says(
        "Tip gap",
        "Least gap between the blades and anything else as the prop is turned by hand, in mm: frame, legs, straps, "
        "leads, other props.",
        do="turn the prop by hand and measure the least gap of its blades to frame, legs, straps, leads and props",
        least=0, most=2000, examples=[18],
    )
    motor: Motor = says("Motor", "The motor.", file=True, examples=[{"kv_rpm_per_v": 420}, "parts/motor.yaml"])
    esc: Esc = says(
        "Speed controller", "The electronic speed controller.",
        file=True, examples=[{"continuous_a": 40}, "parts/speed-controller.yaml"],
    )
    prop: Prop = says("Prop", "The prop.", file=True, examples=[{"hand": "cw", "face": "up"}, "parts/prop.yaml"])
    fixing: Fixing = says(
        "Fixing", "How the prop is held.",
        file=True, examples=[{"kind": "nut", "nut_tightens": "ccw"}, "parts/fixing.yaml"],
    )
