"""What is to be marked in an open manifest, by one run over it as it is typed."""

import datetime as dt
from pathlib import Path

from lsprotocol import types as lsp

from preflint.editor.marks import Marks
from preflint.errors import UsageError
from preflint.findings.inspected import Inspected
from preflint.findings.outcome import Finding, Unproven
from preflint.findings.report import Report
from preflint.interface import inspect_many
from preflint.places import Place
from preflint.render.remarks import Remark, remarks

SOURCE = "preflint"
_MOST = 200

# What was found is as bad as it says; what flight needs and lacks is a warning, since it is only not known yet.
_SEVERITY = {
    "no-go": lsp.DiagnosticSeverity.Error,
    "not read": lsp.DiagnosticSeverity.Error,
    "broke down": lsp.DiagnosticSeverity.Error,
    "not proven": lsp.DiagnosticSeverity.Warning,
    "caution": lsp.DiagnosticSeverity.Warning,
    "advisory": lsp.DiagnosticSeverity.Information,
    "deferred": lsp.DiagnosticSeverity.Information,
    "folder": lsp.DiagnosticSeverity.Information,
    "not known": lsp.DiagnosticSeverity.Hint,
}


def not_judged(why: str) -> lsp.Diagnostic:
    """That preflint itself failed, at the start of the document."""
    start = lsp.Position(0, 0)
    return lsp.Diagnostic(
        range=lsp.Range(start, start), severity=lsp.DiagnosticSeverity.Error, code="preflint/failed", source=SOURCE,
        message=f"not judged: a fault in preflint itself, nothing is to be concluded: {why}",
    )  # fmt: skip


class Judged:
    """One run: ``diagnostics`` of the document; ``aircraft`` where it was read."""

    def __init__(self, path: Path, text: str, marks: Marks, today: dt.date, rules: tuple[str, ...]) -> None:
        self._path, self._marks, self._own = path.absolute(), marks, ""
        self.aircraft: Inspected | None = None
        try:
            report = inspect_many(path, judged_on=today, rules=rules, unsaved={path: text})
        except UsageError as error:
            where, worst = self._first_line(), lsp.DiagnosticSeverity.Error
            self.diagnostics = [self._diagnostic(worst, "preflint/policy", where, str(error))]
            return
        self.aircraft = next(iter(report.aircraft), None)
        self._own = self.aircraft.manifest if self.aircraft else report.not_read[0].file if report.not_read else ""
        self.diagnostics = self._told(report)

    def records_wanted(self, at: lsp.Range) -> tuple[str, ...]:
        """The kinds of record that would answer what is open at a range, each once, in the order judged."""
        found: dict[str, None] = {}
        for result in self.aircraft.results if self.aircraft else ():
            outcome = result.outcome
            if isinstance(outcome, Unproven) or (isinstance(outcome, Finding) and outcome.again):
                place = outcome.place
                kind = _kind(outcome.record, place)
                if kind and place.file == self._own and _touch(self._marks.range(place), at):
                    found.setdefault(kind)
        return tuple(found)

    def _told(self, report: Report) -> list[lsp.Diagnostic]:
        """Each once: what several rotors share a place for is told with its rotors."""
        made: dict[tuple[object, ...], lsp.Diagnostic] = {}
        for one in remarks(report):
            place, elsewhere = one.place, ""
            if place.file != self._own:
                place, elsewhere = self._first_line(), f"{place.file}:{place.line}:{place.column}: "
            where = f"{one.at}: " if one.at and not one.message.startswith(one.at) else ""
            said = "\n".join([f"{elsewhere}{where}{one.message}", *one.advice])
            key = (place, one.rule, said)
            if key not in made and len(made) < _MOST:
                made[key] = self._diagnostic(_SEVERITY[one.word], one.rule, place, said, one)
        return list(made.values())

    def _diagnostic(
        self, severity: lsp.DiagnosticSeverity, rule: str, place: Place, message: str, one: Remark | None = None
    ) -> lsp.Diagnostic:
        return lsp.Diagnostic(
            range=self._marks.range(place), severity=severity, code=rule, source=SOURCE, message=message,
            related_information=[
                lsp.DiagnosticRelatedInformation(
                    location=lsp.Location(uri=self._uri(related.place), range=self._range(related.place)),
                    message=related.message,
                )
                for related in (one.related if one else ())
            ],
        )  # fmt: skip

    def _uri(self, place: Place) -> str:
        root = self._path.as_posix().removesuffix(self._own)
        return Path(root, place.file).as_uri()

    def _range(self, place: Place) -> lsp.Range:
        if place.file == self._own:
            return self._marks.range(place)
        line, column = place.line - 1, place.column - 1
        return lsp.Range(start=lsp.Position(line, column), end=lsp.Position(line, column))

    def _first_line(self) -> Place:
        return Place("", 1, 1, 1, len(self._marks.lines[0]) + 1)


def _kind(record: str | None, place: Place) -> str | None:
    steps = place.pointer.split("/")
    return record or (steps[2] if len(steps) > 2 and steps[1] == "records" else None)


def _touch(one: lsp.Range, other: lsp.Range) -> bool:
    return one.start.line <= other.end.line and other.start.line <= one.end.line
