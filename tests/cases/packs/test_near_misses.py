"""What comes close to a fault of the pack and is none: every go aircraft of the club stays go, with no word on it."""

import re

import pytest
from making.manifests import CLUB, FILES, GO

from preflint.testing import findings, inspect_text

CHECK = r"(pack_check:\n(?:.*\n)*?.*)"
NEAR = {
    "one strap": (r"straps: 2", "straps: 1"),
    "a latch alone": (r"straps: 2", "straps: 0"),
    "a cool morning": (CHECK + r"temperature_c: 16", r"\g<1>temperature_c: 12"),
    "a cell 30 mV behind": (CHECK + r"cells_v: \[4\.18", r"\g<1>cells_v: [4.15"),
    "a rest of a quarter of an hour": (r"rested_min: 30", "rested_min: 15"),
    "looked at the night after midnight": (r"date: 2026-05-21 08:\d\d", "date: 2026-05-21 00:01"),
}


@pytest.mark.parametrize("name", GO)
@pytest.mark.parametrize("near", NEAR)
def test_a_near_miss_is_none(name, near):
    text, made = re.subn(*NEAR[near], (CLUB / f"{name}.airframe.yaml").read_text(encoding="utf-8"), count=1)
    assert made
    inspected = inspect_text(text, files=FILES)
    assert (inspected.verdict, findings(inspected)) == ("go", [])
