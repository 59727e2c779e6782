"""Is what was proven once still true?"""

from . import drift, first_flight, order, rates, repeats, stale, walk_round

MODULES = (stale, drift, rates, repeats, order, first_flight, walk_round)
