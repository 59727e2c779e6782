"""Declaring rules and figures."""

import re
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from inspect import getdoc
from typing import Any, TypeAlias

from preflint.engine.context import Context
from preflint.errors import RuleModuleError
from preflint.findings.outcome import Outcome, Severity
from preflint.findings.result import Figure
from preflint.findings.rule_info import Each, RuleInfo, Tolerance
from preflint.precautions import Job, Precaution

Judge: TypeAlias = Callable[[Any, Context], Outcome]

_ID = re.compile(r"([a-z][a-z0-9_]*)/([a-z][a-z0-9]*(?:-[a-z0-9]+)*)")


@dataclass(frozen=True, slots=True)
class Rule:
    """One judgement: what is known of it, and the function that judges."""

    info: RuleInfo
    judge: Judge


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
) -> Callable[[Judge], Rule]:
    """Makes a Rule of a function; its docstring is the manual page.

    Raises RuleModuleError where metadata is missing.
    """

    def declare(judge: Judge) -> Rule:
        manual = (getdoc(judge) or "").replace("``", "`")  # names look alike, whichever way a docstring marks them
        for name, value in (("a manual page (docstring)", manual), ("a precaution", precaution), ("a source", source)):
            if not value.strip():
                raise RuleModuleError(f"rule {id} lacks {name}")
        parts = _ID.fullmatch(id)
        if parts is None:
            raise RuleModuleError(f"rule id {id!r} is not of the form topic/short-name")
        info = RuleInfo(
            topic=parts[1],
            name=parts[2],
            each=each,
            severity=severity,
            job=job,
            precaution=Precaution.of(precaution),
            source=source,
            needed_for_flight=needed_for_flight,
            tolerances=tuple(tolerances),
            manual=manual,
        )
        return Rule(info, judge)

    return declare


@dataclass(frozen=True, slots=True)
class FigureSource:
    """A named computation; it may give several quantities and cases."""

    id: str
    compute: Callable[[Context], Iterable[Figure]]


def figure(id: str) -> Callable[[Callable[[Context], Iterable[Figure]]], FigureSource]:
    """Makes a FigureSource of a function, which runs once for an aircraft; a missing input is no error."""

    def declare(compute: Callable[[Context], Iterable[Figure]]) -> FigureSource:
        return FigureSource(id, compute)

    return declare
