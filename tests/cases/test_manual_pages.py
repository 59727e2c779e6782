"""The manual pages keep their word: what they show under Fails is found, under Passes it is clear."""

import pytest
from making.fragments import asks_only, whole

from preflint.api import Clear, Finding, NotApplicable, Unproven
from preflint.engine.rule_module import builtin_and
from preflint.findings.manual import failing, passing
from preflint.testing import inspect_text

RULES = [rule.info for rule in builtin_and([]).rules]


def told_of(rule, fragment: str) -> list:
    """Of a rule that is asked about each record, an earlier record of the kind is not in question."""
    inspected = inspect_text(whole(rule.topic, fragment))
    told = [result.outcome for result in inspected.results if result.rule.id == rule.id]
    return [one for one in told if rule.each != "record" or not isinstance(one, NotApplicable)]


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.id)
def test_the_fragments(rule):
    kind = Unproven if asks_only(rule) else Finding
    assert any(isinstance(outcome, kind) for outcome in told_of(rule, failing(rule.manual)))
    told = told_of(rule, passing(rule.manual))
    assert any(isinstance(outcome, Clear) for outcome in told)
    assert not any(isinstance(outcome, Finding) for outcome in told)
