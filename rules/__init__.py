"""The built-in rule module: a package for each topic, its computations in modules of their own beside its rules."""

from preflint.api import RuleModule

from . import (
    after_flight,
    barometer,
    compass,
    control,
    failsafe,
    first_hover,
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
    retention,
    rotation,
    power,
    interference,
    compass,
    barometer,
    position,
    control,
    failsafe,
    first_hover,
    after_flight,
    freshness,
    papers,
)

MODULE = RuleModule.of("built-in", *(module for topic in _TOPICS for module in topic.MODULES), freshness=ROWS)
