"""Does the hover add up with the aircraft and its air?"""

from . import current, efficiency, mass, power, stand

MODULES = (
    power,
    efficiency,
    current,
    stand,
    mass,
)
