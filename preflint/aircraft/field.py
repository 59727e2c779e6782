"""A recorded value with its place, or the fact that nobody recorded it and how to learn it."""

from dataclasses import dataclass, field
from typing import Any, Generic, TypeVar

from preflint.places import Place
from preflint.precautions import PACK_UNPLUGGED

T_co = TypeVar("T_co", covariant=True)


@dataclass(frozen=True, slots=True)
class Known(Generic[T_co]):
    """What the owner recorded, and where."""

    value: T_co
    place: Place


@dataclass(frozen=True, slots=True)
class Absent:
    """Nothing recorded: ``what`` is the key path, ``place`` where it would stand, ``how`` the way to learn it.

    ``precaution`` is what to mind on that way.
    """

    what: str
    place: Place
    how: str
    precaution: str = PACK_UNPLUGGED


@dataclass(frozen=True, slots=True)
class NotFitted:
    """The owner wrote ``none``: out of the question, not open."""

    place: Place


Field = Known[T_co] | Absent
Fitted = Known[T_co] | NotFitted | Absent


class Missing(Exception):
    """Raised by :func:`need`; the runner turns it into an *unproven* outcome."""

    def __init__(self, absent: Absent) -> None:
        self.absent = absent
        super().__init__(absent.what)


def need(value: Known[T_co] | Absent) -> Known[T_co]:
    """The recorded value. Where there is none the rule is unproven and says how to learn it."""
    if isinstance(value, Absent):
        raise Missing(value)
    return value


def learn(how: str, precaution: str = PACK_UNPLUGGED) -> Any:
    """Declares a field of an aircraft record together with how its value is learnt, and what to mind meanwhile."""
    return field(metadata={"how": how, "precaution": precaution})
