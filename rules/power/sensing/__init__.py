"""Are volts and amperes shown as they are?"""

from . import agreement, current, inputs, voltage

MODULES = (
    inputs,
    voltage,
    current,
    agreement,
)
