"""Is the weather of the day such as the aircraft is made for?"""

from . import air, icing, rain, temperature, wind

MODULES = (air, icing, rain, temperature, wind)
