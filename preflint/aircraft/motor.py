"""What turns a prop: motor and electronic speed controller."""

from typing import Literal

from preflint.aircraft.declare import group, says
from preflint.aircraft.field import Field
from preflint.places import Place
from preflint.precautions import DESK, SETTINGS, THRUST_STAND


@group("Motor screws", examples=[{"size": "M3", "length_mm": 8}])
class MotorScrews:
    """The screws that hold the motor to its arm."""

    place: Place
    size: Field[str] = says(
        "Screw size", "Thread size of the screws; a size, never a hand.",
        do="read the screw size, such as M3, off the bag or measure the thread", longest=20, examples=["M3"],
    )
    length_mm: Field[float] = says(
        "Screw length", "Length of one screw below its head, in mm.",
        do="measure one screw below its head", above=0, most=100, examples=[8],
    )
    plate_mm: Field[float] = says(
        "Plate thickness", "Arm plate and washers that the screw passes through, in mm.",
        do="measure the arm plate and washers that the screw passes through", least=0, most=100, examples=[3],
    )
    hole_depth_mm: Field[float] = says(
        "Hole depth", "Depth of the motor's threaded hole up to the windings, in mm.",
        do="measure the depth of the motor's threaded hole with a thin rod, before the windings",
        above=0, most=100, examples=[5],
    )


@group("Motor", examples=[{"kv_rpm_per_v": 420, "shaft_mm": 5.0}])
class Motor:
    """One motor."""

    place: Place
    make: Field[str] = says(
        "Make", "Maker and type.", do="read it off the motor", examples=["Merle 3508"], unjudged="label",
    )
    kv_rpm_per_v: Field[float] = says(
        "Speed constant", "No-load speed per volt, in rpm per V.",
        do="read it off the motor or its data sheet", mind=DESK, least=5, most=50000, examples=[420],
    )
    shaft_mm: Field[float] = says(
        "Shaft diameter", "Diameter that the adapter or collet grips, in mm.",
        do="measure the shaft with calipers", least=0.3, most=50, examples=[5.0],
    )
    mass_g: Field[float] = says(
        "Mass", "Mass of one motor, in g.",
        do="weigh it", least=0.1, most=10000, examples=[92],
    )
    bell_mass_g: Field[float] = says(
        "Mass of the bell",
        "Mass of what turns of one motor: bell, magnets and shaft, in g. Left out, a share of mass_g.",
        do="weigh the bell with its shaft", least=0.05, most=10000, examples=[55],
    )
    life_h: Field[float] = says(
        "Life", "Hours after which the maker has the motor, or its bearings, replaced. Left out, none is set.",
        do="read the maker's life of the motor or its bearings", mind=DESK, above=0, most=100000, examples=[200],
    )
    full_throttle_draw_a: Field[float] = says(
        "Full-throttle draw", "Current of one motor at full throttle with this prop and cell count, in A.",
        do="read the thrust table for this prop and cell count, or measure on a thrust stand", mind=THRUST_STAND,
        above=0, most=1000, examples=[21],
    )
    max_thrust_g: Field[float] = says(
        "Greatest thrust",
        "Thrust of one motor at full throttle with this prop and cell count (of several, the fewest), in g.",
        do="read the thrust table for this prop and cell count, or measure on a thrust stand", mind=THRUST_STAND,
        above=0, most=100000, examples=[1900],
    )
    screws: MotorScrews = says(
        "Motor screws", "The screws that hold the motor to its arm.",
        examples=[{"size": "M3"}],
    )


@group("Speed controller", examples=[{"continuous_a": 40, "max_cells": 6}])
class Esc:
    """One electronic speed controller."""

    place: Place
    make: Field[str] = says(
        "Make", "Maker and type.", do="read it off the controller", examples=["Merle 40"], unjudged="label",
    )
    continuous_a: Field[float] = says(
        "Continuous rating", "Current it carries continuously, in A.",
        do="read the continuous rating off the label", mind=DESK, above=0, most=1000, examples=[40],
    )
    short_a: Field[float] = says(
        "Short rating", "Current it carries for short_s seconds, in A.",
        do="read the short-time rating in its data sheet", mind=DESK, above=0, most=2000, examples=[55],
    )
    short_s: Field[float] = says(
        "Short time", "How long it carries short_a, in s.",
        do="read for how long it carries the short-time rating", mind=DESK, above=0, most=600, examples=[10],
    )
    max_cells: Field[int] = says(
        "Cell limit", "Most cells in series that it may be run on.",
        do="read the cell limit off the label", mind=DESK, least=1, most=30, examples=[6],
    )
    max_v: Field[float] = says(
        "Voltage limit", "Most volts that it may be run on, where its maker gives volts and not cells of 4.20 V.",
        do="read the most volts in its data sheet", mind=DESK, above=0, most=200, examples=[26.1],
    )
    capacitor_v: Field[float] = says(
        "Capacitor", "Volts printed on the capacitor at its input, in V: the lowest where there are several.",
        do="read the volts off the capacitor", above=0, most=500, examples=[35],
    )
    active_braking: Field[bool] = says(
        "Active braking",
        "true where the controller brakes the motor when the throttle closes; false where it lets it coast.",
        do="look in the controller's settings whether it brakes when the throttle closes", mind=SETTINGS,
        examples=[True],
    )
    spin_set_by: Field[Literal["wires", "setting"]] = says(
        "Spin set by",
        "How the motor was made to turn the way it does: wires (their order) or setting (in the controller, lost "
        "when it is reset).",
        do="note whether the spin was set by the order of the motor wires or by a setting of the controller", mind=DESK,
        examples=["wires"],
    )
