"""Words that mean one thing wherever they stand in a manifest."""

from typing import Annotated, Literal

# Clockwise or counter-clockwise; the key says from where it is seen.
Turning = Literal["cw", "ccw"]

# The name of a rotor's place. For the type checker a text; told apart for the schema.
Position = Annotated[str, "position"]

Props = Literal["removed", "fitted"]

# How the load of a run was made.
Route = Literal["inverted-load", "restrained", "hover-log"]

ATTITUDES = ("nose-down", "nose-up", "right-down", "left-down", "turned-right", "turned-left")

PARTS = (
    "motor",
    "esc",
    "prop",
    "nut",
    "adapter",
    "arm",
    "frame",
    "power-lead",
    "battery-tray",
    "pack",
    "power-sensor",
    "compass",
    "flight-controller",
    "receiver",
    "antenna",
    "satellite-receiver",
    "barometer",
    "regulator",
    "payload",
)

# Of these, the ones with nothing in them that could be set or loaded.
PLAIN_PARTS = ("nut", "prop", "adapter", "arm", "frame", "power-lead", "battery-tray", "antenna")

# What is done to a part, and what happens to an aircraft. A flight ends no record.
WORK = ("fitted", "replaced", "moved", "rewired", "removed", "reset", "settings-changed", "firmware")
PROGRAMMED = ("reset", "settings-changed", "firmware")
SHAKEN = ("crashed", "hard-landing", "tipped-over")
HAPPENED = (*SHAKEN, "stored", "flown")
ENDS_NOTHING = ("flown",)

# What an entry of the logbook tells of a flight, and of nothing else.
FLIGHT_ONLY = ("minutes", "pack", "put_back_mah", "to_warning")

# What a change of settings may touch. What no record speaks for and flight may notice is other; what it cannot notice
# (lights, a name, a screen) has no word here.
SETTINGS = (
    "voltage-scale",
    "current-scale",
    "compass-offset",
    "compass-calibration",
    "barometer",
    "satellite",
    "level",
    "mounting",
    "outputs",
    "spin",
    "throttle-range",
    "stabilisation",
    "sticks",
    "arming",
    "failsafe",
    "radio",
    "warnings",
    "other",
)
