"""Is the weather of the day such as the aircraft is made for?"""

from . import air, icing, planned, rain, temperature, wind

MODULES = (air, icing, planned, rain, temperature, wind)
