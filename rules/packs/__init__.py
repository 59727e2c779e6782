"""Is the pack of the day held, plugged, whole, charged evenly and warm? And what was soldered to it?"""

from . import ageing, carriage, cells, cold, full, held, polarity, rested, swollen

MODULES = (held, swollen, cells, full, cold, rested, ageing, polarity, carriage)
