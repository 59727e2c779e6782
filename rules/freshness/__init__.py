"""Is what was proven once still true?"""

from . import drift, order, rates, repeats, stale

MODULES = (
    stale,
    rates,
    drift,
    repeats,
    order,
)
