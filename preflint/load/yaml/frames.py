"""What is still open while a document is read."""

from dataclasses import dataclass, field

from preflint.load.node import Node


@dataclass(slots=True)
class Key:
    """A key that waits for its value; ``name`` is None where the key was refused."""

    name: str | None
    written: str
    start: int
    end: int


@dataclass(slots=True)
class Open:
    """A mapping or a sequence whose end has not come yet; indices point into the text."""

    mapping: bool
    flow: bool
    pointer: str
    start: int
    end: int
    anchor: str | None
    stands_as_key: bool
    key: Key | None = None
    entries: dict[str, Node] = field(default_factory=dict)
    items: list[Node] = field(default_factory=list)
    size: int = 1
    height: int = 1


@dataclass(frozen=True, slots=True)
class Anchored:
    """A node that aliases may name; ``size`` counts its nodes with all aliases expanded."""

    node: Node
    size: int
    height: int
