"""The rules as people read them: one line each, a topic in full, or one manual page."""

import difflib
import textwrap
from collections.abc import Iterator
from itertools import groupby

from preflint.engine.rule_module import Registry
from preflint.errors import UsageError
from preflint.findings.rule_info import RuleInfo
from preflint.load.quoting import shorten
from preflint.meanings.reads import read_by
from preflint.render.fold import first_clause
from preflint.render.sarif_rules import OWN

WIDTH = 80
MOST_LIMITS = 4
_SEVERITY, _LEAST = 9, 30
_TOPIC_OF_OWN = "preflint"


def all_rules(registry: Registry, width: int = WIDTH) -> str:
    """Every rule by topic: its name, its severity, and what it asks, beside them where there is room."""
    lines = []
    for topic, of_topic in groupby((rule.info for rule in registry.rules), key=lambda rule: rule.topic):
        lines.append(topic)
        rules = list(of_topic)
        longest = max(len(rule.name) for rule in rules)
        for rule in rules:
            needed = "*" if rule.needed_for_flight else " "
            told = f"{needed} {rule.name:<{longest}}  {rule.severity!s:<{_SEVERITY}}"
            if width - len(told) < _LEAST:
                lines.append(told.rstrip())
                told = " " * 6
            title, after = first_clause(rule.title, width - len(told)), " " * len(told)
            lines += textwrap.wrap(title, width, initial_indent=told, subsequent_indent=after, break_on_hyphens=False)
        lines.append("")
    end = "* Flight needs it. For more: preflint catalogue TOPIC. For one rule's page: preflint catalogue TOPIC/RULE."
    end += f" For what no rule says, such as {OWN[0][0]}: preflint catalogue {_TOPIC_OF_OWN}."
    return "\n".join([*lines, *textwrap.wrap(end, width, break_on_hyphens=False), ""])


def told(registry: Registry, name: str, width: int = WIDTH) -> str:
    """A topic's rules with severity, source and limits, or the manual page of one rule.

    Raises UsageError where no loaded rule module has such a rule or topic.
    """
    rules = {rule.info.id: rule.info for rule in registry.rules}
    if name in rules:
        return manual_page(rules[name], width)
    if own := [row for row in OWN if name in (row[0], _TOPIC_OF_OWN)]:
        return "\n".join(line for row in own for line in _own_page(*row, width))
    topics = dict.fromkeys(rule.topic for rule in rules.values())
    if name in topics:
        return _topic([rule for rule in rules.values() if rule.topic == name], width)
    known = [*rules, *topics, _TOPIC_OF_OWN, *(id for id, *_ in OWN)]
    close = difflib.get_close_matches(name[:100], known, n=1)
    hint = f"; did you mean {close[0]}?" if close else "; preflint catalogue lists them all"
    raise UsageError(f"no rule or topic {shorten(name)}{hint}")


def _own_page(id: str, level: str, says: str, todo: str, width: int) -> list[str]:
    """What one of the tool's own ids means, where a service shows it as a rule."""
    of = "This is no rule: preflint says it of what it could not judge, or of a folder. Where reports have a level"
    return [id, "", *_fold(says, 0, width), *_fold(todo, 0, width), "", *_fold(f"{of}, it is {level}.", 0, width), ""]


def _topic(rules: list[RuleInfo], width: int) -> str:
    lines = []
    for rule in rules:
        needed = ", needed for flight" if rule.needed_for_flight else ""
        needed = ", needed of the pack flown today" if rule.needed_for_pack else needed
        lines += [*_fold(f"{rule.id}  ({rule.severity}{needed})", 0, width), *_fold(rule.title, 4, width)]
        lines += _fold(f"Source: {rule.source}", 4, width)
        for tolerance in rule.tolerances[:MOST_LIMITS]:
            lines += _fold(f"Limit: {tolerance.told}", 4, width)
        if more := len(rule.tolerances[MOST_LIMITS:]):
            lines += _fold(f"and {more} more limit{'s' if more > 1 else ''}, on its manual page", 4, width)
        lines.append("")
    return "\n".join([*lines, "preflint catalogue TOPIC/RULE prints the manual page of one rule.", ""])


def manual_page(rule: RuleInfo, width: int = WIDTH) -> str:
    """All that is known of a rule; fragments stay as they are, however narrow it is."""
    needed = "yes: without a clear answer the aircraft is unproven" if rule.needed_for_flight else "no"
    if rule.needed_for_pack:
        needed = "of a pack that is named as flown today (--pack-label), and of no other"
    facts = [f"Severity: {rule.severity}", *_fold(f"Needed for flight: {needed}", 0, width)]
    facts += [*_fold(f"Source: {rule.source}", 0, width), *_fold(f"Precaution: {rule.precaution}", 0, width)]
    if read := read_by(rule.id):
        facts += _fold(f"Reads: {', '.join(read)}", 0, width)
    for tolerance in rule.tolerances:
        facts += [*_fold(f"Limit: {tolerance.told}", 0, width), *_fold(tolerance.meaning, 4, width)]
    return "\n".join([rule.id, "", *_paragraphs(rule.page, width), "", *facts, ""])


def _paragraphs(manual: str, width: int) -> Iterator[str]:
    """The page with its prose folded to the width; indented fragments stay as they are."""
    prose: list[str] = []
    for line in [*manual.splitlines(), ""]:
        if line and not line.startswith(" "):
            prose.append(line)
            continue
        yield from _fold(" ".join(prose), 0, width)
        prose = []
        yield line


def _fold(text: str, indent: int, width: int) -> list[str]:
    """Lines of at most ``width`` columns; those after the first stand further in where it is indented."""
    after = " " * (indent + 4 if indent else 0)
    return textwrap.wrap(text, width, initial_indent=" " * indent, subsequent_indent=after, break_long_words=False)
