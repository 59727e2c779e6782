"""A document as read: plain values, each with the place where it stands."""

from typing import Final, TypeAlias

from preflint.load.text import SourceText
from preflint.places import Place, join_pointer

Scalar = str | bool | int | float
Plain = Scalar | list["Plain"] | dict[str, "Plain"]
Value: TypeAlias = "Scalar | tuple[Node, ...] | dict[str, Node]"


class Node:
    """A scalar, a sequence or a mapping, never changed.

    ``place`` is where it stands; ``key`` is the place of its key where it stands in a mapping, else None. Both are
    worked out when somebody asks for them. ``text`` is a scalar as it was written (``24.10`` keeps its zero), "" for
    the others.
    """

    __slots__ = ("_above", "_end", "_key", "_place", "_source", "_step", "text", "value")

    def __init__(
        self,
        value: Value,
        place: Place | int,
        key: Place | int | None = None,
        text: str = "",
        end: int | None = None,
        source: SourceText | None = None,
        above: str = "",
        step: str | int | None = None,
    ) -> None:
        """A place may be the index in ``source`` at which it starts; ``end`` is that after the value.

        Without ``end`` the value is as long as ``text``; a key is as long as ``step``, its name. ``step`` leads here
        from the pointer ``above``: a name, a number in a sequence, or None for the root.
        """
        self.value: Final = value
        self.text: Final = text
        self._place = place
        self._key = key
        self._end = end
        self._source = source
        self._above = above
        self._step = step

    @property
    def place(self) -> Place:
        place = self._place
        if isinstance(place, int):
            end = place + len(self.text) if self._end is None else self._end
            self._place = place = self._stretch(place, end)
        return place

    @property
    def key(self) -> Place | None:
        key = self._key
        if isinstance(key, int):
            self._key = key = self._stretch(key, key + len(str(self._step)))
        return key

    def _stretch(self, start: int, end: int) -> Place:
        assert self._source is not None
        pointer = self._above if self._step is None else join_pointer(self._above, self._step)
        return self._source.place(start, end, pointer)

    def holding(self, value: Value) -> "Node":
        """Another value at the same place, under the same key."""
        return Node(value, self._place, self._key, self.text, self._end, self._source, self._above, self._step)

    def under(self, key: Place | None) -> "Node":
        """The same value at the same place, under another key."""
        return Node(self.value, self._place, key, self.text, self._end, self._source, self._above, self._step)

    def __eq__(self, other: object) -> bool:
        if not isinstance(other, Node):
            return NotImplemented
        mine, its = (self.value, self.text, self.place, self.key), (other.value, other.text, other.place, other.key)
        return mine == its

    def __repr__(self) -> str:
        return f"Node({self.value!r}, {self.place!r}, {self.key!r}, {self.text!r})"

    def plain(self) -> Plain:
        """The same without places, for the schema."""
        if isinstance(self.value, dict):
            return {name: child.plain() for name, child in self.value.items()}
        if isinstance(self.value, tuple):
            return [child.plain() for child in self.value]
        return self.value
