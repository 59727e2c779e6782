"""The built-in rule module: a package for each topic, its computations in modules of their own beside its rules."""

from preflint.api import RuleModule

from . import (
    after_flight,
    authority,
    barometer,
    clearance,
    compass,
    control,
    day,
    endurance,
    failsafe,
    first_hover,
    freshness,
    home,
    inertial,
    interference,
    mass,
    packs,
    papers,
    position,
    power,
    power_train,
    props,
    retention,
    rotation,
    rotors,
    vibration,
    warnings,
)
from .freshness.lasting import ROWS

_TOPICS = (
    clearance, retention, props, rotation, vibration, rotors, mass, authority, power, power_train, packs, warnings,
    endurance, interference, compass, inertial, barometer, position, home, failsafe, control, day, first_hover,
    after_flight, freshness, papers,
)  # fmt: skip

MODULE = RuleModule.of("built-in", *(module for topic in _TOPICS for module in topic.MODULES), freshness=ROWS)
