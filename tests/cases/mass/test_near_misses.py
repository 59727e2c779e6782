"""Nearly a fault, in every aircraft of the club that has none: it stays go, and no rule has anything to say."""

import re

import pytest
from making.manifests import CLUB, FILES, GO
from making.seeded_measured import balanced, thrust_times

from preflint.api import Clear
from preflint.testing import findings, inspect_text, outcome

NEARLY = {
    "thrust of a tenth less": (thrust_times(0.9), ("mass/lifts",)),
    "thrust enough to lift": (thrust_times(0.86), ("mass/lifts",)),
    "a little out of balance": (balanced(0.05), ("mass/trim-share", "authority/level", "mass/weighed")),
    "held level, if hard": (balanced(0.15), ("authority/level",)),
    "weighed two per cent off": (balanced(grams=1.02), ("mass/weighed", "authority/level")),
}


@pytest.mark.parametrize("name", GO)
@pytest.mark.parametrize("miss", NEARLY)
def test_a_near_miss_stays_clear(miss, name):
    seed, rules = NEARLY[miss]
    text = (CLUB / f"{name}.airframe.yaml").read_text(encoding="utf-8")
    # The outputs of its last flight would contradict the scales.
    made = seed(re.sub(r"\n +output_percent: .*", "", text))
    inspected = inspect_text(made.text, files=FILES)
    assert inspected.verdict == "go"
    assert findings(inspected) == []
    for rule in rules:
        assert isinstance(outcome(inspected, rule), Clear), outcome(inspected, rule)
