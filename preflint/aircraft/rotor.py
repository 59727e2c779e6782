"""What sits at one place of the frame: motor, speed controller, prop and the way the prop is held."""

from dataclasses import dataclass
from typing import Literal

from preflint.aircraft.field import Field, learn
from preflint.places import Place
from preflint.precautions import PROPS_REMOVED, THRUST_STAND

Turning = Literal["cw", "ccw"]


@dataclass(frozen=True, slots=True)
class MotorScrews:
    """The screws that hold the motor to its arm."""

    place: Place
    size: Field[str] = learn("read the screw size, such as M3, off the bag or measure the thread")
    length_mm: Field[float] = learn("measure one screw below its head")
    plate_mm: Field[float] = learn("measure the arm plate and washers that the screw passes through")
    hole_depth_mm: Field[float] = learn(
        "measure the depth of the motor's threaded hole with a thin rod, before the windings"
    )


@dataclass(frozen=True, slots=True)
class Motor:
    """One motor; ``shaft_mm`` is the diameter that adapters and collets grip."""

    place: Place
    make: Field[str] = learn("read it off the motor")
    kv_rpm_per_v: Field[float] = learn("read it off the motor or its data sheet")
    shaft_mm: Field[float] = learn("measure the shaft with calipers")
    mass_g: Field[float] = learn("weigh it")
    full_throttle_draw_a: Field[float] = learn(
        "read the thrust table for this prop and cell count, or measure on a thrust stand", THRUST_STAND
    )
    max_thrust_g: Field[float] = learn(
        "read the thrust table for this prop and cell count, or measure on a thrust stand", THRUST_STAND
    )
    screws: MotorScrews = learn("")


@dataclass(frozen=True, slots=True)
class Esc:
    """One electronic speed controller; ``spin_set_by`` says how its motor was made to turn the way it does."""

    place: Place
    make: Field[str] = learn("read it off the controller")
    continuous_a: Field[float] = learn("read the continuous rating off the label")
    max_cells: Field[int] = learn("read the cell limit off the label")
    active_braking: Field[bool] = learn(
        "look in the controller's settings whether it brakes when the throttle closes", PROPS_REMOVED
    )
    spin_set_by: Field[Literal["wires", "setting"]] = learn(
        "note whether the spin was set by the order of the motor wires or by a setting of the controller"
    )


@dataclass(frozen=True, slots=True)
class Prop:
    """One prop. ``hand``: domed side toward you, the way it turns with its rounded edges leading."""

    place: Place
    make: Field[str] = learn("read it off the hub")
    batch: Field[str] = learn("read it off the bag")
    hand: Field[Turning] = learn(
        "hold the prop with its domed side toward you: it is cw if the rounded edges lead when it turns clockwise"
    )
    face: Field[Literal["up", "down"]] = learn("look at the mounted prop: does its domed side point up or down?")
    diameter_in: Field[float] = learn("read it off the prop")
    pitch_in: Field[float] = learn("read it off the prop")
    blades: Field[int] = learn("count the blades")
    mass_g: Field[float] = learn("weigh it")
    bore_mm: Field[float] = learn("measure the hole in the hub with calipers")
    hub: Field[Literal["plain", "stepped", "folding"]] = learn(
        "look at the hub: same both sides, stepped on one side, or folding"
    )


@dataclass(frozen=True, slots=True)
class Fixing:
    """How the prop is held. Of a threaded hub the hub itself is the nut."""

    place: Place
    kind: Field[Literal["nut", "collet", "set-screw", "screws", "clip", "threaded-hub"]] = learn(
        "look at what holds the prop: nut, collet, set-screw, screws, clip or threaded-hub"
    )
    nut_tightens: Field[Turning] = learn("pack unplugged, looking at the nut: which way do you turn it to tighten it?")
    thread_hand: Field[Literal["left", "right"]] = learn(
        "look at the bare thread held upright: it rises to the side of its hand"
    )
    thread_size: Field[str] = learn("read it off the adapter's bag")
    nut_kind: Field[Literal["plain", "locknut-new", "locknut-reused"]] = learn(
        "look at the nut: plain, or a locknut, and whether it has been used before"
    )
    bag_says: Field[Turning] = learn("read the turning printed on the adapter's bag")
    bag_means: Field[Literal["screwing", "motor"]] = learn(
        "find out whether the bag's turning is the way the nut screws on, or the motor it is meant for"
    )
    thread_past_locknut: Field[bool] = learn("look whether thread shows past the tightened locknut")
    prop_slips: Field[bool] = learn("pack unplugged, nut tight: hold the motor and try to turn the prop by hand")
    grips_mm: Field[float] = learn("read the shaft size that the collet or adapter is made for")
    shaft_flat: Field[bool] = learn("look whether the set-screw sits on a flat of the shaft")
    latched: Field[bool] = learn("look and pull: is every clip latched?")
    seat_mm: Field[float] = learn("measure the diameter that the prop's hole sits on")
    centring_ring: Field[Literal["fitted", "missing", "not-needed"]] = learn(
        "look whether a ring fills the gap between the hub's hole and the seat"
    )


@dataclass(frozen=True, slots=True)
class Rotor:
    """One rotor as written under ``rotors``, with what ``every_rotor`` adds."""

    place: Place
    at: Field[str] = learn("give the rotor its position")
    place_mm: Field[tuple[float, ...]] = learn("measure forward, right and down from the centre of the rotors, in mm")
    spin: Field[Turning] = learn(
        "props removed: let each motor turn briefly, look from above the aircraft, and write its spin under rotors "
        "and a spin_test",
        PROPS_REMOVED,
    )
    nut_points: Field[Literal["up", "down"]] = learn("look which way the shaft's nut end points")
    ducted: Field[bool] = learn("look whether a duct closes round the prop's tips; a guard or a cage is no duct")
    motor: Motor = learn("")
    esc: Esc = learn("")
    prop: Prop = learn("")
    fixing: Fixing = learn("")
