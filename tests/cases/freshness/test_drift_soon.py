"""A drift that has used up its limit within days: how often the record is asked for again."""

import pytest
from making.comparisons import two_of_volts
from making.manifests import answers, expect

from preflint.api import Finding


# One meter good to 0.3 %: U = 1.96 · 0.3/√3 = 0.34 %, of the change √2 · 0.34/3 = 0.16 %. Of 1 % are left 0.66 - e, and
# e in 60 days lasts at least 60 · (0.66 - e)/(e + 0.16): 0.65 % for 0.8 days, 0.64 % for 1.5.
@pytest.mark.parametrize(("moved", "often"), [
    (0.65, "repeat it each day you fly"), (0.64, "repeat it within 1 day each time"),
])  # fmt: skip
def test_what_lasts_less_than_a_day_and_less_than_two(moved, often):
    text = two_of_volts((0.0, moved), ("2026-02-10", "2026-04-11"), ("meter", "meter"))
    found = expect(Finding, answers(text, "freshness/drift")[-1])
    assert f"; while it drifts so, {often}" in found.do
