"""Declaring rules, figures and tolerances."""

import re
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from inspect import getdoc
from typing import TYPE_CHECKING, Any, Literal

from preflint.errors import PackError
from preflint.findings.outcome import Outcome, Severity
from preflint.findings.result import Figure
from preflint.findings.work import Job

if TYPE_CHECKING:
    from preflint.engine.context import Context

Each = Literal["aircraft", "rotor", "pack", "record", "deferral"]
_ID = re.compile(r"[a-z][a-z0-9_]*/[a-z][a-z0-9]*(-[a-z0-9]+)*")


@dataclass(frozen=True, slots=True)
class Tolerance:
    """A limit that a rule judges by. ``stricter`` says which way a policy may move it freely."""

    name: str
    unit: str
    default: float
    stricter: Literal["lower", "higher"]
    origin: str  # the standard, "derived: ..." or "common practice, no source"
    meaning: str

    @property
    def told(self) -> str:
        """The limit as people read it, without its meaning."""
        return f"{self.name} {self.with_unit(self.default)} ({self.stricter} is stricter; {self.origin})"

    def with_unit(self, value: float) -> str:
        """A value of this limit; a plain number has no unit to show."""
        return f"{value:g}" if self.unit == "1" else f"{value:g} {self.unit}"


@dataclass(frozen=True, slots=True)
class Rule:
    """One judgement. ``source`` is the clause or "common practice, no source"; ``manual`` its page."""

    id: str
    each: Each
    severity: Severity
    job: Job
    precaution: str
    source: str
    judge: Callable[[Any, "Context"], Outcome]
    needed_for_flight: bool
    tolerances: tuple[Tolerance, ...]
    manual: str

    @property
    def topic(self) -> str:
        """The part of the id before the slash."""
        return self.id.partition("/")[0]

    @property
    def title(self) -> str:
        """The first line of the manual page."""
        return self.manual.splitlines()[0]

    def __reduce__(self) -> tuple[Any, ...]:
        """For another process, which only reports what this rule answered: without the function."""
        return Rule, (
            self.id,
            self.each,
            self.severity,
            self.job,
            self.precaution,
            self.source,
            _judged_elsewhere,
            self.needed_for_flight,
            self.tolerances,
            self.manual,
        )


def _judged_elsewhere(subject: Any, on: "Context") -> Outcome:
    raise PackError("this rule was asked in another process and cannot be asked here")


def rule(
    id: str,
    *,
    each: Each,
    severity: Severity,
    job: Job,
    precaution: str,
    source: str,
    needed_for_flight: bool = False,
    tolerances: Iterable[Tolerance] = (),
) -> Callable[[Callable[[Any, "Context"], Outcome]], Rule]:
    """Makes a Rule of a function; its docstring is the manual page. Raises PackError where metadata is missing."""

    def declare(judge: Callable[[Any, "Context"], Outcome]) -> Rule:
        manual = (getdoc(judge) or "").replace("``", "`")  # names look alike, whichever way a docstring marks them
        for name, value in (
            ("a manual page (docstring)", manual),
            ("a precaution", precaution),
            ("a source", source),
        ):
            if not value.strip():
                raise PackError(f"rule {id} lacks {name}")
        if not _ID.fullmatch(id):
            raise PackError(f"rule id {id!r} is not of the form topic/short-name")
        return Rule(
            id, each, severity, job, precaution, source, judge, needed_for_flight, tuple(tolerances), manual
        )

    return declare


@dataclass(frozen=True, slots=True)
class FigureSource:
    """A named computation; it may give several quantities and cases."""

    id: str
    compute: Callable[["Context"], Iterable[Figure]]


def figure(id: str) -> Callable[[Callable[["Context"], Iterable[Figure]]], FigureSource]:
    """Makes a FigureSource of a function, which runs once for an aircraft; a missing input is no error."""

    def declare(compute: Callable[["Context"], Iterable[Figure]]) -> FigureSource:
        return FigureSource(id, compute)

    return declare
