"""Does each prop lift where it sits, and does each output drive the rotor it should?"""

from . import apart, invertible, outputs, props, rig, sets, spin, yaw

MODULES = (
    props,
    rig,
    invertible,
    spin,
    outputs,
    sets,
    yaw,
    apart,
)
