"""``--report FORMAT=FILE``: further reports of the same run, several at once."""

from collections.abc import Sequence
from pathlib import Path
from typing import Literal

from preflint.errors import UsageError
from preflint.findings.outcome import Severity
from preflint.findings.report import Report

FORMATS = ("text", "json", "sarif", "junit", "markdown", "annotations", "lines")

Detail = Literal["all", "grounded", "none"] | None

Wanted = Sequence[tuple[str, Path | None]]
"""Formats with their files; None is standard output."""


def wanted(options: Sequence[str], output: Path | None) -> Wanted:
    """What the options ask for beside ``output``. Raises UsageError."""
    found: list[tuple[str, Path | None]] = []
    for option in options:
        form, sign, file = option.partition("=")
        if not sign or not file:
            raise UsageError(f"--report {option}: write FORMAT=FILE, as in sarif=preflint.sarif; - is standard output")
        if form not in FORMATS:
            raise UsageError(f"--report {option}: no format {form}; there are {', '.join(FORMATS)}")
        target = None if file == "-" else Path(file)
        taken = [other for _, other in found] + ([output] if output else [])
        if any(_same(target, other) for other in taken):
            raise UsageError(f"--report {option}: another report goes to the same place already")
        found.append((form, target))
    return found


def _same(one: Path | None, other: Path | None) -> bool:
    if one is None or other is None:
        return one is other
    return one.absolute() == other.absolute()


def rendered(form: str, report: Report, ground_at: Severity, detail: Detail) -> str:
    """The report in one of the FORMATS; ``detail`` is of the text only."""
    if form == "json":
        from preflint.render.json_report import render_json

        return render_json(report)
    if form == "sarif":
        from preflint.render.sarif import render_sarif

        return render_sarif(report)
    if form == "junit":
        from preflint.render.junit import render_junit

        return render_junit(report, ground_at)
    if form == "markdown":
        from preflint.render.markdown import render_markdown

        return render_markdown(report)
    if form == "annotations":
        from preflint.render.annotations import render_annotations

        return render_annotations(report)
    if form == "lines":
        from preflint.render.lines import render_lines

        return render_lines(report)
    from preflint.render.text import render_text

    return render_text(report, detail=detail, ground_at=ground_at)
