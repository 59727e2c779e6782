"""Is what was proven once still true?"""

from . import drift, order, repeats, stale

MODULES = (
    stale,
    drift,
    repeats,
    order,
)
