"""Does the flight controller know which way is down?"""

from . import scale, zero

MODULES = (scale, zero)
