"""Does anything tell that the pack runs low, in time and in the right order?"""

from . import charge_left, full_throttle_cell, heard, none, order

MODULES = (none, order, full_throttle_cell, charge_left, heard)
