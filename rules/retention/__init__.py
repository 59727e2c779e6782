"""Will the prop stay on?"""

from . import bells, centring, kind, locknut, nut_hand, nuts, parts, screws

MODULES = (
    kind,
    nut_hand,
    nuts,
    locknut,
    parts,
    centring,
    screws,
    bells,
)
