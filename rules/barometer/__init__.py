"""Does the barometer agree with the pressure of the place, and the pressure with the elevation?"""

from . import indication, site

MODULES = (indication, site)
