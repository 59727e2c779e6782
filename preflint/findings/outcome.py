"""The five answers of a rule about one subject, and the one way for a rule to end early."""

from enum import IntEnum
from typing import Literal, TypeVar

from preflint.aircraft.field import Absent, Known
from preflint.frozen import dataclass
from preflint.places import Place

T = TypeVar("T")


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
    """Another place that a reader should look at, and why. ``compared``: nothing is wrong there."""

    place: Place
    message: str
    compared: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """Something does not add up at exactly one place; ``do`` puts it right.

    ``mind`` is the precaution of that, the rule's own where it is left out. ``again`` says that the record at
    ``place`` is to be taken again: one job, whichever rules wait for that record. ``record`` is the kind of record
    that is written down when it is done, by its key in the manifest; None where it is none.
    """

    place: Place
    message: str
    evidence: str
    do: str
    related: tuple[Related, ...] = ()
    mind: str | None = None
    again: bool = False
    record: str | None = None


@dataclass(frozen=True, slots=True)
class Clear:
    """What was recorded adds up; ``evidence`` says on what grounds."""

    evidence: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Unproven:
    """It cannot be told: ``do`` is what to do to be able to tell.

    ``mind`` is the precaution of that, the rule's own where it is left out. ``on_paper`` says that a line in the
    manifest settles it, with nothing to do to the aircraft. ``record`` is the kind of record that answers it.
    """

    place: Place
    message: str
    do: str
    cause: Cause = "absent"
    evidence: str = ""
    related: tuple[Related, ...] = ()
    mind: str | None = None
    on_paper: bool = False
    record: str | None = None


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
    """Raised inside a rule, a figure or what they compute: it ends as unproven."""

    def __init__(self, unproven: Unproven) -> None:
        self.unproven = unproven
        super().__init__(unproven.message)


def need(value: Known[T] | Absent) -> Known[T]:
    """The recorded value. Where there is none the rule ends as unproven and says how to learn it."""
    if isinstance(value, Absent):
        raise Open(not_recorded(value))
    return value


def not_recorded(absent: Absent) -> Unproven:
    """That a field is missing, and how it is learnt."""
    return Unproven(
        place=absent.place,
        message=f"{absent.what} is not recorded",
        do=absent.do,
        mind=absent.mind,
        on_paper=absent.on_paper,
    )
