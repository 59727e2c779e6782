"""Parser events to nodes, within budgets."""

from collections.abc import Callable, Iterator
from typing import Any, NamedTuple

import yaml
from yaml.events import AliasEvent, MappingEndEvent, MappingStartEvent, ScalarEvent, SequenceEndEvent

from preflint.errors import PreflintError, Problem
from preflint.load.limits import MAX_DEPTH, MAX_KEY, MAX_NODES, MAX_POINTER
from preflint.load.node import Node, Scalar
from preflint.load.quoting import in_quotes, shorten
from preflint.load.text import SourceText
from preflint.load.yaml.complaints import Complaints, Stop
from preflint.load.yaml.marks import collection_end, collection_start, scalar_span, span
from preflint.load.yaml.scalars import Word, plain_name, plain_word
from preflint.load.yaml.syntax import TOO_DEEP, syntax_problem
from preflint.places import Place, join_pointer

_LONGEST_STEP = 2 * MAX_KEY + 1  # of a pointer
_TOO_MANY = f"the file holds more than {MAX_NODES} values"


class _Broken(Exception):
    """The parser cannot go on."""

    def __init__(self, error: Exception) -> None:
        self.error = error


def _events(content: str) -> Iterator[yaml.Event]:
    loader = getattr(yaml, "CLoader", None)
    if loader is None:
        raise PreflintError("the installed PyYAML was built without libyaml, which preflint needs")
    try:
        take = loader(content).get_event
        while (event := take()) is not None:
            yield event
    except MemoryError:
        raise
    except Exception as error:  # the parser raises more than its own exceptions
        raise _Broken(error) from error


class _Anchored(NamedTuple):
    """A node that aliases may name; ``size`` counts its nodes with all aliases expanded."""

    node: Node
    size: int
    height: int


def _no_word(text: str) -> Word | None:
    return None


