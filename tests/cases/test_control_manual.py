"""The manual pages keep their word: what they show under Fails is found, under Passes it is clear."""

import re
from textwrap import dedent

import pytest

from preflint.api import Clear, Finding
from preflint.engine.pack import builtin_and
from preflint.testing import inspect_text

RULES = [rule for rule in builtin_and([]).rules if rule.topic == "control"]
QUAD = (
    "preflint: 1\naircraft: {name: Trial, layout: quad-x}\nrotors:\n"
    "  - {at: front-left, spin: cw}\n  - {at: front-right, spin: ccw}\n"
    "  - {at: rear-left, spin: ccw}\n  - {at: rear-right, spin: cw}\n"
)


def answer(rule, heading: str):
    block = re.search(rf"^{heading}:\n\n((?:    .*\n|\n)+)", rule.manual, re.MULTILINE)
    assert block, f"{rule.id} shows no fragment under {heading}"
    inspected = inspect_text(QUAD + dedent(block.group(1)))
    (outcome,) = [result.outcome for result in inspected.results if result.rule.id == rule.id]
    return outcome


@pytest.mark.parametrize("rule", RULES, ids=[rule.id for rule in RULES])
def test_the_fragments(rule):
    assert isinstance(answer(rule, "Fails"), Finding)
    assert isinstance(answer(rule, "Passes"), Clear)


@pytest.mark.parametrize("rule", RULES, ids=[rule.id for rule in RULES])
def test_the_page_says_what_is_not_checked(rule):
    assert re.search(r"^It does not check ", rule.manual, re.MULTILINE)
    assert " safe" not in rule.manual
