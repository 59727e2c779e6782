"""The rules as people read them: a list by topic, or one manual page."""

import difflib
from itertools import groupby

from preflint.engine.pack import Registry
from preflint.engine.rule import Rule, Tolerance
from preflint.errors import UsageError


def all_rules(registry: Registry) -> str:
    """Every rule by topic with its severity, its limits and where it comes from."""
    lines = []
    for topic, rules in groupby(registry.rules, key=lambda rule: rule.topic):
        lines += [topic.replace("_", " ").upper(), ""]
        for rule in rules:
            needed = ", needed for flight" if rule.needed_for_flight else ""
            lines += [f"  {rule.id}  ({rule.severity}{needed})", f"      {rule.title}", f"      Source: {rule.source}"]
            lines += [f"      Limit: {_limit(tolerance)}" for tolerance in rule.tolerances]
            lines.append("")
    return "\n".join([*lines, "preflint catalogue RULE prints the manual page of one rule.", ""])


def manual_page(registry: Registry, id: str) -> str:
    """Raises UsageError for a rule that no loaded pack has."""
    known = {rule.id: rule for rule in registry.rules}
    if id not in known:
        close = difflib.get_close_matches(id, known, n=1)
        hint = f"; did you mean {close[0]}?" if close else "; preflint catalogue lists them all"
        raise UsageError(f"no rule {id}{hint}")
    return _page(known[id])


def _page(rule: Rule) -> str:
    needed = "yes: without a clear answer the aircraft is unproven" if rule.needed_for_flight else "no"
    facts = [f"Severity: {rule.severity}", f"Needed for flight: {needed}", f"Source: {rule.source}"]
    facts += [f"Limit: {_limit(tolerance)}\n    {tolerance.meaning}" for tolerance in rule.tolerances]
    facts.append(f"Precaution: {rule.precaution}")
    return "\n".join([rule.id, "", rule.manual, "", *facts, ""])


def _limit(tolerance: Tolerance) -> str:
    return f"{tolerance.name} {tolerance.default:g} {tolerance.unit} ({tolerance.stricter} is stricter; {tolerance.origin})"
