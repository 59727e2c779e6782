"""``file:line:column: severity: message`` (GNU coding standards), for editors that jump to a place.

Columns count code points. As those standards ask, a message starts small and ends without a full stop.
"""

from collections.abc import Iterator

from preflint.findings.report import Report
from preflint.render.escape import printable
from preflint.render.remarks import Remark, remarks, summary


def render_lines(report: Report) -> Iterator[str]:
    """One line a remark, worst first; then the numbers, which have no place and so jump nowhere."""
    yield from (f"{_line(remark)}\n" for remark in remarks(report))
    yield from (f"preflint: {sentence}\n" for sentence in summary(report))


def _line(remark: Remark) -> str:
    file = printable(remark.place.file)
    at = f"{file}:{remark.place.line}:{remark.place.column}"
    said = "; ".join([f"{remark.said} [{remark.rule}]", *remark.advice])
    return f"{at}: {remark.level}: {said.removesuffix('.')}"
