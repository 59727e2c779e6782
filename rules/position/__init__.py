"""Does the aircraft know where it is?"""

from . import where

MODULES = (where,)
