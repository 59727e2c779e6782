"""What somebody at the bench sees of sound aircraft of each layout, by hand: answers for questions on a terminal.

Seen from above; the nose is forward. A rotor that turns clockwise pushes the airframe counter-clockwise, so those of
the other spin speed up to turn right (common practice, no source; reaction torque).
"""

from collections.abc import Mapping

from making.terminal import ENOUGH, Answer

QUAD_X = {
    "Layout": "quad-x",
    "Spin test: Seen": "cw ccw ccw cw",
    "Hand": "cw ccw ccw cw",
    "Nut test: Motor turned": "cw ccw ccw cw",
    "Tilt test, nose-down": "nose-down front-left front-right",
    "Tilt test, right-down": "right-down front-right rear-right",
    "Tilt test, turned-right": "turned-right front-left rear-right",
    "Stick check, nose-down": "nose-down rear-left rear-right",
    "Stick check, right-down": "right-down front-left rear-left",
    "Stick check, turned-right": "turned-right front-right rear-left",
}
QUAD_PLUS = {
    "Layout": "quad-plus",
    "Spin test: Seen": "cw ccw cw ccw",
    "Hand": "cw ccw cw ccw",
    "Nut test: Motor turned": "cw ccw cw ccw",
    "Tilt test, nose-down": "nose-down front",
    "Tilt test, right-down": "right-down right",
    "Tilt test, turned-right": "turned-right front rear",
    "Stick check, nose-down": "nose-down rear",
    "Stick check, right-down": "right-down left",
    "Stick check, turned-right": "turned-right right left",
}
HEXA_X = {
    "Layout": "hexa-x",
    "Spin test: Seen": "cw ccw ccw cw cw ccw",
    "Hand": "cw ccw ccw cw cw ccw",
    "Nut test: Motor turned": "cw ccw ccw cw cw ccw",
    "Tilt test, nose-down": "nose-down front-left front-right",
    "Tilt test, right-down": "right-down front-right right rear-right",
    "Tilt test, turned-right": "turned-right front-left right rear-left",
    "Stick check, nose-down": "nose-down rear-left rear-right",
    "Stick check, right-down": "right-down front-left left rear-left",
    "Stick check, turned-right": "turned-right front-right left rear-right",
}
_UPPER_LOWER = "cw ccw ccw cw ccw cw cw ccw"
X8 = {
    "Layout": "x8",
    "Spin test: Seen": _UPPER_LOWER,
    "Hand": _UPPER_LOWER,
    "Tilt test, nose-down": "nose-down front-left-upper front-left-lower front-right-upper front-right-lower",
    "Tilt test, right-down": "right-down front-right-upper front-right-lower rear-right-upper rear-right-lower",
    "Tilt test, turned-right": "turned-right front-left-upper front-right-lower rear-left-lower rear-right-upper",
    "Stick check, nose-down": "nose-down rear-left-upper rear-left-lower rear-right-upper rear-right-lower",
    "Stick check, right-down": "right-down front-left-upper front-left-lower rear-left-upper rear-left-lower",
    "Stick check, turned-right": "turned-right front-left-lower front-right-upper rear-left-upper rear-right-lower",
}
ANY: Mapping[str, Answer] = {
    "Relies on": "all",
    "Kind": "nut",
    "Face": "all up",
    "Note": "-",
    "Nut test: Nut": "all runs-on",
    "Props": "removed",
    "Turned": "as-commanded",
    "Stick check, throttle-up": "throttle-up all",
    "Start of turning": "-",
    "Arms at raised throttle": "no",
    "Outputs stopped": "yes",
    "Time to stop": "0.8",
    "Restarted on regain": "no",
    "Motors stopped": "yes",
    "Take-off mass": "1420",
    "Greatest thrust": "950",
    "Watches": "pack-voltage",
    "At": "14.0",
    "Does": "tells",
    "Cells": "4",
    "Chemistry": "lipo",
    "Divider ratio": "6.2",
    "Loaded": "no",
    "Voltage comparison: Accuracy": "0.2",
    "Last digit, volts": "0.01",
    "Voltage comparison: Readings": ("16.67 16.68", "15.77 15.78", "14.87 14.88"),
    "Indicated pressure": "991.6",
    "Pressure at the place": "991.3",
    "Accuracy of the barometer": "0.5",
    "Accuracy": "3",
    "Shown latitude": "54.40002",
    "Shown longitude": "-2.90001",
    "Latitude of the place": "54.4",
    "Longitude of the place": "-2.9",
    "Accuracy of the place": "3",
    "On loss of link": "lands",
    "Return height": "60",
    "Highest obstacle": "18",
    "Sensor scale": "26.4",
    "Sensor zero": "330",
    "Interference offset": "-0.1116 0.2307 -0.0478",
    "Latitude": "54.4",
    "Longitude": "-2.9",
    "Elevation": "150",
    "Full-throttle draw": "14",
    "Accuracy of the true heading": "1",
    "Heading check: Readings": (
        "0 0.6", "45 46.1", "90 91.5", "135 136.0", "180 179.6", "225 224.1", "270 268.8", "315 313.9",
    ),
    "Load": "restrained",
    "Current comparison: Accuracy": "1",
    "Last digit, amperes": "0.1",
    "Current comparison: Readings": ("0 0.0 0.0", "25 2.8 2.8", "40 6.3 6.3", "55 10.4 10.5", "70 13.9 14.0"),
    "Field is": "raw",
    "Magnetic restraint": "no",
    "Steel nearby": "no",
    "Payload on": "yes",
    "Interference run: Readings": "logs/run.csv",
}  # fmt: skip
LOG = """\
time_s,throttle_percent,current_a,field_x_ut,field_y_ut,field_z_ut
0,0,0.2,9.13,24.36,38.23
5,0,0.2,9.09,24.35,38.21
10,25,3.5,9.45,23.61,38.38
15,25,3.5,9.56,23.60,38.36
20,40,7.0,9.92,22.79,38.56
25,40,7.0,9.87,22.79,38.57
30,55,11.2,10.38,21.82,38.71
35,55,11.2,10.37,21.82,38.76
40,70,15.4,10.83,20.88,38.94
45,70,15.4,10.83,20.86,38.91
50,0,0.2,9.11,24.34,38.27
55,0,0.2,9.12,24.37,38.23
"""
"""An invented run at 54.4 N 2.9 W that fits ``ANY``: the field at rest, and the installed offset per ampere."""


def somebody(bench: Mapping[str, Answer], rungs: int, **other: Answer) -> dict[str, Answer]:
    """Answers of somebody who goes up so many rungs."""
    on = {"Go on with meter": "yes" if rungs > 1 else ENOUGH, "Go on with load": "yes" if rungs > 2 else ENOUGH}
    return {**ANY, **bench, **on, **other}
