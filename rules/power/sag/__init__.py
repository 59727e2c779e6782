"""What does a pack lose under load?"""

from . import resistance, sag

MODULES = (
    sag,
    resistance,
)
