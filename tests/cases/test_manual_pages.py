"""The manual pages keep their word: what they show under Fails is found, under Passes it is clear."""

import re
from textwrap import dedent

import pytest

from preflint.api import Clear, Finding, NotApplicable, Unproven
from preflint.engine.rule_module import builtin_and
from preflint.testing import inspect_text

RULES = builtin_and([]).rules
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


def answers(rule, heading: str) -> list:
    """Of a rule that is asked about each record, an earlier record of the kind is not in question."""
    blocks = re.findall(rf"^{heading}:\n\n((?:    .*\n|\n)+)", rule.manual, re.MULTILINE)
    assert len(blocks) == 1, f"{rule.id} shows {len(blocks)} fragments under {heading}"
    fragment = dedent(blocks[0])
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
    assert any(isinstance(outcome, Unproven if asks else Finding) for outcome in answers(rule, "Fails"))
    passing = answers(rule, "Passes")
    assert any(isinstance(outcome, Clear) for outcome in passing)
    assert not any(isinstance(outcome, Finding) for outcome in passing)
