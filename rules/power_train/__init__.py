"""Is what carries the power rated for it, in volts, in amperes and in heat?"""

from . import controllers, fuse, lead, over_voltage, pack, plug, regulator

MODULES = (over_voltage, controllers, plug, lead, pack, fuse, regulator)
