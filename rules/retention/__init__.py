"""Will the prop stay on?"""

from . import nut_hand, nuts, parts, screws

MODULES = (
    nut_hand,
    nuts,
    parts,
    screws,
)
