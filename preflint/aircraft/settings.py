"""Settings of the flight controller that a manifest names twice: as they are today, and as they were then."""

from preflint.aircraft.declare import says

DIVIDER_RATIO = says(
    "Divider ratio", "Pack volts per volt at the flight controller's input.",
    above=0, most=1000, examples=[14.6],
)
SENSOR_MV_PER_A = says(
    "Sensor scale", "Millivolts at the input per ampere of pack current, in mV/A.",
    above=0, most=10000, examples=[26.4],
)
ZERO_MV = says(
    "Sensor zero", "Millivolts at the input with no current, in mV.",
    least=-20000, most=20000, examples=[512],
)
INTERFERENCE_OFFSET_UT_PER_A = says(
    "Interference offset",
    "What the flight controller adds to the measured field for each ampere indicated: forward, right, down, "
    "in µT per A.",
    count=3, least=-1000, most=1000, examples=[[-0.11, 0.23, -0.05]],
)
HARD_IRON_UT = says(
    "Hard-iron correction", "What the flight controller adds to the measured field: forward, right, down, in µT.",
    count=3, least=-1000, most=1000, examples=[[4.1, -12.0, 7.7]],
)
