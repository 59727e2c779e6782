"""Does the aircraft know where it is?"""

from . import shown, spread, where

MODULES = (where, spread, shown)
