"""Is the compass right under load, and is its offset still true?"""

from . import change, conditions, deviation, earth, heading, offset, run, run_field, successive

MODULES = (earth, run, change, deviation, heading, offset, conditions, run_field, successive)
