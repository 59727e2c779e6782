"""Does the flight controller see and answer movements the right way round?"""

from . import props, start, sticks, tilt

MODULES = (
    tilt,
    sticks,
    start,
    props,
)
