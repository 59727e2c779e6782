"""Are volts and amperes shown as they are?"""

from . import agreement, current, inputs, throttle, voltage

MODULES = (
    inputs,
    voltage,
    current,
    agreement,
    throttle,
)
