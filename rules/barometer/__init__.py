"""Does the barometer agree with the pressure of the place, and the pressure with the elevation?"""

from . import accuracy, indication, site

MODULES = (indication, accuracy, site)
