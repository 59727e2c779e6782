"""All that a report has to say, one remark a place: what every format for machines and editors is made of."""

from collections.abc import Iterator
from typing import Literal

from preflint.errors import NotRead
from preflint.findings.deferral import Deferred
from preflint.findings.inspected import Inspected
from preflint.findings.outcome import CAUTION, NO_GO, Finding, Related, Unproven
from preflint.findings.report import Report
from preflint.findings.result import Result
from preflint.frozen import dataclass
from preflint.load.quoting import shorten
from preflint.places import Place
from preflint.render.entries import failed
from preflint.render.escape import printable
from preflint.render.fold import first_clauses

Level = Literal["error", "warning", "note"]

NOT_READ = "preflint/not-read"
BROKE_DOWN = "preflint/broke-down"
NOTHING_ANSWERED = "preflint/nothing-answered"
FOLDER = "preflint/folder"

NO_ANSWER = "nothing that flight needs was asked and answered"

_LONGEST = 1500
EVIDENCE = 199  # characters of it, but in the full text and in JSON
# Worst first: what was found, then what could not be looked at, then what is not known.
_ORDER = ("no-go", "not read", "broke down", "not proven", "caution", "advisory", "deferred", "not known", "folder")


@dataclass(frozen=True, slots=True)
class Remark:
    """One thing at one place. ``level`` is error wherever the aircraft is grounded by it or was not judged.

    So a gate that knows only the levels stops where the exit code does: what flight needs and is not proven is
    an error as a no-go finding is. ``word`` says which of them it is; ``at`` is the rotor or pack, if any.
    """

    level: Level
    word: str
    rule: str
    place: Place
    message: str
    aircraft: str = ""
    at: str | None = None
    evidence: str = ""
    precaution: str = ""
    todo: str = ""
    related: tuple[Related, ...] = ()
    deferral: str = ""
    named: Place | None = None  # where its aircraft is named

    @property
    def said(self) -> str:
        """What is the matter, and with what; one printable line, as the other texts are."""
        subject = ", ".join(part for part in (self.aircraft, self.at) if part)
        return shown(f"{subject}: {self.kind}{self.message}" if subject else f"{self.kind}{self.message}")

    @property
    def kind(self) -> str:
        """What goes before a message that is no finding in force; "" before one that is."""
        return f"{self.word}: " if self.word in ("not proven", "not known", "deferred") else ""

    @property
    def advice(self) -> list[str]:
        """Why, in brief; what to mind, what to do; the precaution always before the job."""
        why = first_clauses(self.evidence, EVIDENCE)
        parts = (("Until", self.deferral), ("Why", why), ("First", self.precaution), ("Then", self.todo))
        return [shown(f"{label}: {text}") for label, text in parts if text]


def remarks(report: Report) -> list[Remark]:
    """Every finding, open question, failure and unread file once; worst first, then by place and rule."""
    found = [remark for one in report.aircraft for remark in _of_aircraft(one)]
    found += [remark for item in report.not_read for remark in _not_read(item)]
    found += [Remark("note", "folder", FOLDER, note.place or whole("."), note.message) for note in report.notes]
    return sorted(
        found,
        key=lambda r: (_ORDER.index(r.word), r.place, r.rule, r.at or "", r.aircraft, r.message),
    )


def remark(result: Result, one: Inspected) -> Remark | None:
    """What a finding or open question amounts to; None for any other answer."""
    put_off = next((entry for entry in one.deferred if entry.result == result), None)
    outcome, rule, name = result.outcome, result.rule, one.about.name.value
    if isinstance(outcome, Finding):
        level: Level = "error" if rule.severity == NO_GO else "warning" if rule.severity == CAUTION else "note"
        return Remark(
            "note" if put_off else level, "deferred" if put_off else str(rule.severity), rule.id, outcome.place,
            outcome.message, name, result.at, outcome.evidence, result.precaution, outcome.do,
            outcome.related, _deferral(put_off), one.about.name.place,
        )  # fmt: skip
    if isinstance(outcome, Unproven):
        needed = rule.needed_for_flight
        return Remark(
            "error" if needed else "note", "not proven" if needed else "not known", rule.id, outcome.place,
            outcome.message, name, result.at, outcome.evidence, result.precaution, outcome.do,
            outcome.related, named=one.about.name.place,
        )  # fmt: skip
    return None


