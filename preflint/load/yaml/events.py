"""A YAML document to nodes with places, from parser events and within budgets.

Nothing here resolves tags, merges keys or builds Python objects: those are the parts of YAML that
run code, blow up, or read one text in two ways.
"""

from collections.abc import Iterator

import yaml

from preflint.errors import NotRead, PreflintError, Problem
from preflint.load.limits import (
    MAX_DEPTH,
    MAX_NODES,
    MAX_POINTER,
    MAX_PROBLEMS,
    MAX_SCALAR,
    MAX_YAML_BYTES,
    limited,
)
from preflint.load.node import Node, Scalar
from preflint.load.numbers import cut_by_commas, plain_decimal
from preflint.load.quoting import in_quotes, shorten
from preflint.load.text import FORBIDDEN, SourceText, decode, describe_unseen
from preflint.load.yaml.frames import Anchored, Key, Open
from preflint.load.yaml.marks import collection_end, collection_start, scalar_span, span
from preflint.load.yaml.scalars import Ambiguous, bad_name, plain_value
from preflint.load.yaml.syntax import TOO_DEEP, syntax_problem
from preflint.places import Place, join_pointer


def load_yaml(data: bytes, file: str) -> Node:
    """The one document in ``data``, whose top level is a mapping; ``file`` is the name shown to people.

    An alias stands for the node it names, with that node's places. A byte order mark is allowed.

    Raises:
        NotRead: with every problem that could be found, in the order of the file.
    """
    if len(data) > MAX_YAML_BYTES:
        size = f"the file has {len(data)} bytes; at most {MAX_YAML_BYTES} are read"
        raise NotRead(file, [Problem(size, Place(file, 1, 1, 1, 1))])
    text = SourceText(decode(data, file), file)
    if merge := text.unresolved_merge():
        raise NotRead(file, text.quoted([merge]))
    unseen, count = text.unseen_characters()
    builder = _Builder(SourceText(FORBIDDEN.sub("_", text.content), file), follow_on=bool(count))
    root = builder.build()
    problems = sorted(unseen + builder.problems, key=_position)
    count += builder.count
    if problems or root is None:
        raise NotRead(file, text.quoted(limited(problems, count)))
    return root


def _position(problem: Problem) -> tuple[int, int]:
    return (problem.place.line, problem.place.column) if problem.place else (0, 0)


class _Stop(Exception):
    """Nothing after this point can be trusted."""


def _events(content: str) -> Iterator[yaml.Event]:
    loader = getattr(yaml, "CLoader", None)
    if loader is None:
        raise PreflintError("the installed PyYAML was built without libyaml, which preflint needs")
    yield from yaml.parse(content, Loader=loader)


