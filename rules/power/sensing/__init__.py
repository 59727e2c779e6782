"""Are volts and amperes shown as they are?"""

from . import agreement, claimed, current, inputs, throttle, voltage

MODULES = (
    inputs,
    voltage,
    current,
    agreement,
    claimed,
    throttle,
)
