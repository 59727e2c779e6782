"""A recorded value with its place, or the fact that nobody recorded it and how to learn it."""

from typing import Generic, TypeVar

from preflint.frozen import dataclass
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
    """Nothing recorded: ``what`` is the key path, ``place`` where it would stand, ``do`` the way to learn it.

    ``mind`` is the precaution of that way. ``on_paper`` says that the owner knows it: it only needs writing down.
    """

    what: str
    place: Place
    do: str
    mind: str = PACK_UNPLUGGED
    on_paper: bool = False


@dataclass(frozen=True, slots=True)
class NotFitted:
    """The owner wrote ``none``: out of the question, not open."""

    place: Place


Field = Known[T_co] | Absent
Fitted = Known[T_co] | NotFitted | Absent
