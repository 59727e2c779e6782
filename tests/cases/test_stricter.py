"""A limit that a club moves the stricter way never makes an aircraft pass."""

import pytest
from making.fragments import whole

from preflint.api import Clear, Finding
from preflint.engine.rule_module import builtin_and
from preflint.findings.manual import failing
from preflint.testing import inspect_text

FAR = 30.0  # times as strict
NEAR = 3.0  # a meter that is trusted still less contradicts nothing any more
LIMITS = [(rule.info, limit) for rule in builtin_and([]).rules for limit in rule.info.tolerances if limit.default > 0]


@pytest.mark.parametrize(("rule", "limit"), LIMITS, ids=[f"{rule.id}-{limit.name}" for rule, limit in LIMITS])
def test_what_fails_fails_by_a_stricter_limit(rule, limit):
    """The declared way against what the rule does: what its page shows as failing is judged by the moved limit."""
    far = NEAR if limit.name.startswith("ammeter_") else FAR
    moved = limit.default / far if limit.stricter == "lower" else limit.default * far
    policy = f"{{preflint: 1, tolerances: {{{limit.name}: {moved}}}}}\n"
    judged = inspect_text(whole(rule.topic, failing(rule.manual)), files={"preflint.yaml": policy})
    told = {type(result.outcome) for result in judged.results if result.rule.id == rule.id}
    assert Finding in told or Clear not in told
