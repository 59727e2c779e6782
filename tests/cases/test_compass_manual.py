"""The manual pages keep their word: what they show under Fails is found, under Passes it is clear."""

import re
from textwrap import dedent

import pytest

from preflint.api import Clear, Finding
from preflint.engine.pack import builtin_and
from preflint.testing import inspect_text

RULES = [rule for rule in builtin_and([]).rules if rule.topic == "compass"]


def outcomes(rule, heading: str) -> list:
    block = re.search(rf"^{heading}:\n\n((?:    .*\n|\n)+)", rule.manual, re.MULTILINE)
    assert block, f"{rule.id} shows no fragment under {heading}"
    fragment = dedent(block.group(1))
    about = "" if fragment.startswith("aircraft:") else "aircraft: {name: Trial, layout: quad-x}\n"
    inspected = inspect_text(f"preflint: 1\n{about}{fragment}")
    return [result.outcome for result in inspected.results if result.rule.id == rule.id]


@pytest.mark.parametrize("rule", RULES, ids=[rule.id for rule in RULES])
def test_the_fragments(rule):
    assert any(isinstance(outcome, Finding) for outcome in outcomes(rule, "Fails"))
    passing = outcomes(rule, "Passes")
    assert any(isinstance(outcome, Clear) for outcome in passing)
    assert not any(isinstance(outcome, Finding) for outcome in passing)


@pytest.mark.parametrize("rule", RULES, ids=[rule.id for rule in RULES])
def test_the_page_says_what_is_not_checked(rule):
    assert re.search(r"^Not checked: ", rule.manual, re.MULTILINE)
    assert " safe" not in rule.manual
