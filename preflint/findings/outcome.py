"""The five answers of a rule about one subject."""

from dataclasses import dataclass
from enum import IntEnum
from typing import Literal

from preflint.places import Place


class Severity(IntEnum):
    """How bad a finding is if the record is true; ordered, worst highest."""

    ADVISORY = 1
    CAUTION = 2
    NO_GO = 3

    def __str__(self) -> str:
        return self.name.lower().replace("_", "-")


ADVISORY, CAUTION, NO_GO = Severity.ADVISORY, Severity.CAUTION, Severity.NO_GO

Cause = Literal["absent", "stale", "uncertain", "order-open"]


@dataclass(frozen=True, slots=True)
class Related:
    """Another place that a reader should look at, and why."""

    place: Place
    message: str


@dataclass(frozen=True, slots=True)
class Finding:
    """Something does not add up. Exactly one primary place; ``precaution`` replaces the rule's own if given."""

    place: Place
    message: str
    evidence: str
    remedy: str
    related: tuple[Related, ...] = ()
    precaution: str | None = None


@dataclass(frozen=True, slots=True)
class Clear:
    """What was recorded adds up; ``evidence`` says on what grounds."""

    evidence: str


@dataclass(frozen=True, slots=True)
class Unproven:
    """It cannot be told: ``how`` is what to do to be able to tell."""

    cause: Cause
    place: Place
    message: str
    how: str
    evidence: str = ""
    related: tuple[Related, ...] = ()
    precaution: str | None = None


@dataclass(frozen=True, slots=True)
class NotApplicable:
    """The question does not arise here."""

    because: str


@dataclass(frozen=True, slots=True)
class Crashed:
    """The rule itself failed; the others went on."""

    message: str


Outcome = Finding | Clear | Unproven | NotApplicable | Crashed


class Open(Exception):
    """Raised inside a rule or figure to end it as unproven."""

    def __init__(self, unproven: Unproven) -> None:
        self.unproven = unproven
        super().__init__(unproven.message)
