"""The order in which jobs are done."""

from enum import IntEnum


class Job(IntEnum):
    """When a remedy's turn comes: what is done with the pack unplugged first, the last look last."""

    RECORD = 1  # only writing down what is already there
    PROPS_OFF = 2  # props removed: spin, outputs, link loss
    MECHANICAL = 3  # pack unplugged: nuts, props, screws
    POWER_SENSING = 4
    INTERFERENCE = 5
    COMPASS = 6  # heading, barometer: quiet checks after all work under load
    FLIGHT_RIG = 7  # back to the flight rig
    LAST_LOOK = 8
