"""Every rule has a case that passes, one that fails and one where something is missing; and their list is in step."""

import json

from making.trace import TABLE, text, without


def test_the_trace_is_in_step():
    assert TABLE.read_text(encoding="utf-8") == text(), "make it again: cd tests && python -m making.trace"


def test_every_rule_has_a_case_of_each_kind():
    assert without(json.loads(TABLE.read_text(encoding="utf-8"))) == []
