"""The outline of a manifest that is half typed: where each key stands, by hyphens, indents and brackets alone.

Loading refuses a text with one fault in it; somebody who types has one in it all the time. What is told here only
helps to type, and judges nothing.
"""

import re
from dataclasses import field, replace

from preflint.frozen import dataclass
from preflint.load.limits import MAX_DEPTH

_KEY = re.compile(r"""(?P<key>[A-Za-z_][\w.-]*|"[^"]*"|'[^']*')\s*:(?=\s|$)""")
_LITERAL = re.compile(r"[|>][+-]?\d?\s*(#.*)?$")
_COMMENT = re.compile(r"(?:^|\s)#.*")

Step = str | int
Steps = tuple[Step, ...]
"""Keys, and the numbers of entries of lists."""


@dataclass(frozen=True, slots=True)
class Cursor:
    """Where the cursor is: ``steps`` lead to the value that is typed, or to the group that gets a new key.

    ``word`` is what stands before the cursor, from the column ``start`` on (from 0).
    """

    steps: Steps
    as_value: bool
    word: str
    start: int


@dataclass(slots=True)
class Outline:
    """``values``: the text of each scalar, by the steps that lead to it; "" where something else stands there."""

    values: dict[Steps, str] = field(default_factory=dict)
    cursor: Cursor | None = None

    def keys(self, of: Steps) -> list[str]:
        """The keys written in a group."""
        return [str(steps[-1]) for steps in self.values if steps[:-1] == of and isinstance(steps[-1], str)]


def outline(text: str, line: int = -1, column: int = 0) -> Outline:
    """Of the whole text, with what is at the cursor; lines and columns count from 0, in code points."""
    scan = _Scan()
    for number, written in enumerate(text.split("\n")):
        if number == line:
            flow = [replace(frame) for frame in scan.flow]
            before = _Scan([*scan.block], flow, scan.literal, scan.entries.copy())
            scan.done.cursor = before.at(written[:column])
        scan.take(written.rstrip("\r"))
    return scan.done


@dataclass(slots=True)
class _Frame:
    """An open bracket: its key or entry, and what has been read of it."""

    bracket: str
    step: Step | None
    token: str = ""


