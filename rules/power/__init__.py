"""Are volts, amperes and charge what is shown, and do they add up with the aircraft?"""

from . import hover, packs, sag, sensing

MODULES = (*sensing.MODULES, *hover.MODULES, *packs.MODULES, *sag.MODULES)
