"""What can go wrong with the tool's own inputs; what is wrong with an aircraft is a finding, never one of these."""

from collections.abc import Iterable
from dataclasses import dataclass

from preflint.places import Place


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing that keeps a file from being read, and what to write instead."""

    message: str
    place: Place | None = None


class PreflintError(Exception):
    """Base of every failure that preflint raises on purpose."""


class NotRead(PreflintError):
    """A file could not be read, or is not what it should be; the aircraft was not judged (exit code 3)."""

    def __init__(self, file: str, problems: Iterable[Problem]) -> None:
        self.file = file
        self.problems = tuple(problems)
        super().__init__(
            f"{file}: {len(self.problems)} problem(s): " + "; ".join(p.message for p in self.problems[:3])
        )

    def __reduce__(self) -> tuple[type["NotRead"], tuple[str, tuple[Problem, ...]]]:
        """For another process: an exception is otherwise made anew of its text alone."""
        return NotRead, (self.file, self.problems)


class UsageError(PreflintError):
    """A wrong option, policy or rule module; nothing was judged (exit code 2)."""


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
