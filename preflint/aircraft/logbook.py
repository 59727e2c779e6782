"""What was done to the aircraft and what happened to it, and which defects somebody answers for."""

from dataclasses import dataclass

from preflint.aircraft.dated import Dated
from preflint.aircraft.field import Field, Known, learn
from preflint.aircraft.moment import Moment
from preflint.places import Place


@dataclass(frozen=True, slots=True)
class LogEntry(Dated):
    """Work done, or what happened.

    No ``part`` (only with a crash, hard landing, storage or flight) means the whole aircraft.
    """

    kind: Known[str]
    part: Field[str] = learn("say which part")
    at: Field[str] = learn("say at which position")
    note: Field[str] = learn("say why")


@dataclass(frozen=True, slots=True)
class Deferral:
    """A known defect that somebody answers for until a day."""

    place: Place
    rule: Known[str]
    until: Known[Moment]
    by: Known[str]
    because: Known[str]
    at: Field[str] = learn("say which rotor")
