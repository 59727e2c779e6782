"""A document as read: plain values, each with the place where it stands."""

from collections.abc import Mapping

from preflint.frozen import dataclass
from preflint.places import Place

Scalar = str | bool | int | float
Plain = Scalar | list["Plain"] | dict[str, "Plain"]


@dataclass(frozen=True, slots=True)
class Node:
    """A scalar, a sequence or a mapping; ``key`` is the place of its key where it stands in a mapping.

    ``text`` is a scalar as it was written (``24.10`` keeps its zero), "" for the others.
    """

    value: "Scalar | tuple[Node, ...] | Mapping[str, Node]"
    place: Place
    key: Place | None = None
    text: str = ""

    def plain(self) -> Plain:
        """The same without places, for the schema."""
        if isinstance(self.value, Mapping):
            return {name: child.plain() for name, child in self.value.items()}
        if isinstance(self.value, tuple):
            return [child.plain() for child in self.value]
        return self.value
