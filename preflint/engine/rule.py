"""Declaring rules and figures."""

import math
import re
from collections.abc import Callable, Iterable
from typing import Any, TypeAlias, get_args

from preflint.aircraft.declared import is_group
from preflint.engine.answer import are, is_precaution
from preflint.engine.context import Context
from preflint.errors import RuleModuleError
from preflint.findings.outcome import Outcome, Severity
from preflint.findings.result import Figure
from preflint.findings.rule_info import Each, RuleInfo, Tolerance
from preflint.frozen import dataclass
from preflint.precautions import Job, Precaution

Judge: TypeAlias = Callable[[Any, Context], Outcome]

_EACH = get_args(Each)
_ID = re.compile(r"[a-z][a-z0-9_]*/[a-z][a-z0-9]*(?:-[a-z0-9]+)*")


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
    needed_for_pack: bool = False,
    shown_by: type | None = None,
    tolerances: Iterable[Tolerance] = (),
) -> Callable[[Judge], Rule]:
    """Makes a Rule of a function; its docstring is the manual page.

    shown_by: what shows that which flight needs, a kind of record (``records.SpinTest``) or a group of fields
    (``rotor.Fixing``), whose declaration tells the rung and the minutes; with one of the following, and only then.
    needed_for_pack: flight needs it of each pack that is named as flown today, and of no other.

    Raises RuleModuleError where metadata is missing or no such thing.
    """

    def declare(judge: Judge) -> Rule:
        page = judge.__doc__ if isinstance(judge.__doc__, str) else ""
        for name, value in (("a manual page (docstring)", page), ("a precaution", precaution), ("a source", source)):
            if not value.strip():
                raise RuleModuleError(f"rule {id} lacks {name}")
        info = RuleInfo(
            id=id,
            each=each,
            severity=severity,
            job=job,
            precaution=Precaution.of(precaution),
            source=source,
            needed_for_flight=needed_for_flight,
            tolerances=tuple(tolerances),
            docstring=page,
            shown_by=shown_by,
            needed_for_pack=needed_for_pack,
        )
        if needed_for_pack and each != "pack":
            raise RuleModuleError(f"rule {id}: only a rule of each pack can be needed for a pack")
        if (needed_for_flight or needed_for_pack) != (shown_by is not None):
            raise RuleModuleError(f"rule {id}: what flight needs names what shows it (shown_by), and only that does")
        made = Rule(info, judge)
        if wrong := wrong_with_rule(made):
            raise RuleModuleError(wrong)
        return made

    return declare


def wrong_with_rule(rule: Rule) -> str | None:
    """Why it could not be asked, or not be told of: a rule that is asked of nothing would be silent."""
    info = rule.info
    if not are(RuleInfo, info) or not are(str, info.id):
        return "has a rule that was not made by @rule"
    named = f"rule {info.id}:"
    if _ID.fullmatch(info.id) is None:
        return f"rule id {info.id!r} is not of the form topic/short-name"
    if not are(str, info.each) or info.each not in _EACH:
        return f"{named} each is one of {', '.join(_EACH)}"
    if not are(Severity, info.severity) or not are(Job, info.job) or not are(
        bool, info.needed_for_flight, info.needed_for_pack
    ):
        return f"{named} severity is a Severity, job a Job, needed_for_flight and needed_for_pack true or false"
    if info.shown_by is not None and not is_group(info.shown_by):
        return f"{named} shown_by is a kind of record or a group of fields, as records.SpinTest is"
    if not is_precaution(info.precaution) or not are(str, info.source, info.docstring):
        return f"{named} precaution, source and manual page are texts"
    if not are(tuple, info.tolerances) or not all(map(_is_tolerance, info.tolerances)):
        return f"{named} tolerances are Tolerance with texts, and with a finite number as their default"
    return None if callable(rule.judge) else f"{named} it has no function that judges"


def _is_tolerance(tolerance: object) -> bool:
    if not isinstance(tolerance, Tolerance) or not are(Tolerance, tolerance):
        return False
    texts = (tolerance.name, tolerance.unit, tolerance.stricter, tolerance.origin, tolerance.meaning)
    return (
        are(str, *texts)
        and tolerance.stricter in ("lower", "higher")
        and (tolerance.age_of is None or are(str, tolerance.age_of))
        and (are(int, tolerance.default) or are(float, tolerance.default))
        and math.isfinite(tolerance.default)
    )


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
