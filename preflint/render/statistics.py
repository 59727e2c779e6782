"""How often each rule found something or was left open, and in how many aircraft: what a club has to learn from."""

from collections.abc import Iterator
from typing import NamedTuple

from preflint.findings.report import Report
from preflint.render.page import Page, number
from preflint.render.remarks import remarks


class _Row(NamedTuple):
    word: str
    rule: str
    aircraft: int
    times: int


def say_statistics(page: Page, report: Report) -> None:
    """A line for each rule and word, in the order of severity, then the most aircraft first."""
    rows = list(_rows(report))
    page.gap()
    page.say("BY RULE")
    if not rows:
        page.say("Nothing was found and nothing is open.", "    ", "      ")
    width = max((len(row.word) for row in rows), default=0)
    for row in rows:
        of = f" ({row.times} times)" if row.times > row.aircraft else ""
        said = f"{row.rule}: {number(row.aircraft, 'aircraft', 'aircraft')}{of}"
        page.say(said, f"    {row.word:<{width}}  ", " " * (width + 8))


def _rows(report: Report) -> Iterator[_Row]:
    by_rule: dict[tuple[str, str], list[str]] = {}
    words: dict[str, int] = {}
    for one in remarks(report):
        words.setdefault(one.word, len(words))  # remarks come in the order of severity
        by_rule.setdefault((one.word, one.rule), []).append(one.aircraft or one.place.file)
    found = [_Row(word, rule, len(set(of)), len(of)) for (word, rule), of in by_rule.items()]
    yield from sorted(found, key=lambda row: (words[row.word], -row.aircraft, row.rule))
