"""The public Python interface: what ``import preflint`` offers. The command line comes in by the same door.

Here alone is a clock, and only where no day to judge at is given.
"""

import datetime as dt
import os
from collections.abc import Iterable, Iterator, Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Literal, TypeAlias, get_args

from preflint.engine.rule_module import builtin_and
from preflint.errors import NotRead, PreflintError, Problem, RuleModuleError, UsageError
from preflint.findings.deferral import Deferred
from preflint.findings.inspected import Inspected
from preflint.findings.narrowed import narrowed
from preflint.findings.next_jobs import NextJob, next_jobs
from preflint.findings.outcome import (
    ADVISORY,
    NO_GO,
    Cause,
    Clear,
    Crashed,
    Finding,
    NotApplicable,
    Outcome,
    Related,
    Severity,
    Unproven,
)
from preflint.findings.report import Counts, Note, Report, is_grounded
from preflint.findings.result import Figure, Result, Verdict
from preflint.findings.rule_info import RuleInfo, Tolerance
from preflint.fleet import inspect as fleet
from preflint.load.tables.readings import Reading
from preflint.places import Place
from preflint.precautions import Job, Precaution
from preflint.render.formats import rendered
from preflint.render.page import refuse_narrow
from preflint.render.text import Detail, render_text

if TYPE_CHECKING:
    from concurrent.futures import Executor

    from preflint.findings.compared import Earlier

__all__ = [  # noqa: RUF022 - grouped by what they are for
    # judging, and telling of it
    "inspect",
    "inspect_many",
    "render_report",
    "write_sheets",
    "next_jobs",
    "explain",
    "is_grounded",
    # the report, from the whole to the parts
    "Report",
    "Counts",
    "Note",
    "Inspected",
    "Verdict",  # what follows for flight: no-go, unproven, go-with-cautions or go
    "Result",
    "Figure",
    "Deferred",
    "NextJob",
    "Job",
    # what a rule answered, and what is known of the rule
    "Outcome",  # one of the five that follow
    "Finding",
    "Clear",
    "Unproven",
    "NotApplicable",
    "Crashed",
    "Related",
    "Cause",  # why it is unproven
    "Severity",
    "RuleInfo",
    "Tolerance",
    "Precaution",
    "Place",
    # failures
    "PreflintError",
    "NotRead",
    "Problem",
    "UsageError",
    "RuleModuleError",
    # the types of arguments
    "FORMATS",
    "Format",
    "Detail",  # how much a text tells: full, jobs, first-hover, grounded or none
    "JudgedOn",
    "Progress",  # called with the manifests judged, and those in all
    "Reading",  # called with the name of a log, the bytes read, and those in all
    "StrPath",
]

Format = Literal["text", "json", "sarif", "junit", "markdown", "annotations", "lines", "csv"]
"""What a report is rendered as."""

FORMATS: tuple[Format, ...] = get_args(Format)
"""All of them, in the order in which people are told of them."""

StrPath: TypeAlias = str | os.PathLike[str]
"""A file or folder."""

JudgedOn: TypeAlias = dt.date | Literal["field-day"] | None
"""The day judged at, as on its evening; of a ``datetime`` its own date. None is today, by the clock of this machine.

"field-day" is the day that the club policy names, and each aircraft is then judged at the site of that day.
"""

Progress = fleet.Progress


def inspect(
    path: StrPath,
    *,
    judged_on: JudgedOn = None,
    rules: Iterable[str] = (),
    policy: StrPath | None = None,
    unsaved: str | bytes | None = None,
    packs: str | Iterable[str] = (),
) -> Inspected:
    """Reads and judges one manifest, with the files it names, by the rules and the club policy that hold for it.

    Args:
        judged_on: see :data:`JudgedOn`.
        rules: importable names of installed rule modules, whose rules are asked beside the built-in ones, in a
            process apart.
        policy: judges by this file instead of the preflint.yaml above the manifest.
        unsaved: the manifest as an editor holds it, judged in place of the file, which may not be on the disk yet.
        packs: labels of the packs flown today, one or several; see :func:`inspect_many`.

    Raises:
        NotRead: the manifest, or a file that it names, cannot be read as it should; every problem has its place.
        UsageError: a rule module or the policy is wrong, or it has no pack of such a label.
    """
    if os.path.isdir(path):
        raise NotRead(os.fspath(path), [Problem("this is a folder; inspect_many judges the aircraft in it")])
    held = None if unsaved is None else {path: unsaved}
    report = inspect_many(path, judged_on=judged_on, rules=rules, policy=policy, unsaved=held, packs=packs)
    if report.interrupted:
        raise KeyboardInterrupt
    if report.not_read:
        raise report.not_read[0]
    return report.aircraft[0]


