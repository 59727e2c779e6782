"""Do the blades keep clear of each other and of everything that stands still?"""

from . import discs, speed, tips

MODULES = (discs, tips, speed)
