"""Does what turns, turn smoothly?"""

from . import unbalance

MODULES = (unbalance,)
