"""A report in one of the formats that programs read. Each is loaded where it is asked for: most runs write one."""

from collections.abc import Iterator
from typing import Literal

from preflint.findings.outcome import Severity
from preflint.findings.report import Report

ForPrograms = Literal["json", "sarif", "junit", "markdown", "annotations", "lines", "csv"]


def rendered(report: Report, format: ForPrograms, ground_at: Severity) -> Iterator[str]:
    """The report as a text of that format, in pieces; ``ground_at`` counts for junit alone."""
    if format == "json":
        from preflint.render.json_report import render_json

        return render_json(report)
    if format == "sarif":
        from preflint.render.sarif import render_sarif

        return render_sarif(report)
    if format == "junit":
        from preflint.render.junit import render_junit

        return render_junit(report, ground_at)
    if format == "markdown":
        from preflint.render.markdown import render_markdown

        return iter([render_markdown(report)])
    if format == "annotations":
        from preflint.render.annotations import render_annotations

        return iter([render_annotations(report)])
    if format == "lines":
        from preflint.render.lines import render_lines

        return render_lines(report)
    from preflint.render.csv_report import render_csv

    return render_csv(report)
