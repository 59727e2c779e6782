"""Every manual page of these topics shows one manifest that fails and one that passes, and they do."""

import re

import pytest
from preflint_rules import barometer, compass, control, failsafe, freshness, papers

from preflint.api import Clear, Finding, NotApplicable
from preflint.testing import inspect_text

RULES = [rule for topic in (barometer, compass, control, failsafe, freshness, papers) for rule in topic.RULES]
FRAGMENT = r"^{}:\n\n((?:    .*\n)+)"
HEAD = """\
preflint: 1
aircraft: {name: Trial, layout: quad-x, relies_on: [compass, barometer]}
rotors:
  - {at: front-left,  spin: cw}
  - {at: front-right, spin: ccw}
  - {at: rear-left,   spin: ccw}
  - {at: rear-right,  spin: cw}
"""


def answers(rule, word):
    """Of a rule that is asked about each record, an earlier record of the kind is not in question."""
    [fragment] = re.findall(FRAGMENT.format(word), rule.manual, re.MULTILINE)
    inspected = inspect_text(HEAD + re.sub("^    ", "", fragment, flags=re.MULTILINE))
    told = [result.outcome for result in inspected.results if result.rule.id == rule.id]
    return [answer for answer in told if rule.each != "record" or not isinstance(answer, NotApplicable)]


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.id)
def test_the_fragments_of_the_manual_page_do_what_it_says(rule):
    fails, passes = answers(rule, "Fails"), answers(rule, "Passes")
    assert [type(answer) for answer in fails if not isinstance(answer, Clear)] == [Finding]
    assert {type(answer) for answer in passes} == {Clear}
