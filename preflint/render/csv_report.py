"""The report as a table for a spreadsheet (RFC 4180): a line for each finding, open question and failure."""

import csv
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

from preflint.aircraft.field import Known
from preflint.findings.report import Report
from preflint.render.remarks import Remark, remarks, shown, summary
from preflint.render.table import worst_first

COLUMNS = ("aircraft", "owner", "verdict", "word", "rule", "rotor", "file", "line", "message", "remedy")
_HEAD = f"{','.join(COLUMNS)}\r\n"
_FORMULA = ("=", "+", "-", "@", "＝", "＋", "－", "＠")  # with what a spreadsheet begins to compute


def render_csv(report: Report) -> Iterator[str]:
    """Line by line; aircraft by aircraft, worst first in each; then what was not read, notes, and the numbers and the
    packs, day, rule modules and policy of the run. A line for each aircraft at least.

    ``word`` is the severity, or not proven, not known, deferred, broke down, not read, folder, missing, report. An
    apostrophe stands before what a spreadsheet would compute. Lines end in CR LF.
    """
    writer = csv.writer(_Told(), lineterminator="\r\n")
    yield _HEAD
    for row in _rows(report):
        yield writer.writerow(map(_inert, row))


class _Told:
    """What the writer writes a line to, which it gives back."""

    def write(self, line: str) -> str:
        return line


def is_csv_report(file: Path) -> bool:
    """Whether the file begins as such a report does."""
    with open(file, "rb") as opened:
        return opened.read(len(_HEAD)) == _HEAD.encode()


def _rows(report: Report) -> Iterator[tuple[str, ...]]:
    for one in worst_first(report.aircraft):
        about = one.about
        whose = (about.name.value, about.owner.value if isinstance(about.owner, Known) else "", one.verdict)
        found = remarks(replace(report, aircraft=(one,), not_read=(), notes=()))
        for remark in found:
            yield (*whose, *_told(remark))
        if not found:
            yield (*whose, "", "", "", one.manifest, "", "", "")
    for name in report.missing:
        yield (name, "", "", "missing", "", "", "", "", "on the club's roster, and nothing is known of it", "")
    for item in report.not_read:
        for remark in remarks(replace(report, aircraft=(), not_read=(item,), notes=())):
            yield (item.legible.name or "", item.legible.owner or "", "", *_told(remark))
    for remark in remarks(replace(report, aircraft=(), not_read=())):
        yield ("", "", "", *_told(remark))
    for sentence in summary(replace(report, missing=())):
        yield ("", "", "", "report", "", "", "", "", sentence, "")


def _told(remark: Remark) -> tuple[str, ...]:
    place = remark.place
    return remark.word, remark.rule, remark.at or "", place.file, str(place.line), remark.message, remark.todo


def _inert(cell: str) -> str:
    plain = shown(cell)
    return f"'{plain}" if plain.lstrip().startswith(_FORMULA) else plain
