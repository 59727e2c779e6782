"""Is the compass right under load, and is its offset still true?"""

from . import change, conditions, deviation, heading, offset, run_field, successive

MODULES = (
    deviation,
    change,
    heading,
    offset,
    conditions,
    run_field,
    successive,
)
