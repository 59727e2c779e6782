"""The manual pages keep their word: what they show under Fails is found, under Passes it is clear."""

import re

import pytest

from preflint.api import Clear, Finding, NotApplicable, Unproven
from preflint.engine.rule_module import builtin_and
from preflint.findings.manual import failing, passing
from preflint.testing import inspect_text

RULES = [rule.info for rule in builtin_and([]).rules]
ABOUT = "aircraft: {name: Trial, layout: quad-x}\n"
# Four topics show only what they judge, on an ordinary aircraft that relies on all it has.
QUAD = (
    "aircraft: {name: Trial, layout: quad-x, relies_on: [compass, barometer]}\nrotors:\n"
    "  - {at: front-left, spin: cw}\n  - {at: front-right, spin: ccw}\n"
    "  - {at: rear-left, spin: ccw}\n  - {at: rear-right, spin: cw}\n"
)
ON_A_QUAD = {"barometer", "control", "failsafe", "freshness", "papers"}
# They never find, they only ask.
ASKS_ONLY = {"retention/bells-pulled"}


def answers(rule, fragment: str) -> list:
    """Of a rule that is asked about each record, an earlier record of the kind is not in question."""
    about = QUAD if rule.topic in ON_A_QUAD else ABOUT
    if re.search(r"^aircraft:", fragment, re.MULTILINE):
        about = about.partition("\n")[2]
    if re.search(r"^rotors:", fragment, re.MULTILINE):
        about = about.partition("rotors:")[0]
    inspected = inspect_text(f"preflint: 1\n{about}{fragment}")
    told = [result.outcome for result in inspected.results if result.rule.id == rule.id]
    return [one for one in told if rule.each != "record" or not isinstance(one, NotApplicable)]


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.id)
def test_the_fragments(rule):
    asks = rule.id in ASKS_ONLY or "It finds nothing" in rule.manual
    kind = Unproven if asks else Finding
    assert any(isinstance(outcome, kind) for outcome in answers(rule, failing(rule.manual)))
    told = answers(rule, passing(rule.manual))
    assert any(isinstance(outcome, Clear) for outcome in told)
    assert not any(isinstance(outcome, Finding) for outcome in told)
