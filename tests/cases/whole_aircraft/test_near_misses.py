"""What lies just within a rating or a clearance leaves an aircraft without a fault as it was."""

import re

import pytest
from making.manifests import CLUB, FILES, GO
from making.seeded_ratings import NEAR_MISSES

from preflint.testing import findings, inspect_text


@pytest.mark.parametrize("name", GO)
@pytest.mark.parametrize(("old", "new", "why"), NEAR_MISSES, ids=[why.replace(" ", "-") for _, _, why in NEAR_MISSES])
def test_a_near_miss_stays_clear(old: str, new: str, why: str, name: str) -> None:
    text = (CLUB / f"{name}.airframe.yaml").read_text(encoding="utf-8")
    inspected = inspect_text(re.sub(old, new, text, count=1), files=FILES)
    assert (inspected.verdict, findings(inspected)) == ("go", []), why


@pytest.mark.parametrize(("old", "why"), [(old, why) for old, _, why in NEAR_MISSES])
def test_some_aircraft_can_be_changed_so(old: str, why: str) -> None:
    assert any(re.search(old, (CLUB / f"{name}.airframe.yaml").read_text(encoding="utf-8")) for name in GO), why
