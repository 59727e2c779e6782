"""Does the charge last for the flight that is planned, and for the way home?"""

from . import charged, margin, reserve, way_home

MODULES = (way_home, reserve, margin, charged)
