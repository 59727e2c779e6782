"""Lines of a text report: words become lines here only, so that nothing leaves unescaped or too wide."""

from collections.abc import Sequence
from typing import get_args

from preflint.errors import UsageError
from preflint.findings.result import Verdict
from preflint.glossary import GLOSSARY
from preflint.places import Place
from preflint.render.escape import printable
from preflint.render.fold import columns, first_clause, fold

# More than this of one text is not printed: a long one must not push the findings off the screen.
_LONGEST = 1500
_LEAST = 30  # columns of a line
_LONGEST_NAME, _NAME_END = 300, 140

_COLOURS = {
    "NO-GO": "1;31",
    "UNPROVEN": "1;35",
    "CAUTION": "1;33",
    "GO WITH CAUTIONS": "1;33",
    "ADVISORY": "1;36",
    "GO": "1;32",
}

VERDICTS = {verdict: GLOSSARY[verdict].shown for verdict in get_args(Verdict)}


class Page:
    """Collects the lines of a report. Colour only repeats what the words say."""

    def __init__(self, width: int, ascii_only: bool, colour: bool) -> None:
        self.width = width
        self.ascii_only = ascii_only
        self.colour = colour
        self.lines: list[str] = []

    def say(self, text: str, first: str = "", rest: str | None = None, word: str = "") -> None:
        """Adds a paragraph. ``first`` and ``rest`` begin its lines; ``word`` in ``first`` is coloured."""
        shown = printable(text, self.ascii_only, ours=True)
        if len(shown) > _LONGEST:
            shown = f"{shown[:_LONGEST]} ... ({len(shown) - _LONGEST} more characters)"
        lines = fold(shown, self.width, first, " " * len(first) if rest is None else rest)
        if self.colour and word:
            lines[0] = lines[0].replace(word, f"\x1b[{_COLOURS[word]}m{word}\x1b[0m", 1)
        self.lines += (line.rstrip() for line in lines)

    def brief(self, text: str, width: int) -> str:
        """The tool's own words, of a message longer than so many columns the clauses that fit."""
        return first_clause(printable(text, self.ascii_only, ours=True), width)

    def paste(self, lines: Sequence[str]) -> None:
        """Adds lines of YAML, broken only where YAML may be: a word that is too long for a line stays whole."""
        for whole in lines:
            words = printable(whole.lstrip(), self.ascii_only).split(" ")
            indent = " " * (len(whole) - len(whole.lstrip()))
            line = f"{indent}{words[0]}"
            for word in words[1:]:
                if columns(f"{line} {word}") > self.width:
                    self.lines.append(line)
                    line = f"{indent}    {word}"
                else:
                    line = f"{line} {word}"
            self.lines.append(line)

    def quote(self, text: str) -> str:
        """The owner's words, such as a name or a file: never spelled otherwise; cut in the middle if long."""
        shown = printable(text, self.ascii_only)
        return shown if len(shown) <= _LONGEST_NAME else f"{shown[:_NAME_END]}...{shown[-_NAME_END:]}"

    def another(self) -> "Page":
        """An empty page of the same kind."""
        return Page(self.width, self.ascii_only, self.colour)

    def at(self, place: Place) -> str:
        """``file:line:column``."""
        return f"{self.quote(place.file)}:{place.line}:{place.column}"

    def gap(self) -> None:
        """Adds an empty line, but never two."""
        if self.lines and self.lines[-1]:
            self.lines.append("")

    def divide(self) -> None:
        """Adds a line between two aircraft."""
        self.gap()
        self.lines.append("- " * (self.width // 2 - 1) + "-")

    def text(self) -> str:
        """All lines, one line break at the end."""
        while self.lines and not self.lines[-1]:
            self.lines.pop()
        return "\n".join(self.lines) + "\n"


def refuse_narrow(width: int) -> None:
    """Raises UsageError for a page on which no line would hold a word and what goes before it."""
    if not isinstance(width, int) or width < _LEAST:
        raise UsageError(f"width {width}: a line has {_LEAST} columns or more")


def number(count: int, one: str, many: str | None = None) -> str:
    """``1 rotor``, ``2 rotors``."""
    return f"{count} {one if count == 1 else many or one + 's'}"