class Builder:
    """Reads from one event to the next, and anew for each collection inside another.

    Nearly every scalar is one plain word of which there is nothing to tell; those are taken in ``_node`` and
    ``_entries`` with as few steps as can be. Whatever else there may be goes the long way, with the same result.
    """

    def __init__(self, text: SourceText, complaints: Complaints, follow_on: bool) -> None:
        self._text = text
        self._complaints = complaints
        self._follow_on = follow_on
        self._take: Any = _events(text.content).__next__
        self._word: Callable[[str], Word | None] = plain_word
        self._nodes = 0
        self._keys = 0  # of the nodes, those that are keys or stand inside of one
        self._last: Any = None  # the event of the last scalar
        self._end = 0  # where the last value ended
        self._asked = (0, 0, "")  # where the last key that is not one plain word stands, and how it is written
        self._stack: list[Any] = []  # the events that opened what is still open
        self._height = 0  # of what was read in the innermost of them; a scalar has none
        self._anchors: dict[str, _Anchored] = {}

    def build(self) -> Node | None:
        """The root, or None where a problem left none."""
        documents, root = 0, None
        try:
            while not isinstance(event := self._take(), yaml.StreamEndEvent):
                if isinstance(event, yaml.DocumentStartEvent):
                    documents += 1
                    self._document(event, documents)
                elif isinstance(event, yaml.NodeEvent):
                    root = self._node(event, "", None, None)
        except Stop:
            return None
        except _Broken as broken:
            if not self._follow_on:
                self._complaints.add(syntax_problem(broken.error, self._text, self._bracket(), self._quoted()))
            return None
        if root is None:
            empty = not self._text.content.strip()
            self._complaints.tell("the file is empty" if empty else "the file holds nothing but comments", 0, 0)
        elif not isinstance(root.value, dict | tuple) and self._complaints.count == 0:
            no_names = 'the file must hold names with values, as in "preflint: 1"'
            self._complaints.add(Problem(no_names, root.place))
        return root

    def _document(self, event: yaml.DocumentStartEvent, number: int) -> None:
        start, end = span(event)
        if number > 1:
            self._complaints.stop("a second document starts here; a file holds one", start, end)
        if event.tags:
            self._complaints.tell("%TAG is not used here; delete the line", start, start + 1)

    def _bracket(self) -> int | None:
        """Where the innermost bracket stands that is open."""
        opened = next((event for event in reversed(self._stack) if event.flow_style), None)
        return collection_start(opened, self._text.content) if opened else None

    def _quoted(self) -> tuple[int, int] | None:
        """The last text, if it is in quotes and runs over a line's end."""
        if self._last is None or self._last.style not in ("'", '"'):
            return None
        start, end = scalar_span(self._last, self._text.content)
        return (start, end) if "\n" in self._text.content[start:end] else None

    # Nodes. ``above`` is the pointer of what they stand in; ``step`` leads from there to the node, or is None for the
    # root and after a key that was refused. ``key`` is the place of the key, or where it starts if it is a plain word.

    def _node(self, event: Any, above: str, step: str | int | None, key: Place | int | None) -> Node:
        kind = type(event)
        if kind is ScalarEvent:
            text = event.value
            if (
                not event.style
                and event.tag is None
                and event.anchor is None
                and len(text) <= MAX_KEY
                and self._nodes < MAX_NODES
            ):
                word = self._word(text)
                if word is not None:
                    value, text = word
                    self._nodes += 1
                    self._last = event
                    start = event.start_mark.index
                    self._end = start + len(text)
                    return Node(value, start, key, text, None, self._text, above, step)
            return self._scalar(event, above, step, key)
        if kind is AliasEvent:
            return self._alias(event, above, step, key)
        return self._collection(event, above, step, key)

    def _entries(self, above: str, flow: bool) -> tuple[dict[str, Node], Any]:
        """The entries of a mapping, and the event that ends it."""
        take, node = self._take, self._node
        entries: dict[str, Node] = {}
        name: str | None
        key: Place | int | None
        while True:
            event = take()
            kind = type(event)
            if kind is ScalarEvent:
                text = event.value
                name = plain_name(text) if len(text) <= MAX_KEY else None
                if (
                    name is not None
                    and not event.style
                    and event.tag is None
                    and event.anchor is None
                    and name not in entries
                    and self._nodes < MAX_NODES
                ):
                    self._nodes += 1
                    self._keys += 1
                    self._last = event
                    key = event.start_mark.index
                else:
                    name, key = self._key(event, above, entries, flow)
            elif kind is MappingEndEvent:
                return entries, event
            else:
                self._no_name(event, above)
                name = key = None
            found = node(take(), above, name, key)
            if name is not None:
                entries[name] = found

    def _items(self, above: str) -> tuple[tuple[Node, ...], Any]:
        """The entries of a sequence, and the event that ends it."""
        take, node = self._take, self._node
        items: list[Node] = []
        while type(event := take()) is not SequenceEndEvent:
            items.append(node(event, above, len(items), None))
        return tuple(items), event

    def _scalar(self, event: Any, above: str, step: str | int | None, key: Place | int | None) -> Node:
        start, end = self._begin(event)
        self._pointer(above, step)
        self._end = end
        value: Scalar = ""
        if event.value or event.style or event.tag is not None:
            value = self._complaints.value(event, start, end)
        elif not self._stack:
            self._complaints.tell("the file holds no entries", start, start)
        elif isinstance(step, int):
            self._complaints.tell("a list entry is empty; write its value, or delete it", start - 1, start)
        else:
            begin, done, written = (key, key + len(step), step) if step and isinstance(key, int) else self._asked
            self._complaints.empty(written, begin, done, self._stack[-1].flow_style)
        node = Node(value, start, key, event.value, end, self._text, above, step)
        if event.anchor is not None:
            self._forbid_twice(event)
            self._anchors[event.anchor] = _Anchored(node, 1, 0)
        return node

    def _begin(self, event: Any) -> tuple[int, int]:
        """Start and end of a scalar."""
        start, end = scalar_span(event, self._text.content)
        self._spend(1, start, end)
        self._complaints.tag(event)
        self._complaints.length(event, start, end)
        self._last = event
        return start, end

    def _key(
        self, event: Any, above: str, entries: dict[str, Node], flow: bool
    ) -> tuple[str, Place] | tuple[None, None]:
        """A name and its place; None where it is refused."""
        self._keys += 1
        start, end = self._begin(event)
        name: str = event.value
        self._asked = start, end, name
        if flow and self._complaints.is_cut(event, start, end):
            self._asked = start, end, ""
        elif self._complaints.name(event, start, end, entries.get(name)):
            return name, self._text.place(start, end, join_pointer(above, name))
        return None, None

    def _no_name(self, event: Any, above: str) -> None:
        """An alias or a collection where a name should stand."""
        if type(event) is AliasEvent:
            (start, end), name = span(event), event.anchor or ""
            self._complaints.tell(f"*{shorten(name)} cannot stand for a name; write the name out", start, end)
            self._asked = start, end, f"*{name}"
            return
        nodes, keys = self._nodes, self._keys
        self._collection(event, above, None, None, as_key=True)
        self._keys = keys + self._nodes - nodes
        self._asked = 0, 0, ""

    def _alias(self, event: Any, above: str, step: str | int | None, key: Place | int | None) -> Node:
        (start, end), name = span(event), event.anchor
        known = self._anchors.get(name)
        if known is None:
            what = f"names nothing above it; if it is text, write {in_quotes('*' + shorten(name))}"
            if any(name == opened.anchor for opened in self._stack):
                what = "stands inside the very value it names"
            self._complaints.tell(f"*{shorten(name)} {what}", start, end)
            self._pointer(above, step)
            known = _Anchored(Node("", self._text.place(start, end)), 1, 0)
        self._spend(known.size, start, end)
        self._limit_depth(len(self._stack) + known.height, start, end)
        self._height = max(self._height, known.height + 1)
        self._end = end
        if isinstance(key, int):
            key = self._text.place(key, key + len(str(step)), join_pointer(above, str(step)))
        return known.node.under(key)

    def _collection(
        self, event: Any, above: str, step: str | int | None, key: Place | int | None, as_key: bool = False
    ) -> Node:
        mapping, flow = type(event) is MappingStartEvent, bool(event.flow_style)
        start = collection_start(event, self._text.content)
        nodes, keys = self._nodes, self._keys
        self._spend(1, start, start + 1)
        self._limit_depth(len(self._stack) + 1, start, start + 1)
        self._complaints.tag(event)
        if as_key:
            self._complaints.tell("a name must be text, not a list or a group", start, start + 1)
        elif not self._stack and not mapping:
            self._complaints.tell("the file must begin with names, not with a list", start, start + 1)
        if event.anchor is not None and not as_key:
            self._forbid_twice(event)
        pointer = self._pointer(above, step)
        if len(pointer) > MAX_POINTER - _LONGEST_STEP:
            self._word = _no_word  # from here on the length of each pointer is looked at
        beside, self._height = self._height, 1
        self._stack.append(event)
        self._end = start + 1
        value, last = self._entries(pointer, flow) if mapping else self._items(pointer)
        self._stack.pop()
        height, self._height = self._height, beside
        self._end = end = collection_end(last, self._end, flow)
        node = Node(value, start, key, "", end, self._text, above, step)
        if not as_key:
            self._height = max(beside, height + 1)
            if event.anchor is not None:
                size = self._nodes - nodes - (self._keys - keys)
                self._anchors[event.anchor] = _Anchored(node, size, height)
        return node

    def _pointer(self, above: str, step: str | int | None) -> str:
        if step is None:
            return above
        pointer = join_pointer(above, step)
        if len(pointer) > MAX_POINTER:
            start = collection_start(self._stack[-1], self._text.content)
            self._complaints.stop("names inside names are too long altogether", start, start + 1)
        return pointer

    def _spend(self, nodes: int, start: int, end: int) -> None:
        self._nodes += nodes
        if self._nodes > MAX_NODES:
            self._complaints.stop(_TOO_MANY, start, end)

    def _limit_depth(self, depth: int, start: int, end: int) -> None:
        if depth > MAX_DEPTH:
            self._complaints.stop(TOO_DEEP, start, end)

    def _forbid_twice(self, event: Any) -> None:
        name = event.anchor
        if name in self._anchors or any(name == opened.anchor for opened in self._stack):
            start, _ = span(event)
            self._complaints.tell(f"&{shorten(name)} is set twice; give each its own name", start, start + 1)
