"""Every manual page of the topic shows one manifest that fails and one that passes, and they do."""

import re

import pytest
from preflint_rules.retention import RULES

from preflint.api import Clear, Finding, Unproven
from preflint.testing import inspect_text

FRAGMENT = r"^{}:\n\n((?:    .*\n)+)"
HEAD = "preflint: 1\naircraft: {name: Trial, layout: quad-x}\n"


def answers(rule, word):
    [fragment] = re.findall(FRAGMENT.format(word), rule.manual, re.MULTILINE)
    inspected = inspect_text(HEAD + re.sub("^    ", "", fragment, flags=re.MULTILINE))
    return [result.outcome for result in inspected.results if result.rule.id == rule.id]


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.id)
def test_the_fragments_of_the_manual_page_do_what_it_says(rule):
    fails, passes = answers(rule, "Fails"), answers(rule, "Passes")
    if rule.id == "retention/bells-pulled":  # asks only
        assert [type(answer) for answer in fails] == [Unproven]
    else:
        assert sum(isinstance(answer, Finding) for answer in fails) == 1
    assert any(isinstance(answer, Clear) for answer in passes)
    assert not any(isinstance(answer, Finding) for answer in passes)
