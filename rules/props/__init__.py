"""Are the props whole, and do they and the motors last?"""

from . import flown, hours, look

MODULES = (look, flown, hours)
