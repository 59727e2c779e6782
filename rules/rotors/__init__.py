"""Do the rotors turn as fast as their motors can, and alike?"""

from . import possible, split

MODULES = (possible, split)
