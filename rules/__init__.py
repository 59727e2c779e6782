"""The built-in rule module: a package for each topic, its computations in modules of their own beside its rules."""

from preflint.api import RuleModule

from . import (
    barometer,
    compass,
    control,
    day,
    failsafe,
    freshness,
    interference,
    papers,
    position,
    power,
    retention,
    rotation,
)
from .freshness.lasting import ROWS

_TOPICS = (
    retention, rotation, power, interference, compass, barometer, position, day, control, failsafe, freshness, papers,
)  # fmt: skip

MODULE = RuleModule.of("built-in", *(module for topic in _TOPICS for module in topic.MODULES), freshness=ROWS)
