"""Everything that a rule module may import, besides :mod:`preflint.compute` and :mod:`preflint.testing`.

A rule module declares rules and figures (:func:`rule`, :func:`figure`), answers by name (:class:`Finding`,
:class:`Clear`, :class:`Unproven`, :class:`NotApplicable`), asks its :class:`Context` for records in force and for
limits, and offers all of it as its ``MODULE`` (:class:`RuleModule`). ``__all__`` lists the names by what they are for.
"""

from preflint.aircraft import fitted, logbook, records, rotor
from preflint.aircraft.field import Absent, Field, Known, NotFitted
from preflint.aircraft.layouts import ANGLES, arm_of, level_of, positions
from preflint.aircraft.model import Aircraft, name, nut_points, rotor_place
from preflint.aircraft.moment import Moment
from preflint.engine.context import Context
from preflint.engine.failed import last_failure
from preflint.engine.freshness import WHOLE_AIRCRAFT, Staling, events, touches, what_happened
from preflint.engine.lasting import Lasting, read_lasting
from preflint.engine.rule import Rule, figure, rule
from preflint.engine.rule_module import RuleModule
from preflint.findings.deferral import LONGEST_DEFERRAL
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
from preflint.load.tables.table import Table
from preflint.places import Place
from preflint.precautions import (
    AFTER_FLIGHT,
    ANY_LOADED_RUN,
    DESK,
    FIELD_CHECK,
    FIRST_LOOK,
    HOVER_LOG,
    INVERTED_LOAD,
    PACK_CHECK,
    PACK_IN_PROPS_OFF,
    PACK_UNPLUGGED,
    PRECAUTION_OF_ROUTE,
    PROPS_REMOVED,
    RESTRAINED,
    RIG_CHANGE,
    SETTINGS,
    THRUST_STAND,
    Job,
    Precaution,
    together,
)

__all__ = [  # noqa: RUF022 - grouped by what they are for
    # Declaring: what a rule module is made of
    "RuleModule",
    "Rule",
    "rule",
    "figure",
    "Tolerance",
    "Job",
    # Severities: how bad a finding is if the record is true; a rule has one
    "NO_GO",  # likely to hurt someone or to lose the aircraft
    "CAUTION",  # flyable by a pilot who knows it
    "ADVISORY",  # better known than not
    # Answers, and what they are made of
    "Outcome",  # what a rule gives back: one of the following (and what the runner says of a rule that failed)
    "Finding",
    "Clear",
    "Unproven",
    "NotApplicable",
    "Related",
    "Place",
    "Figure",
    # Ending early, as unproven
    "Open",
    "need",
    "not_recorded",
    # Precautions: what to mind beside what is to be done
    "Precaution",
    "together",
    "DESK",  # nothing to mind: reading a manual, a label, a map
    "FIRST_LOOK",  # the look after a mishap, before anything is touched
    "PACK_UNPLUGGED",  # work on props, nuts, wires
    "SETTINGS",  # the flight controller's settings, motors still
    "PROPS_REMOVED",  # runs on the bench with the motors turning
    "PACK_IN_PROPS_OFF",  # readings with a meter while the pack is in
    "PACK_CHECK",  # the look at the pack of the day, which ends with its plug pushed home
    "RIG_CHANGE",  # props changed over from one rig to the other
    "AFTER_FLIGHT",  # the look at motors and nuts after a flight
    "FIELD_CHECK",  # checks at the field, pack in, nothing turning
    "RESTRAINED",  # a loaded run in the flight rig, tied down
    "INVERTED_LOAD",  # a loaded run in the inverted rig
    "HOVER_LOG",  # a hover for the log
    "THRUST_STAND",  # a motor on the stand
    "ANY_LOADED_RUN",  # a loaded run whose route is still open
    "PRECAUTION_OF_ROUTE",  # by the word that a record's ``route`` holds
    # The aircraft and its recorded values
    "Aircraft",
    "rotor",
    "fitted",
    "logbook",
    "Known",
    "Absent",
    "NotFitted",
    "Field",  # Known or Absent: what a field of a record holds; NotFitted, too, where the owner can write ``none``
    "name",
    "rotor_place",
    "nut_points",
    "positions",
    "arm_of",  # of a position in a coaxial pair, and its level there
    "level_of",
    "ANGLES",  # by layout and position: degrees clockwise from the nose, seen from above
    # The records, and what ends them
    "records",
    "Table",
    "Moment",
    "Staling",
    "Lasting",
    "read_lasting",
    "events",
    "touches",
    "what_happened",
    "last_failure",  # the record that failed, where no later one of its kind passed
    "WHOLE_AIRCRAFT",  # kinds of work that shake all of it, whatever part an entry names
    # The context of the judging
    "Context",
    "LONGEST_DEFERRAL",  # the limit of how far ahead a deferral may run
]
