"""Is what was proven once still true?"""

from . import copied, drift, first_flight, order, rates, repeats, stale

MODULES = (stale, copied, drift, rates, repeats, order, first_flight)
