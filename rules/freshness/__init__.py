"""Is what was proven once still true?"""

from . import copied, drift, first_flight, order, rates, repeats, settings, stale, walk_round

MODULES = (stale, copied, drift, rates, repeats, order, first_flight, walk_round, settings)
