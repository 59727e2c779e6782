"""Will the prop stay on?"""

from . import bells, centring, locknut, nut_hand, nuts, parts, screws

MODULES = (
    nut_hand,
    nuts,
    locknut,
    parts,
    centring,
    screws,
    bells,
)