def nothing_answered(one: Inspected) -> bool:
    """Whether the aircraft is unproven though no rule that flight needs is open and none failed."""
    needed = (r.outcome for r in one.results if r.rule.needed_for_flight)
    return one.verdict == "unproven" and not failed(one) and not any(isinstance(o, Unproven) for o in needed)


def summary(report: Report) -> list[str]:
    """The numbers that every format tells, as printable sentences; first, where it is so, why they are small."""
    counts, given = report.counts, report.counts.answers
    verdicts = ", ".join(f"{count} {verdict}" for verdict, count in counts.verdicts.items())
    answers = ", ".join(f"{count} {answer.replace('_', ' ')}" for answer, count in given.items())
    seen, assessed, not_assessed = counts.manifests_seen, counts.manifests_assessed, counts.manifests_not_assessed
    why = ["Interrupted: what is not told here was not judged."] if report.interrupted else []
    why += ["No aircraft uses any of the files named, so none was judged."] if report.spared else []
    why += [printable(sentence) for sentence in [said_missing(report)] if sentence]
    return [
        *why,
        *map(printable, report.left_out),
        f"Manifests: {seen} seen, {assessed} assessed, {not_assessed} not assessed. Aircraft: {verdicts}.",
        f"Rule answers: {sum(given.values())} in all, {answers}.",
        *_flown(report),
        printable(f"Judged on {report.judged_on} by {report.tool}, {report.policy or 'no policy'}."),
    ]


def _flown(report: Report) -> Iterator[str]:
    """The packs that were named as flown today: what is said of an aircraft is then of these alone."""
    flown = [f"{one.about.name.value} with {' and '.join(one.flown_with)}"
             for one in report.aircraft if one.flown_with]  # fmt: skip
    if flown:
        yield shown(f"Packs flown today: {'; '.join(flown)}.")


def said_missing(report: Report) -> str:
    """Whom the club expects and nobody wrote a manifest of; "" where all are there."""
    names = ", ".join(shorten(name) for name in report.missing)
    return f"MISSING though on the club's roster, so nothing is known of: {names}." if names else ""


def shown(text: str) -> str:
    """One printable line, cut where it is very long."""
    line = printable(text)
    return line if len(line) <= _LONGEST else f"{line[:_LONGEST]} ... ({len(line) - _LONGEST} more characters)"


def whole(file: str) -> Place:
    """The start of a file, for what is about all of it."""
    return Place(file, 1, 1, 1, 1)


def _of_aircraft(one: Inspected) -> Iterator[Remark]:
    name = one.about.name.value
    yield from (found for result in one.results if (found := remark(result, one)))
    for rule, at, message in failed(one):
        about = f"{rule} failed by itself, so what it asks is open: {message}"
        yield Remark("error", "broke down", BROKE_DOWN, whole(one.manifest), about, name, at)
    if nothing_answered(one):
        yield Remark("error", "not proven", NOTHING_ANSWERED, whole(one.manifest), NO_ANSWER, name)


def _not_read(item: NotRead) -> Iterator[Remark]:
    for problem in item.problems:
        where = problem.place or whole(item.file)
        about = "" if where.file == item.file else f"{item.file}: "
        message = f"not read, so not judged: {about}{problem.message}"
        yield Remark("error", "not read", NOT_READ, where, message, item.legible.name or "")


def _deferral(entry: Deferred | None) -> str:
    if entry is None:
        return ""
    by, because = entry.deferral.by.value, entry.deferral.because.value
    return f"{entry.deferral.until.value.date}, deferred by {by}: {because}"
