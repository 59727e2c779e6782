"""Everything that a rule module may import, besides :mod:`preflint.compute` and :mod:`preflint.testing`."""

from preflint.aircraft import fitted, logbook, records, rotor
from preflint.aircraft.field import Absent, Field, Known, NotFitted
from preflint.aircraft.layouts import ANGLES, arm_of, level_of, positions
from preflint.aircraft.model import Aircraft, name, nut_points, rotor_place
from preflint.aircraft.moment import Moment
from preflint.engine.context import Context
from preflint.engine.freshness import WHOLE_AIRCRAFT, Staling, events, touches, what_happened
from preflint.engine.lasting import Lasting, read_lasting
from preflint.engine.rule import Rule, figure, rule
from preflint.engine.rule_module import RuleModule
from preflint.findings.outcome import (
    ADVISORY,
    CAUTION,
    NO_GO,
    Clear,
    Finding,
    NotApplicable,
    Open,
    Outcome,
    Related,
    Unproven,
    need,
    not_recorded,
)
from preflint.findings.result import Figure
from preflint.findings.rule_info import Tolerance
from preflint.findings.work import Job
from preflint.places import Place
from preflint.precautions import (
    ANY_LOADED_RUN,
    FIELD_CHECK,
    HOVER_LOG,
    INVERTED_LOAD,
    PACK_IN_PROPS_OFF,
    PACK_UNPLUGGED,
    PRECAUTION_OF_ROUTE,
    PROPS_REMOVED,
    RESTRAINED,
    RIG_CHANGE,
    THRUST_STAND,
    Precaution,
    together,
)

__all__ = [
    "ADVISORY",
    "ANGLES",
    "ANY_LOADED_RUN",
    "CAUTION",
    "FIELD_CHECK",
    "HOVER_LOG",
    "INVERTED_LOAD",
    "NO_GO",
    "PACK_IN_PROPS_OFF",
    "PACK_UNPLUGGED",
    "PRECAUTION_OF_ROUTE",
    "PROPS_REMOVED",
    "RESTRAINED",
    "RIG_CHANGE",
    "THRUST_STAND",
    "WHOLE_AIRCRAFT",
    "Absent",
    "Aircraft",
    "Clear",
    "Context",
    "Field",
    "Figure",
    "Finding",
    "Job",
    "Known",
    "Lasting",
    "Moment",
    "NotApplicable",
    "NotFitted",
    "Open",
    "Outcome",
    "Place",
    "Precaution",
    "Related",
    "Rule",
    "RuleModule",
    "Staling",
    "Tolerance",
    "Unproven",
    "arm_of",
    "events",
    "figure",
    "fitted",
    "level_of",
    "logbook",
    "name",
    "need",
    "not_recorded",
    "nut_points",
    "positions",
    "read_lasting",
    "records",
    "rotor",
    "rotor_place",
    "rule",
    "together",
    "touches",
    "what_happened",
]
