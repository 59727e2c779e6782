"""Does it weigh what is recorded, do its rotors lift that, and where does the weight act?"""

from . import lifts, share, weighed

MODULES = (lifts, share, weighed)
