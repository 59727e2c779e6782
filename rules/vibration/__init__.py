"""Does what turns, turn smoothly?"""

from . import grade, unbalance

MODULES = (grade, unbalance)
