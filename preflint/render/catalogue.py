"""The rules as people read them: a list by topic, or one manual page."""

import difflib
import textwrap
from collections.abc import Iterator
from itertools import groupby

from preflint.engine.rule_module import Registry
from preflint.errors import UsageError
from preflint.findings.rule_info import RuleInfo

WIDTH = 80
MOST_LIMITS = 4


def all_rules(registry: Registry) -> str:
    """Every rule by topic with its severity, its limits and where it comes from."""
    lines = []
    for topic, rules in groupby(registry.rules, key=lambda rule: rule.info.topic):
        lines += [topic.replace("_", " ").upper(), ""]
        for rule in (each.info for each in rules):
            needed = ", needed for flight" if rule.needed_for_flight else ""
            lines += [*_fold(f"{rule.id}  ({rule.severity}{needed})", 2), *_fold(rule.title, 6)]
            lines += _fold(f"Source: {rule.source}", 6)
            for tolerance in rule.tolerances[:MOST_LIMITS]:
                lines += _fold(f"Limit: {tolerance.told}", 6)
            if more := len(rule.tolerances[MOST_LIMITS:]):
                lines += _fold(f"and {more} more limit{'s' if more > 1 else ''}, on its manual page", 6)
            lines.append("")
    return "\n".join([*lines, "preflint catalogue RULE prints the manual page of one rule.", ""])


def manual_page(registry: Registry, id: str) -> str:
    """Raises UsageError for a rule that no loaded rule module has."""
    known = {rule.info.id: rule.info for rule in registry.rules}
    if id not in known:
        close = difflib.get_close_matches(id, known, n=1)
        hint = f"; did you mean {close[0]}?" if close else "; preflint catalogue lists them all"
        raise UsageError(f"no rule {id}{hint}")
    return _page(known[id])


def _page(rule: RuleInfo) -> str:
    needed = "yes: without a clear answer the aircraft is unproven" if rule.needed_for_flight else "no"
    facts = [f"Severity: {rule.severity}", f"Needed for flight: {needed}"]
    facts += [*_fold(f"Source: {rule.source}", 0), *_fold(f"Precaution: {rule.precaution}", 0)]
    for tolerance in rule.tolerances:
        facts += [*_fold(f"Limit: {tolerance.told}", 0), *_fold(tolerance.meaning, 4)]
    return "\n".join([rule.id, "", *_paragraphs(rule.page), "", *facts, ""])


def _paragraphs(manual: str) -> Iterator[str]:
    """The page with its prose folded to the width; indented fragments stay as they are."""
    prose: list[str] = []
    for line in [*manual.splitlines(), ""]:
        if line and not line.startswith(" "):
            prose.append(line)
            continue
        yield from _fold(" ".join(prose), 0)
        prose = []
        yield line


def _fold(text: str, indent: int) -> list[str]:
    """Lines of at most 80 columns; those after the first stand four columns further in where it is indented."""
    after = " " * (indent + 4 if indent else 0)
    return textwrap.wrap(text, WIDTH, initial_indent=" " * indent, subsequent_indent=after, break_long_words=False)
