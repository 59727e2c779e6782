"""Lines of a text report: the one place where words become lines, so that nothing leaves unescaped or too wide."""

from preflint.places import Place
from preflint.render.escape import printable
from preflint.render.fold import fold

# More than this of one text is not printed: a long one must not push the findings off the screen.
_LONGEST = 1500

_COLOURS = {"NO-GO": "1;31", "UNPROVEN": "1;35", "CAUTION": "1;33", "GO WITH CAUTIONS": "1;33", "ADVISORY": "1;36", "GO": "1;32"}


class Page:
    """Collects the lines of a report. Colour only repeats what the words say."""

    def __init__(self, width: int, ascii_only: bool, colour: bool) -> None:
        self.width = width
        self.ascii_only = ascii_only
        self.colour = colour
        self.lines: list[str] = []

    def say(self, text: str, first: str = "", rest: str | None = None, word: str = "") -> None:
        """Adds a paragraph. ``first`` and ``rest`` begin its lines and are our own; ``word`` in ``first`` is coloured."""
        if len(text) > _LONGEST:
            text = f"{text[:_LONGEST]} ... ({len(text) - _LONGEST} more characters)"
        shown = printable(text, self.ascii_only, ours=True)
        lines = fold(shown, self.width, first, " " * len(first) if rest is None else rest)
        if self.colour and word:
            lines[0] = lines[0].replace(word, f"\x1b[{_COLOURS[word]}m{word}\x1b[0m", 1)
        self.lines += (line.rstrip() for line in lines)

    def gap(self) -> None:
        """Adds an empty line, but never two."""
        if self.lines and self.lines[-1]:
            self.lines.append("")

    def text(self) -> str:
        """All lines, one line break at the end."""
        while self.lines and not self.lines[-1]:
            self.lines.pop()
        return "\n".join(self.lines) + "\n"


def at(place: Place) -> str:
    """``file:line:column``."""
    return f"{place.file}:{place.line}:{place.column}"


def number(count: int, one: str, many: str | None = None) -> str:
    """``1 rotor``, ``2 rotors``."""
    return f"{count} {one if count == 1 else many or one + 's'}"