class _Builder:
    def __init__(self, text: SourceText, follow_on: bool) -> None:
        self.problems: list[Problem] = []
        self.count = 0
        self._text = text
        self._follow_on = follow_on
        self._nodes = 0
        self._documents = 0
        self._stack: list[Open] = []
        self._anchors: dict[str, Anchored] = {}
        self._root: Node | None = None
        self._lone: Place | None = None  # a scalar where the root mapping should be
        self._quoted: tuple[int, int] | None = None  # the last text in quotes, if it runs over a line's end

    def build(self) -> Node | None:
        """The root, or None where a problem left none."""
        events = _events(self._text.content)
        try:
            while True:
                try:
                    event = next(events, None)
                except (PreflintError, MemoryError):
                    raise
                except Exception as error:  # the parser raises more than its own exceptions
                    if not self._follow_on:
                        flow = next((frame.start for frame in reversed(self._stack) if frame.flow), None)
                        self._add(syntax_problem(error, self._text, flow, self._quoted))
                    return None
                if event is None:
                    break
                self._take(event)
        except _Stop:
            return None
        if self._documents == 0:
            empty = not self._text.content.strip()
            self._problem("the file is empty" if empty else "the file holds nothing but comments", 0, 0)
        elif self._lone is not None and self.count == 0:
            self._add(Problem('the file must hold names with values, as in "preflint: 1"', self._lone))
        return self._root

    def _take(self, event: yaml.Event) -> None:
        match event:
            case yaml.ScalarEvent():
                self._scalar(event)
            case yaml.DocumentStartEvent():
                self._document(event)
            case yaml.AliasEvent():
                self._alias(event)
            case yaml.CollectionStartEvent():
                self._open(event)
            case yaml.CollectionEndEvent():
                self._close(event)
            case _:
                pass

    def _document(self, event: yaml.DocumentStartEvent) -> None:
        self._documents += 1
        start, end = span(event)
        if self._documents > 1:
            self._problem("a second document starts here; a file holds one", start, end)
            raise _Stop
        if event.tags:
            self._problem("%TAG is not used here; delete the line", start, start + 1)

    # Nodes

    def _scalar(self, event: yaml.ScalarEvent) -> None:
        start, end = scalar_span(event, self._text.content)
        self._spend(1, start, end)
        self._refuse_tag(event)
        if len(event.value) > MAX_SCALAR:
            message = f"a text of {len(event.value)} characters; at most {MAX_SCALAR} are read"
            self._problem(message, start, end)
            raise _Stop
        self._quoted = (start, end) if event.style in ("'", '"') and "\n" in self._text.content[start:end] else None
        top = self._stack[-1] if self._stack else None
        if top is not None and top.mapping and top.key is None:
            top.key = self._key(event, top, start, end)
            top.end = end
            return
        place = self._text.place(start, end, self._pointer())
        found = Anchored(Node(self._value(event, start, end), place, text=event.value), 1, 0)
        if event.anchor is not None:
            self._forbid_twice(event)
            self._anchors[event.anchor] = found
        self._deliver(found, end)

    def _value(self, event: yaml.ScalarEvent, start: int, end: int) -> Scalar:
        value: str = event.value
        if event.style == "" and event.tag is None:
            if value == "":
                self._empty(start)
                return value
            try:
                return plain_value(value)
            except Ambiguous as refusal:
                self._problem(str(refusal), start, end, refusal.alike)
        elif event.style == '"' and (unseen := FORBIDDEN.search(value)):
            what = describe_unseen(unseen[0]).partition(";")[0]
            message = f"a backslash code stands for {what}; for a plain backslash use single quotes"
            self._problem(message, start, end)
        return value

    def _empty(self, start: int) -> None:
        key = self._stack[-1].key if self._stack else None
        if key is None:
            if self._stack:
                self._problem("a list entry is empty; write its value, or delete it", start - 1, start)
            else:
                self._problem("the file holds no entries", start, start)
        elif key.written == "":
            return  # a key that is no text was refused already
        elif ":" in key.written:
            self._problem(
                f"{in_quotes(shorten(key.written))} needs a space after its colon", key.start, key.end
            )
        elif " = " in key.written:
            self._problem("a colon and a space stand between a name and its value, no =", key.start, key.end)
        else:
            what = f"nothing is written after {in_quotes(shorten(key.written))}"
            indent = "" if self._stack[-1].flow else ", indent the lines that belong to it"
            self._problem(f"{what}; write the value{indent}, or leave the line out", key.start, key.end)

    def _key(self, event: yaml.ScalarEvent, top: Open, start: int, end: int) -> Key:
        name: str = event.value
        if event.anchor is not None:
            self._problem("a name cannot carry an & mark; delete the mark", start, end)
            return Key(None, name, start, end)
        if event.style == "" and top.flow and (whole := cut_by_commas(self._text.content, start, end)):
            number, begin, done = whole
            if done:
                self._problem(f"{plain_decimal(number)}", begin, end, "comma")
            return Key(None, "", start, end)
        if complaint := bad_name(event.value, event.style == "" and event.tag is None):
            self._problem(complaint, start, end)
            return Key(None, name, start, end)
        if first := top.entries.get(name):
            line = self._text.place(start, end).line
            earlier = first.key.line if first.key else line
            where = (
                f"twice on line {line}" if earlier == line else f"on line {earlier} and again on line {line}"
            )
            self._problem(f"{in_quotes(name)} is written {where}; keep one of them", start, end)
            return Key(None, name, start, end)
        return Key(name, name, start, end)

    def _alias(self, event: yaml.AliasEvent) -> None:
        (start, end), name = span(event), event.anchor or ""
        known = self._anchors.get(name)
        top = self._stack[-1] if self._stack else None
        if top is not None and top.mapping and top.key is None:
            self._problem(f"*{shorten(name)} cannot stand for a name; write the name out", start, end)
            top.key = Key(None, f"*{name}", start, end)
            return
        if known is None:
            what = f"names nothing above it; if it is text, write {in_quotes('*' + shorten(name))}"
            if any(name == frame.anchor for frame in self._stack):
                what = "stands inside the very value it names"
            self._problem(f"*{shorten(name)} {what}", start, end)
            known = Anchored(Node("", self._text.place(start, end, self._pointer())), 1, 0)
        self._spend(known.size, start, end)
        self._limit_depth(len(self._stack) + known.height, start, end)
        self._deliver(known, end)

    def _open(self, event: yaml.CollectionStartEvent) -> None:
        mapping, flow = isinstance(event, yaml.MappingStartEvent), bool(event.flow_style)
        start = collection_start(event, self._text.content)
        self._spend(1, start, start + 1)
        self._limit_depth(len(self._stack) + 1, start, start + 1)
        self._refuse_tag(event)
        top = self._stack[-1] if self._stack else None
        as_key = top is not None and top.mapping and top.key is None
        if as_key:
            self._problem("a name must be text, not a list or a group", start, start + 1)
        elif top is None and not mapping:
            self._problem("the file must begin with names, not with a list", start, start + 1)
        if event.anchor is not None and not as_key:
            self._forbid_twice(event)
        self._stack.append(Open(mapping, flow, self._pointer(), start, start + 1, event.anchor, as_key))

    def _close(self, event: yaml.CollectionEndEvent) -> None:
        done = self._stack.pop()
        end = collection_end(event, done.end, done.flow)
        if done.stands_as_key:
            self._stack[-1].key = Key(None, "", done.start, end)
            return
        value = done.entries if done.mapping else tuple(done.items)
        node = Node(value, self._text.place(done.start, end, done.pointer))
        found = Anchored(node, done.size, done.height)
        if done.anchor is not None:
            self._anchors[done.anchor] = found
        self._deliver(found, end)

    def _deliver(self, found: Anchored, end: int) -> None:
        if not self._stack:
            if isinstance(found.node.value, dict):
                self._root = found.node
            elif not isinstance(found.node.value, tuple):
                self._lone = found.node.place
            return
        top = self._stack[-1]
        top.end = end
        top.size += found.size
        top.height = max(top.height, found.height + 1)
        if not top.mapping:
            top.items.append(found.node)
        elif top.key is not None:
            key, top.key = top.key, None
            if key.name is not None:
                place = self._text.place(key.start, key.end, join_pointer(top.pointer, key.name))
                node = found.node
                top.entries[key.name] = Node(node.value, node.place, place, node.text)

    # Where things are

    def _pointer(self) -> str:
        """The pointer of the value that comes next."""
        if not self._stack:
            return ""
        top = self._stack[-1]
        if not top.mapping:
            pointer = join_pointer(top.pointer, len(top.items))
        elif top.key is not None and top.key.name is not None:
            pointer = join_pointer(top.pointer, top.key.name)
        else:
            return top.pointer
        if len(pointer) > MAX_POINTER:
            self._problem("names inside names are too long altogether", top.start, top.start + 1)
            raise _Stop
        return pointer

    # Budgets and complaints

    def _spend(self, nodes: int, start: int, end: int) -> None:
        self._nodes += nodes
        if self._nodes > MAX_NODES:
            self._problem(f"the file holds more than {MAX_NODES} values", start, end)
            raise _Stop

    def _limit_depth(self, depth: int, start: int, end: int) -> None:
        if depth > MAX_DEPTH:
            self._problem(TOO_DEEP, start, end)
            raise _Stop

    def _refuse_tag(self, event: yaml.ScalarEvent | yaml.CollectionStartEvent) -> None:
        if event.tag is not None:
            start, _ = span(event)
            message = "a tag (text that begins with !) is not used here; delete it, or put text in quotes"
            self._problem(message, start, start + 1)

    def _forbid_twice(self, event: yaml.ScalarEvent | yaml.CollectionStartEvent) -> None:
        name = event.anchor or ""
        if name in self._anchors or any(name == frame.anchor for frame in self._stack):
            start, _ = span(event)
            self._problem(f"&{shorten(name)} is set twice; give each its own name", start, start + 1)

    def _problem(self, message: str, start: int, end: int, alike: str = "") -> None:
        self._add(Problem(message, self._text.place(start, end), alike=alike))

    def _add(self, problem: Problem) -> None:
        self.count += 1
        if self.count <= MAX_PROBLEMS:
            self.problems.append(problem)
