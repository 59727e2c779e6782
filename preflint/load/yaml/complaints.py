"""What is wrong with a document, told as it is read; with single scalars in particular."""

from typing import Any, NoReturn

from preflint.errors import Problem
from preflint.load.limits import MAX_PROBLEMS, MAX_SCALAR
from preflint.load.node import Node, Scalar
from preflint.load.numbers import cut_by_commas, plain_decimal
from preflint.load.quoting import in_quotes, shorten
from preflint.load.text import FORBIDDEN, SourceText, describe_unseen
from preflint.load.yaml.marks import span
from preflint.load.yaml.scalars import Ambiguous, bad_name, plain_value


class Stop(Exception):
    """Nothing after this point can be trusted."""


class Complaints:
    """The problems of one text, the first of them; ``count`` has all. Indices point into the text."""

    def __init__(self, text: SourceText) -> None:
        self.problems: list[Problem] = []
        self.count = 0
        self._text = text

    def add(self, problem: Problem) -> None:
        self.count += 1
        if self.count <= MAX_PROBLEMS:
            self.problems.append(problem)

    def tell(self, message: str, start: int, end: int, alike: str = "") -> None:
        self.add(Problem(message, self._text.place(start, end), alike=alike))

    def stop(self, message: str, start: int, end: int) -> NoReturn:
        """Raises Stop."""
        self.tell(message, start, end)
        raise Stop

    def tag(self, event: Any) -> None:
        if event.tag is not None:
            start, _ = span(event)
            message = "a tag (text that begins with !) is not used here; delete it, or put text in quotes"
            self.tell(message, start, start + 1)

    def length(self, event: Any, start: int, end: int) -> None:
        if len(event.value) > MAX_SCALAR:
            self.stop(f"a text of {len(event.value)} characters; at most {MAX_SCALAR} are read", start, end)

    def value(self, event: Any, start: int, end: int) -> Scalar:
        """What a scalar that is not empty means."""
        value: str = event.value
        if event.style == "" and event.tag is None:
            try:
                return plain_value(value)
            except Ambiguous as refusal:
                self.tell(str(refusal), start, end, refusal.alike)
        elif event.style == '"' and (unseen := FORBIDDEN.search(value)):
            what = describe_unseen(unseen[0]).partition(";")[0]
            self.tell(f"a backslash code stands for {what}; for a plain backslash use single quotes", start, end)
        return value

    def empty(self, written: str, start: int, end: int, flow: bool) -> None:
        """Nothing is written after a name; ``start`` and ``end`` are those of the name."""
        if ":" in written:
            self.tell(f"{in_quotes(shorten(written))} needs a space after its colon", start, end)
        elif " = " in written:
            self.tell("a colon and a space stand between a name and its value, no =", start, end)
        elif written:  # without, the key is no text and was refused already
            what = f"nothing is written after {in_quotes(shorten(written))}"
            indent = "" if flow else ", indent the lines that belong to it"
            self.tell(f"{what}; write the value{indent}, or leave the line out", start, end)

    def name(self, event: Any, start: int, end: int, first: Node | None) -> bool:
        """Whether a name may stand here; ``first`` is the value that already has it."""
        name: str = event.value
        if event.anchor is not None:
            self.tell("a name cannot carry an & mark; delete the mark", start, end)
        elif complaint := bad_name(name, event.style == "" and event.tag is None):
            self.tell(complaint, start, end)
        elif first:
            line = self._text.place(start, end).line
            earlier = first.key.line if first.key else line
            where = f"twice on line {line}" if earlier == line else f"on line {earlier} and again on line {line}"
            self.tell(f"{in_quotes(name)} is written {where}; keep one of them", start, end)
        else:
            return True
        return False

    def is_cut(self, event: Any, start: int, end: int) -> bool:
        """Whether the name is a part of a number that commas cut up, as 7,300 in a flow group."""
        if event.style != "" or event.anchor is not None:
            return False
        whole = cut_by_commas(self._text.content, start, end)
        if whole and whole[2]:
            self.tell(f"{plain_decimal(whole[0])}", whole[1], end, "comma")
        return whole is not None
