"""Is what was proven once still true?"""

from . import drift, first_flight, order, rates, repeats, stale

MODULES = (stale, drift, rates, repeats, order, first_flight)
