"""A hot pack: full text, both sides of the limit, missing input."""

import pytest
from making.manifests import answer, expect, manifest

from preflint.api import Clear, Finding, NotApplicable, Unproven
from preflint.testing import inspect_text, marked

RULE = "after_flight/hot-pack"


def looked(*looks):
    return manifest(records={"after_flight_look": looks})


def test_a_hot_pack_in_full():
    text = looked("date: 2026-05-17, minutes: 6, nuts_moved: [], pack: A1, pack_c: 68").replace(
        "records:", "packs: [{label: A1}]\nrecords:"
    )
    found = expect(Finding, answer(text, RULE))
    assert (found.message, found.evidence, found.do) == (
        "the pack was at 68 °C after the flight of 6 min on 2026-05-17",
        "pack A1: 68 ± 2 °C after the flight of 6 min on 2026-05-17, at most 60 °C",
        "let it cool outdoors before it is charged; fly shorter or with less load, or with a larger pack",
    )
    assert marked(text, found.place) == "68"
    assert inspect_text(text).verdict == "unproven"  # a caution, beside all that is not recorded


@pytest.mark.parametrize(("celsius", "kind"), [
    (62.4, Finding), (62.1, Unproven), (57.9, Unproven), (57.6, Clear), (25, Clear), (-10, Clear),
])
def test_both_sides(celsius, kind):
    """U = 1.96 · 2/√3 = 2.26 K."""
    assert isinstance(answer(looked(f"date: 2026-05-17, pack_c: {celsius}"), RULE), kind)


def test_the_latest_that_notes_it_counts():
    hot, cool, silent = "date: 2026-05-17, pack_c: 70", "date: 2026-05-18, pack_c: 40", "date: 2026-05-19, minutes: 4"
    assert isinstance(answer(looked(hot, cool), RULE), Clear)
    assert isinstance(answer(looked(hot, silent), RULE), Finding)


def test_nothing_is_asked_where_nobody_noted_it():
    for text in (manifest(), looked("date: 2026-05-17, nuts_moved: []")):
        assert answer(text, RULE) == NotApplicable("no look after a flight notes the pack's temperature")
