"""Parts and sites that several manifests share in files of their own, and what all rotors of one share."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import field
from typing import NoReturn

from preflint.errors import NotRead, Problem
from preflint.frozen import dataclass
from preflint.load.limits import MAX_NODES, MAX_SHARED_FILES, limited
from preflint.load.node import Node

Read = Callable[[str, str], Node]
"""Given the file that refers and the name it writes, the content of the file meant; raises NotRead."""


@dataclass(frozen=True, slots=True)
class _Slot:
    """Where a file name may stand instead of a group (``shared``), here and inside; ``each`` for lists."""

    shared: bool = False
    inside: "Mapping[str, _Slot]" = field(default_factory=dict)
    each: "_Slot | None" = None


_PART = _Slot(shared=True)
_ROTOR = _Slot(inside={"motor": _PART, "esc": _PART, "prop": _PART, "fixing": _PART})
_PACK = _Slot(shared=True, inside={"lead": _PART})
_MANIFEST = _Slot(
    inside={
        "site": _PART,
        "every_rotor": _ROTOR,
        "rotors": _Slot(each=_ROTOR),
        "packs": _Slot(each=_PACK),
        "power_sensing": _PART,
        "compass": _PART,
    }
)


def resolve(node: Node, read: Read) -> Node:
    """The manifest with every file name in the place of a part or site replaced by what that file holds.

    What comes from a file keeps that file's places; the key stays where the manifest has it. Text that
    does not end in ``.yaml`` is left for the schema to judge.

    Raises:
        NotRead: naming the manifest, with the problems of every file that could not be taken; where a
            problem has no place of its own it stands at the reference.
    """
    resolver = _Resolver(read)
    resolved = resolver.fill_all(node)
    if resolver.problems:
        raise NotRead(node.place.file, limited(tuple(resolver.problems), len(resolver.problems)))
    return resolved


def expand_rotors(document: Node, positions: Callable[[str], Sequence[str]]) -> Node:
    """The checked document with every rotor of its layout under ``rotors``, ``every_rotor`` laid under each.

    ``positions`` gives the names that a layout has, in the order wanted; none leaves the order as written.
    A rotor that nobody wrote stands at the key ``rotors``, or without that at the key ``preflint``.
    """
    top = document.value
    assert isinstance(top, dict)
    written, shared = top.get("rotors"), top.get("every_rotor")
    here = written or top["preflint"]
    place = here.key or here.place
    by_position = {_value(rotor, "at"): rotor for rotor in _items(written)}
    names = positions(_value(top["aircraft"], "layout")) or tuple(by_position)
    rotors = tuple(merge(shared, by_position.get(at) or Node({"at": Node(at, place)}, place)) for at in names)
    return document.holding({**top, "rotors": Node(rotors, place)})


def _items(node: Node | None) -> tuple[Node, ...]:
    return node.value if node and isinstance(node.value, tuple) else ()


def _value(group: Node, name: str) -> str:
    assert isinstance(group.value, dict)
    return str(group.value[name].value)


def merge(base: Node | None, own: Node) -> Node:
    """``own`` with what ``base`` has besides: mappings merge key by key; a list or scalar replaces.

    Every value keeps its place; the merged mapping stands where ``own`` does.
    """
    if base is None or not isinstance(base.value, dict) or not isinstance(own.value, dict):
        return own
    merged = dict(base.value)
    for name, child in own.value.items():
        merged[name] = merge(merged.get(name), child)
    return own.holding(merged)


class _Stop(Exception):
    """A budget is spent; nothing more is read."""


class _Resolver:
    def __init__(self, read: Read) -> None:
        self.problems: dict[Problem, None] = {}  # each once, in order
        self._read = read
        self._seen: dict[tuple[str, str], Node | NotRead] = {}
        self._nodes = 0

    def fill_all(self, manifest: Node) -> Node:
        try:
            return self.fill(manifest, _MANIFEST, (manifest.place.file,))
        except _Stop:
            return manifest

    def fill(self, node: Node, slot: _Slot, chain: tuple[str, ...]) -> Node:
        """``chain`` holds the files that led here, the manifest first."""
        if slot.shared and isinstance(node.value, str) and node.value.endswith(".yaml"):
            found = self._content(node, node.value, chain)
            if found is None:
                return node
            inner = self.fill(found, slot, (*chain, found.place.file))
            return inner.under(node.key)
        if isinstance(node.value, dict) and slot.inside:
            filled = {
                name: self.fill(child, slot.inside[name], chain) if name in slot.inside else child
                for name, child in node.value.items()
            }
            return node.holding(filled)
        if isinstance(node.value, tuple) and slot.each is not None:
            each = slot.each
            return node.holding(tuple(self.fill(child, each, chain) for child in node.value))
        return node

    def _content(self, node: Node, reference: str, chain: tuple[str, ...]) -> Node | None:
        found = self._look_up(node, reference)
        if isinstance(found, NotRead):
            for problem in found.problems:
                if problem.place is None:
                    told = found.file == node.place.file or found.file in problem.message
                    about = "" if told else f"{found.file}: "
                    problem = Problem(f"{about}{problem.message}", node.place)
                self.problems.setdefault(problem)
            return None
        if found.place.file in chain:
            circle = " names ".join((*chain, found.place.file))
            self.problems.setdefault(Problem(f"files name one another in a circle: {circle}", node.place))
            return None
        # A file that many entries name counts each time, or a short manifest could fill the memory.
        self._nodes += _size(found)
        if self._nodes > MAX_NODES:
            self._stop(f"with the files it names the manifest holds more than {MAX_NODES} values", node)
        return found

    def _look_up(self, node: Node, reference: str) -> Node | NotRead:
        name = (node.place.file, reference)
        if name not in self._seen:
            if len(self._seen) == MAX_SHARED_FILES:
                self._stop(f"the manifest names more than {MAX_SHARED_FILES} files of parts", node)
            try:
                self._seen[name] = self._read(*name)
            except NotRead as error:
                self._seen[name] = error
        return self._seen[name]

    def _stop(self, message: str, node: Node) -> NoReturn:
        self.problems.setdefault(Problem(message, node.place))
        raise _Stop


def _size(node: Node) -> int:
    if isinstance(node.value, dict):
        return 1 + sum(map(_size, node.value.values()))
    if isinstance(node.value, tuple):
        return 1 + sum(map(_size, node.value))
    return 1
