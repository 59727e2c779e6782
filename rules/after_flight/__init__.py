"""What the look after a flight shows: hot motors, nuts that moved, a warm pack, outputs that differ."""

from . import motors, nuts, outputs, packs

MODULES = (motors, nuts, outputs, packs)