class _Scan:
    def __init__(
        self, block: list[tuple[int, Step]] | None = None, flow: list[_Frame] | None = None,
        literal: int | None = None, entries: dict[Steps, int] | None = None,
    ) -> None:  # fmt: skip
        self.block = block or []
        self.flow = flow or []
        self.literal = literal  # the indent of the key whose text goes on below
        self.entries = entries or {}  # the last entry of each list
        self.done = Outline()

    @property
    def steps(self) -> Steps:
        inner = [frame.step for frame in self.flow if frame.step is not None]
        return (*(step for _, step in self.block), *inner)

    def take(self, line: str) -> None:
        indent = len(line) - len(line.lstrip(" "))
        if self.literal is not None and (not line.strip() or indent > self.literal):
            return
        self.literal = None
        if self.flow and line.strip() and indent <= (self.block[-1][0] if self.block else -1):
            self.flow.clear()  # the bracket was never closed
        if self.flow:
            self.flow[-1].token += " " if self.flow[-1].token else ""
            self._brackets(line, 0)
            return
        rest = self._hyphens(line)
        found = _KEY.match(line, rest)
        if found is None:
            value = _COMMENT.sub("", line[rest:]).strip()
            if value[:1] in ("[", "{"):
                self._brackets(line, rest)
            elif value and self.block and isinstance(self.block[-1][1], int):
                self.done.values[self.steps] = value
            return
        self._leave(rest, False)
        self.block.append((rest, found["key"].strip("\"'")))
        self._value(line, found.end())

    def at(self, before: str) -> Cursor | None:
        """What is typed at the end of a line that has only this before the cursor; None in a comment or long text."""
        if self.literal is not None and (not before.strip() or len(before) - len(before.lstrip(" ")) > self.literal):
            return None
        if not before.strip() and not self.flow:
            self._leave(len(before), False)
            return Cursor(self.steps, False, "", len(before))
        if _COMMENT.search(before):
            return None
        self.take(before)
        if self.flow:
            frame = self.flow[-1]
            word = frame.token.lstrip()
            as_value = frame.bracket == "[" or frame.step is not None
            return Cursor(self.steps, as_value, word, len(before) - len(word))
        rest = len(before) - len(before.lstrip(" "))
        while before[rest : rest + 2] in ("- ", "-"):
            rest += 1 + len(before[rest + 1 :]) - len(before[rest + 1 :].lstrip(" "))
        if found := _KEY.match(before, rest):
            word = before[found.end() :].lstrip()
            closed = word[-1:] in ("]", "}")
            return None if closed else Cursor(self.steps, True, word, len(before) - len(word))
        self._leave(rest, False)
        return Cursor(self.steps, False, before[rest:], rest)

    def _hyphens(self, line: str) -> int:
        """Where what stands after the hyphens of a line begins; each of them opens an entry."""
        at = len(line) - len(line.lstrip(" "))
        while line[at : at + 1] == "-" and line[at + 1 : at + 2] in ("", " ") and len(self.block) < MAX_DEPTH:
            self._leave(at, True)
            number = self.entries[self.steps] = self.entries.get(self.steps, -1) + 1
            self.block.append((at, number))
            self.done.values.setdefault(self.steps, "")
            at += 1 + len(line[at + 1 :]) - len(line[at + 1 :].lstrip(" "))
        return at

    def _leave(self, indent: int, hyphen: bool) -> None:
        """Closes all that does not go on at this indent; a list may stand below its key without being indented."""
        while self.block and (
            self.block[-1][0] > indent
            or (self.block[-1][0] == indent and (not hyphen or isinstance(self.block[-1][1], int)))
        ):
            self.block.pop()

    def _value(self, line: str, at: int) -> None:
        value = _COMMENT.sub("", line[at:]).strip()
        self.done.values[self.steps] = value
        if _LITERAL.match(value):
            self.literal = self.block[-1][0]
        elif value[:1] in ("[", "{"):
            self.done.values[self.steps] = ""
            self._brackets(line, line.index(value[0], at))

    def _brackets(self, line: str, at: int) -> None:
        quote = ""
        for index in range(at, len(line)):
            sign = line[index]
            frame = self.flow[-1] if self.flow else None
            if quote:
                quote = "" if sign == quote else quote
            elif sign in "\"'" and frame is not None and not frame.token.strip():
                quote = sign
            elif sign == "#" and line[index - 1 : index].strip() == "":
                return
            elif sign in "[{":
                if frame is not None:
                    frame.token = ""
                if len(self.flow) == MAX_DEPTH:
                    return
                self.flow.append(_Frame(sign, 0 if sign == "[" else None))
                continue
            elif sign in "]}":
                self._end_of_entry()
                self.flow = self.flow[:-1]
                if not self.flow:
                    return
                continue
            elif frame is not None and sign == ",":
                self._end_of_entry()
                frame.step = frame.step + 1 if isinstance(frame.step, int) else None
                continue
            elif frame is not None and frame.bracket == "{" and _ends_a_key(line, index):
                frame.step = frame.token.strip().strip("\"'")
                frame.token = ""
                self.done.values[self.steps] = ""
                continue
            if frame is not None:
                frame.token += sign

    def _end_of_entry(self) -> None:
        frame = self.flow[-1] if self.flow else None
        if frame is not None and frame.token.strip() and frame.step is not None:
            self.done.values[self.steps] = frame.token.strip()
        if frame is not None:
            frame.token = ""


def _ends_a_key(line: str, index: int) -> bool:
    return line[index] == ":" and line[index + 1 : index + 2] in ("", " ")
