"""Does the barometer agree with the pressure of the place?"""

from . import indication

MODULES = (indication,)
