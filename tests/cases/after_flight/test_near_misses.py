"""What is near a fault that a flight shows, and is none: nothing is said of any sound aircraft."""

import pytest
from making.manifests import CLUB, FILES, GO
from making.seeded_flight import NEAR_MISSES

from preflint.testing import findings, inspect_text, open_questions


@pytest.mark.parametrize("name", GO)
def test_nothing_is_said_of_a_near_miss(name):
    tried = 0
    text = (CLUB / f"{name}.airframe.yaml").read_text(encoding="utf-8")
    for called, seed in NEAR_MISSES.items():
        if made := seed(text):
            tried += 1
            assert made.text != text, called
            seen = inspect_text(made.text, files=FILES)
            assert (called, seen.verdict, findings(seen), open_questions(seen)) == (called, "go", [], [])
    assert tried > 5
