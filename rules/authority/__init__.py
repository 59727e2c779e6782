"""Can the rotors hold the aircraft level where its weight acts, and what is left of that when one of them stops?"""

from . import level

MODULES = (level,)
