"""Does the flight controller know which way is down?"""

from . import level, positions, scale

MODULES = (positions, scale, level)
