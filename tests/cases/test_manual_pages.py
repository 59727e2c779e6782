"""The manual pages keep their word: what they show under Fails is found, under Passes it is clear."""

import re

import pytest
from making.manifests import manifest

from preflint.api import Clear, Finding, NotApplicable, Unproven
from preflint.engine.rule_module import builtin_and
from preflint.findings.manual import failing, passing
from preflint.testing import inspect_text

RULES = [rule.info for rule in builtin_and([]).rules]
ABOUT = manifest()
# Four topics show only what they judge, on an ordinary aircraft that relies on all it has.
QUAD = manifest(
    rotors={"front-left": "spin: cw", "front-right": "spin: ccw", "rear-left": "spin: ccw", "rear-right": "spin: cw"},
    more="relies_on: [compass, barometer]",
)
ON_A_QUAD = {"barometer", "control", "failsafe", "freshness", "papers"}
# They never find, they only ask.
ASKS_ONLY = {"retention/bells-pulled"}


def told_of(rule, fragment: str) -> list:
    """Of a rule that is asked about each record, an earlier record of the kind is not in question."""
    about = QUAD if rule.topic in ON_A_QUAD else ABOUT
    if re.search(r"^aircraft:", fragment, re.MULTILINE):
        about = about.replace(about.split("\n")[1] + "\n", "")
    if re.search(r"^rotors:", fragment, re.MULTILINE):
        about = about.partition("rotors:")[0]
    inspected = inspect_text(about + fragment)
    told = [result.outcome for result in inspected.results if result.rule.id == rule.id]
    return [one for one in told if rule.each != "record" or not isinstance(one, NotApplicable)]


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.id)
def test_the_fragments(rule):
    asks = rule.id in ASKS_ONLY or "It finds nothing" in rule.manual
    kind = Unproven if asks else Finding
    assert any(isinstance(outcome, kind) for outcome in told_of(rule, failing(rule.manual)))
    told = told_of(rule, passing(rule.manual))
    assert any(isinstance(outcome, Clear) for outcome in told)
    assert not any(isinstance(outcome, Finding) for outcome in told)
