"""A limit that a club moves the stricter way never makes an aircraft pass, the looser way never fail."""

import pytest
from making.fragments import whole

from preflint.api import Clear, Finding
from preflint.engine.rule_module import builtin_and
from preflint.findings.manual import failing, passing
from preflint.testing import inspect_text

FAR = 30.0  # times as strict
NEAR = 3.0  # a meter that is trusted still less contradicts nothing any more
# How far the amperes of two runs may be off is what the limit of their scale allows: a looser one is more doubt.
DOUBT = ("interference/successive-runs", "current_scale_percent")
LIMITS = [(rule.info, limit) for rule in builtin_and([]).rules for limit in rule.info.tolerances if limit.default > 0]


@pytest.mark.parametrize(("rule", "limit"), LIMITS, ids=[f"{rule.id}-{limit.name}" for rule, limit in LIMITS])
def test_what_fails_fails_by_a_stricter_limit(rule, limit):
    """The declared way against what the rule does: what its page shows as failing is judged by the moved limit."""
    far = NEAR if limit.name.startswith("ammeter_") else FAR
    told = judged(rule, failing(rule.manual), limit, far if limit.stricter == "higher" else 1 / far)
    assert Finding in told or Clear not in told


@pytest.mark.parametrize(("rule", "limit"), LIMITS, ids=[f"{rule.id}-{limit.name}" for rule, limit in LIMITS])
def test_what_passes_passes_by_a_looser_limit(rule, limit):
    """The same of what its page shows as passing: a limit declared the wrong way round is stricter then."""
    told = judged(rule, passing(rule.manual), limit, FAR if limit.stricter == "lower" else 1 / FAR)
    assert Finding not in told
    if (rule.id, limit.name) != DOUBT and judged(rule, passing(rule.manual), limit, 1) == {Clear}:
        assert told == {Clear}


def judged(rule, fragment, limit, times):
    """The kinds of answers that the rule gives about a fragment of its page, by a limit so many times the usual."""
    moved = min(limit.default * times, 100_000)  # as far as a policy may
    policy = f"{{preflint: 1, tolerances: {{{limit.name}: {moved}}}}}\n"
    results = inspect_text(whole(rule.topic, fragment), files={"preflint.yaml": policy}).results
    return {type(result.outcome) for result in results if result.rule.id == rule.id}