def inspect_many(
    paths: StrPath | Iterable[StrPath],
    *,
    judged_on: JudgedOn = None,
    rules: Iterable[str] = (),
    policy: StrPath | None = None,
    changed: StrPath | Iterable[StrPath] | None = None,
    executor: "Executor | None" = None,
    progress: Progress | None = None,
    reading: Reading | None = None,
    unsaved: Mapping[StrPath, str | bytes] | None = None,
    packs: str | Iterable[str] = (),
    earlier: StrPath | None = None,
) -> Report:
    """Finds the manifests in ``paths``, files or folders, and judges them; what cannot be read is in ``not_read``.

    The report is the same to the byte on any executor. An interruption (Ctrl-C) ends the run: the report then holds
    what had been judged, and says so in ``interrupted``.

    Args:
        paths: one, or several. A folder is searched for files named ``*.airframe.yaml``.
        judged_on: see :data:`JudgedOn`.
        rules: importable names of installed rule modules, whose rules are asked beside the built-in ones.
        policy: judges by this file instead of the preflint.yaml above the manifests.
        changed: one, or several; judges only the aircraft that use one of these files.
        executor: runs chunks of manifests; it must see the same files. None judges one after the other, here or,
            where ``rules`` are named, in one process apart. A new process of an executor may import from the current
            folder: set PYTHONSAFEPATH where strangers' files lie there.
        progress: called with the manifests judged and those in all, about once a second even while nothing is done.
        reading: called with the name of a log, the bytes read and those in all; only where the judging is done here.
        unsaved: by their paths, as they stand in ``paths``, manifests as an editor holds them.
        packs: labels of the packs flown today, one or several. An aircraft with a pack of such a label then needs that
            pack's check of the day, and its other packs are not asked about; one without is judged as ever.
        earlier: an earlier JSON report, to tell what is new, gone and still there since then.

    Raises:
        UsageError: a rule module or policy is wrong, no policy names a field day, every aircraft was read and none
            has a pack of such a label, or ``earlier`` is no whole JSON report.
    """
    then = None if earlier is None else _read_earlier(Path(earlier))
    report = fleet.inspect_many(
        _several(paths),
        executor,
        judged_on=_day(judged_on),
        rules=(rules,) if isinstance(rules, str) else tuple(rules),
        policy=None if policy is None else Path(policy),
        changed=None if changed is None else _several(changed),
        progress=progress or _nobody_waits,
        reading=reading,
        unsaved={Path(file): _bytes(text) for file, text in (unsaved or {}).items()},
        packs=(packs,) if isinstance(packs, str) else tuple(packs),
    )
    if then is None:
        return report
    from preflint.fleet.compare import compare

    return compare(report, then)


def _read_earlier(path: Path) -> "Earlier":
    from preflint.fleet.earlier import read_earlier

    return read_earlier(path)


def _bytes(text: str | bytes) -> bytes:
    return text if isinstance(text, bytes) else text.encode("utf-8", "surrogatepass")


def _several(paths: StrPath | Iterable[StrPath]) -> list[Path]:
    """One path is no row of letters."""
    return [Path(paths)] if isinstance(paths, str | os.PathLike) else [Path(path) for path in paths]


def render_report(
    report: Report,
    format: Format = "text",
    *,
    ground_at: Severity = NO_GO,
    detail: Detail | None = None,
    width: int = 80,
    ascii_only: bool = False,
    colour: bool = False,
    least: Severity = ADVISORY,
    owners: Iterable[str] = (),
    verdicts: Iterable[Verdict] = (),
    statistics: bool = False,
) -> str:
    """The report in one of the FORMATS, as ``--report`` writes it; the same report gives the same text.

    Args:
        ground_at: the severity from which on a finding grounds, as in :func:`is_grounded`; of text and junit only.
        detail: "full" is all there is of each aircraft, "jobs" every job of each, "first-hover" the card for that of
            each, "grounded" one screen of each that is grounded, "none" name and verdict; None is one screen of one
            aircraft, and a table of several. This and the following are of the text only.
        width: columns of a line, 30 or more.
        least: leaves out what is less, in every format: above advisory also what flight does not wait for, what
            somebody answers for, and notes about the folder. The numbers stay those of the whole run.
        owners, verdicts: tells only of aircraft of these owners and verdicts; of all where none is given.
        statistics: how often each rule found something; of text only.

    Raises:
        UsageError: there is no such format, severity, verdict or detail, ``least`` leaves out what grounds, or the
            lines are too narrow.
    """
    pieces = report_pieces(
        report, format, ground_at=ground_at, detail=detail, width=width, ascii_only=ascii_only, colour=colour,
        least=least, owners=owners, verdicts=verdicts, statistics=statistics,
    )  # fmt: skip
    return "".join(pieces)


