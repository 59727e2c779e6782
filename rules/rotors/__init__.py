"""Do the rotors turn as fast as their motors can, and alike?"""

from . import possible, speeds, split

MODULES = (speeds, possible, split)
