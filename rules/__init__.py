"""The built-in rule module: a package for each topic, its computations in modules of their own beside its rules."""

from preflint.api import RuleModule

from . import (
    barometer,
    compass,
    control,
    failsafe,
    freshness,
    inertial,
    interference,
    papers,
    position,
    power,
    props,
    retention,
    rotation,
    rotors,
    vibration,
)
from .freshness.lasting import ROWS

_TOPICS = (
    retention,
    props,
    rotation,
    power,
    rotors,
    vibration,
    interference,
    compass,
    inertial,
    barometer,
    position,
    control,
    failsafe,
    freshness,
    papers,
)

MODULE = RuleModule.of("built-in", *(module for topic in _TOPICS for module in topic.MODULES), freshness=ROWS)
