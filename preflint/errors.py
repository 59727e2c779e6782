"""What can go wrong with the tool's own inputs; what is wrong with an aircraft is a finding, never one of these."""

from collections.abc import Iterable
from dataclasses import field

from preflint.frozen import dataclass
from preflint.places import Place

LONGEST_LINE = 400
"""Characters of a line that a problem carries; a screen shows fewer, and a hostile line can be very long."""


@dataclass(frozen=True, slots=True)
class Line:
    """A line of a file as it was read, or of a long one the stretch about a place; it begins at ``column``."""

    text: str
    column: int = 1

    @classmethod
    def about(cls, text: str, place: Place) -> "Line":
        """Of the whole line ``text`` on which ``place`` begins."""
        start = max(0, min(place.column - 1 - LONGEST_LINE // 2, len(text) - LONGEST_LINE))
        return cls(text[start : start + LONGEST_LINE], start + 1)


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing that keeps a file from being read, and what to write instead.

    ``line`` is the line of the file at ``place``, from the bytes that were read; None where there is none to show.
    ``alike`` names the mistake where messages about it differ in the values they quote: a page tells the first in
    full and counts the others.
    """

    message: str
    place: Place | None = None
    line: Line | None = field(default=None, compare=False)
    alike: str = field(default="", compare=False)


class PreflintError(Exception):
    """Base of every failure that preflint raises on purpose."""


@dataclass(frozen=True, slots=True)
class Legible:
    """What stands in a manifest that was not judged: its words about the aircraft, unchecked; None where none do."""

    name: str | None = None
    owner: str | None = None
    layout: str | None = None

    @property
    def told(self) -> tuple[str, ...]:
        """Name, owner and layout, as far as they stand there."""
        return tuple(text for text in (self.name, self.owner, self.layout) if text)


class NotRead(PreflintError):
    """A file could not be read, or is not what it should be; the aircraft was not judged (exit code 3).

    ``legible`` is who it speaks of all the same.
    """

    def __init__(self, file: str, problems: Iterable[Problem], legible: Legible | None = None) -> None:
        self.file = file
        self.legible = legible or Legible()
        self.problems = tuple(problems)
        super().__init__(
            f"{file}: {len(self.problems)} problem(s): " + "; ".join(p.message for p in self.problems[:3])
        )

    def __reduce__(self) -> tuple[type["NotRead"], tuple[str, tuple[Problem, ...], Legible]]:
        """For another process: an exception is otherwise made anew of its text alone."""
        return NotRead, (self.file, self.problems, self.legible)


class UsageError(PreflintError):
    """A wrong option, policy or rule module; nothing was judged (exit code 2).

    ``problems`` are those of a policy, each at its place; ``said`` is the message without them.
    """

    def __init__(self, message: str, said: str = "", problems: Iterable[Problem] = ()) -> None:
        self.said = said or message
        self.problems = tuple(problems)
        super().__init__(message)

    def __reduce__(self) -> tuple[type["UsageError"], tuple[str, str, tuple[Problem, ...]]]:
        return type(self), (str(self), self.said, self.problems)


class RuleModuleError(UsageError):
    """A rule module that does not load, has no rules, doubles an id or lacks metadata."""


class OutputError(PreflintError):
    """The report could not be written whole (exit code 4)."""


def told(failure: BaseException) -> str:
    """The class and the text of any error, as far as it lets itself be told."""
    try:
        return f"{type(failure).__name__}: {failure}"
    except BaseException:  # its class may be a stranger's, too
        return "an error that cannot be told"