def report_pieces(
    report: Report, format: Format, *, ground_at: Severity, detail: Detail | None, least: Severity,
    owners: Iterable[str], verdicts: Iterable[Verdict], width: int = 80, ascii_only: bool = False,
    colour: bool = False, statistics: bool = False,
) -> Iterator[str]:  # fmt: skip
    """As :func:`render_report`, piece by piece: what is written at once is never held whole."""
    report = narrowed(report, ground_at, least, _texts(owners), _texts(verdicts))
    if detail is not None and detail not in get_args(Detail):
        raise UsageError(f"detail {detail!r}: give one of {', '.join(get_args(Detail))}, or None")
    refuse_narrow(width)
    if format == "text":
        return iter([render_text(report, width, ascii_only, colour, detail, ground_at, statistics)])
    if format not in FORMATS:
        raise UsageError(f"no format {format}; there are {', '.join(FORMATS)}")
    return rendered(report, format, ground_at)


def write_sheets(
    report: Report,
    folder: StrPath,
    *,
    ground_at: Severity = NO_GO,
    least: Severity = ADVISORY,
    owners: Iterable[str] = (),
    verdicts: Iterable[Verdict] = (),
) -> None:
    """Writes the field sheet, as ``--report sheet=FOLDER`` does: HTML of each aircraft, of the club, for each owner.

    The folder is new, empty or an older sheet, whose place the new one takes; it is written whole or not at all.
    Needs the extra: pip install "preflint[sheet]"

    Args:
        ground_at: the severity from which on a finding grounds, as in :func:`is_grounded`.
        least, owners, verdicts: tell less, as in :func:`render_report`.

    Raises:
        UsageError: the extra is not installed, or an argument is wrong.
        PreflintError: the folder holds anything else, is a link, or cannot be written.
    """
    from preflint.render.folder import write_folder
    from preflint.render.sheet.pages import pages

    told = narrowed(report, ground_at, least, _texts(owners), _texts(verdicts))
    write_folder(pages(told, ground_at), Path(folder))


def _texts(given: Iterable[str]) -> tuple[str, ...]:
    """One text is no row of letters."""
    return (given,) if isinstance(given, str) else tuple(given)


def explain(name: str, *, rules: Iterable[str] = (), width: int = 80, ascii_only: bool = False) -> str:
    """What a name means, as text: a key, a kind of record, a rule, a limit, a word of reports.

    Where several things have the name, each is told shortly. Lines to paste are dated today.

    Args:
        rules: importable names of installed rule modules, whose rules and limits are known beside the built-in ones.
        width: columns of a line, 30 or more.

    Raises:
        UsageError: nothing has the name (the nearest ones are told), a rule module is wrong, or lines are too narrow.
    """
    from preflint.aircraft.moment import Moment
    from preflint.meanings.look_up import look_up
    from preflint.render.explained import explained

    refuse_narrow(width)
    registry = builtin_and((rules,) if isinstance(rules, str) else rules)
    return explained(look_up(name, registry, Moment(dt.date.today())), width, ascii_only)


def _day(judged_on: JudgedOn) -> dt.date | None:
    """The day itself; None for the field day."""
    if judged_on is None:
        return dt.date.today()
    if judged_on == "field-day":
        return None
    if not isinstance(judged_on, dt.date):
        raise UsageError(f'judged_on {judged_on!r}: give a datetime.date, "field-day", or None for today')
    return judged_on.date() if isinstance(judged_on, dt.datetime) else judged_on


def now() -> dt.datetime:
    """The minute by the clock of this machine, for what is written down today."""
    return dt.datetime.now().replace(second=0, microsecond=0)


def _nobody_waits(done: int, total: int) -> None:
    """Tells nobody."""
