"""Where in a manifest's text an entry goes, and what is put there: by the places that loading tells."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from preflint.aircraft.declared import declarations
from preflint.aircraft.model import Aircraft
from preflint.errors import NotRead, Problem
from preflint.load.node import Node
from preflint.places import Place
from preflint.writing.yaml_text import LONGEST, broken, entry_lines

BY_HAND = "add the entry by hand; --print shows its lines"
Entries = Sequence[Mapping[str, Any]]


@dataclass(slots=True)
class ManifestText:
    """The text without its byte order mark, and what it loads to; each answer is an index and what to put there."""

    content: str
    root: Node

    @property
    def end(self) -> str:
        """The line end of the file."""
        return "\r\n" if "\r\n" in self.content else "\n"

    def records(self, kind: str, entries: Entries) -> tuple[int, str]:
        """Below the records of a kind; where none is written, below those of the other kinds."""
        held = _entries(self.root).get("records")
        if held is None:
            return self.section("records", kind, entries)
        self._stands_here(held)
        if kind in _entries(held):
            return self.list_of(_entries(held)[kind], entries)
        if self._is_flow(held):
            lines = broken(f"{kind}: ", list(entries))
            return self._in_brackets(held, lines)
        first = next(iter(_entries(held).values()))
        indent = self._before(first.key or first.place)
        return self._after(held, indent, self._block(f"{indent}{kind}:", indent + self._inner(held), entries))

    def section(self, key: str, kind: str | None, entries: Entries) -> tuple[int, str]:
        """A whole section of the manifest that is not there yet, or the logbook."""
        top = _entries(self.root)
        if self._is_flow(self.root):
            raise self._refusal(f"the whole manifest stands between braces: {BY_HAND}", self.root.place)
        if key in top:
            return self.list_of(top[key], entries)
        lines = self._block(f"  {kind}:", "    ", entries) if kind else self._block(f"{key}:", "  ", entries)
        lines = [f"{key}:", *lines] if kind else lines
        order = ["preflint", *(said.key or name for name, said in declarations(Aircraft).items())]
        later = [node for name, node in top.items() if name in order[order.index(key) :]]
        lines = ["", *lines] if self._spaced() else lines
        if not later:
            return self._at_the_end(key, lines)
        follower = min(later, key=lambda node: _start(node).line)
        before = [node for node in top.values() if _start(node).line < _start(follower).line]
        if before:
            return self._after(max(before, key=lambda node: _start(node).line), "", lines)
        return self._index(_start(follower).line, 1), self._joined([*lines[lines[0] == "" :], ""])

    def list_of(self, held: Node, entries: Entries) -> tuple[int, str]:
        """After the last entry of a list."""
        if not isinstance(held.value, tuple):
            raise self._refusal("a list of entries is needed here", held.place)
        self._stands_here(held)
        if self._is_flow(held):
            pieces = [line for entry in entries[:-1] for line in _with_comma(broken("", entry))]
            return self._in_brackets(held, [*pieces, *broken("", entries[-1])])
        indent, last = self._before(held.place), held.value[-1]
        gap = last.place.column - held.place.column
        beside = last.place.line >= held.place.line and self._before(last.place).strip() == "-"
        hyphen = "-" + " " * (gap - 1) if beside and gap > 1 else "- "
        block = None if self._char(last.place) == "{" else True
        lines = [line for entry in entries for line in entry_lines(entry, indent, hyphen, block)]
        return self._after(held, indent, lines)

    # Places

    def _at_the_end(self, key: str, lines: list[str]) -> tuple[int, str]:
        """The end of the file, or before the lines that a draft has about it."""
        last = max(node.place.end_line for node in _entries(self.root).values())
        written = self.content.split("\n")
        for number in range(last, len(written)):
            if written[number].replace(" ", "").rstrip("\r") == f"#{key}:":
                lines = [*lines[lines[0] == "" and written[number - 1].strip() == "" :], "", ""]
                return self._index(number + 1, 1), self._joined(lines)
        missing = "" if self.content.endswith("\n") else self.end
        if lines[0] == "" and self.content.endswith(("\n\n", "\n\r\n")):
            lines = lines[1:]
        return len(self.content), missing + self._joined([*lines, ""])

    def _after(self, node: Node, indent: str, lines: Sequence[str]) -> tuple[int, str]:
        """Below the last line of a node, and below the comments that stand further in than its entries."""
        written = self.content.split("\n")
        below = node.place.end_line
        while below < len(written) and _is_comment_inside(written[below], indent):
            below += 1
        if below >= len(written):
            return len(self.content), self.end + self._joined(lines)
        return self._index(below + 1, 1), self._joined([*lines, ""])

    def _in_brackets(self, held: Node, lines: Iterable[str]) -> tuple[int, str]:
        """Before the closing bracket of a list or group between brackets, after what stands in it."""
        pieces = list(lines)
        inside = list(held.value.values() if isinstance(held.value, Mapping) else _items(held))
        at = end = self._index(held.place.end_line, held.place.end_column) - 1
        if inside:
            last = inside[-1]
            at = self._index(last.place.end_line, last.place.end_column)
            if not self._index(held.place.line, held.place.column) < at <= end:
                raise self._refusal(f"a * mark stands for an entry that is written elsewhere: {BY_HAND}", held.place)
        line_start = self.content.rfind("\n", 0, at) + 1
        width = at - line_start
        if len(pieces) == 1 and width + len(pieces[0]) + 3 <= LONGEST:
            return at, (", " if inside else "") + pieces[0]
        key_line = self.content.split("\n")[(held.key or held.place).line - 1]
        indent = " " * (len(key_line) - len(key_line.lstrip()) + 2)
        return at, ("," if inside else "") + self.end + self._joined([indent + piece for piece in pieces])

    def _block(self, head: str, indent: str, entries: Entries) -> list[str]:
        return [head, *(line for entry in entries for line in entry_lines(entry, indent))]

    def _inner(self, records: Node) -> str:
        """How much further in than its kind a record of the neighbours stands."""
        for node in _entries(records).values():
            if not self._is_flow(node) and node.key and node.place > node.key:
                return " " * max(0, node.place.column - node.key.column)
        return "  "

    def _spaced(self) -> bool:
        """Whether an empty line stands before the sections of this manifest."""
        written = self.content.split("\n")
        for node in _entries(self.root).values():
            above = _start(node).line - 2
            while above >= 0 and written[above].startswith("#"):
                above -= 1
            if above >= 0 and not written[above].strip():
                return True
        return False

    def _stands_here(self, node: Node) -> None:
        if node.key and node.place < node.key:
            raise self._refusal(f"a * mark stands for this list, which is written elsewhere: {BY_HAND}", node.key)

    def _is_flow(self, node: Node) -> bool:
        return self._char(node.place) in ("[", "{")

    def _char(self, place: Place) -> str:
        at = self._index(place.line, place.column)
        return self.content[at : at + 1]

    def _before(self, place: Place) -> str:
        """What stands before a place on its line."""
        start = self._index(place.line, 1)
        return self.content[start : start + place.column - 1]

    def _index(self, line: int, column: int) -> int:
        at = 0
        for _ in range(line - 1):
            at = self.content.index("\n", at) + 1
        return at + column - 1

    def _joined(self, lines: Sequence[str]) -> str:
        return self.end.join(lines)

    def _refusal(self, why: str, place: Place) -> NotRead:
        return NotRead(place.file, [Problem(why, place)])


def _is_comment_inside(line: str, indent: str) -> bool:
    inner = line.lstrip(" ")
    return inner.startswith("#") and len(line) - len(inner) > len(indent)


def _with_comma(lines: Iterable[str]) -> list[str]:
    every = list(lines)
    return [*every[:-1], f"{every[-1]},"]


def _start(node: Node) -> Place:
    return node.key or node.place


def _entries(node: Node) -> Mapping[str, Node]:
    if not isinstance(node.value, Mapping):
        raise NotRead(node.place.file, [Problem("names with values are needed here", node.place)])
    return node.value


def _items(node: Node) -> Sequence[Node]:
    return node.value if isinstance(node.value, tuple) else ()
