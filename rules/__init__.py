"""The built-in rule pack: one module per topic, each with its figures beside its rules."""

from preflint.api import Pack

from . import (
    barometer,
    compass,
    control,
    failsafe,
    freshness,
    interference,
    papers,
    power_sensing,
    retention,
    rotation,
)

_TOPICS = (retention, rotation, power_sensing, interference, compass, barometer, control, failsafe, freshness, papers)

PACK = Pack(
    api=1,
    name="built-in",
    rules=tuple(rule for topic in _TOPICS for rule in topic.RULES),
    figures=tuple(source for topic in _TOPICS for source in topic.FIGURES),
    freshness=freshness.ROWS,
)
