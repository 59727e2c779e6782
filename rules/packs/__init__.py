"""Is the pack of the day held, plugged, whole, charged evenly and warm? And what was soldered to it?"""

from . import ageing, carriage, cells, cold, held, polarity, rested, swollen

MODULES = (held, swollen, cells, cold, rested, ageing, polarity, carriage)
