"""Are the props whole, and do they and the motors last?"""

from . import hours, look

MODULES = (look, hours)
