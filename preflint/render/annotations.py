"""Workflow commands: lines in a CI log that its service shows beside the changed lines of a pull request."""

from collections.abc import Mapping

from preflint.findings.report import Report
from preflint.render.escape import printable
from preflint.render.folded import Folded, folded
from preflint.render.remarks import Level, remarks, summary

SHOWN = 10
"""The service shows no more of each level for one step."""

_COMMANDS: Mapping[Level, str] = {"error": "error", "warning": "warning", "note": "notice"}


def render_annotations(report: Report) -> str:
    """The worst of each level, then in plain words how many were left out, and the numbers."""
    found = folded(remarks(report))
    by_level = {level: [r for r in found if r.level == level] for level in _COMMANDS}
    lines = [_command(one) for same in by_level.values() for one in same[:SHOWN]]
    left = {_COMMANDS[level]: max(0, len(same) - SHOWN) for level, same in by_level.items()}
    lines.append(f"preflint: left out here: {', '.join(f'{n} {name}s' for name, n in left.items())}.")
    lines += [f"preflint: {sentence}" for sentence in summary(report)]
    return "\n".join(lines) + "\n"


def _command(one: Folded) -> str:
    remark = one.first
    place = remark.place
    properties = {
        "title": printable(f"{remark.word}: {remark.rule}"),
        "file": file_name(place.file),
        "line": str(place.line),
        "endLine": str(place.end_line),
        "col": str(place.column),
        "endColumn": str(place.end_column),
    }
    text = "\n".join([one.said, *remark.advice])
    given = ",".join(f"{name}={_property(value)}" for name, value in properties.items())
    return f"::{_COMMANDS[remark.level]} {given}::{_data(text)}"


def file_name(file: str) -> str:
    """The name itself, which the service looks up; printable where it holds what cannot be shown."""
    return printable(file).replace(":\\x3a", "::")  # in a property each colon is escaped anyway


def _data(text: str) -> str:
    return text.replace("%", "%25").replace("\r", "%0D").replace("\n", "%0A")


def _property(text: str) -> str:
    return _data(text).replace(":", "%3A").replace(",", "%2C")
