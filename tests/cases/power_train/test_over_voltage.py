"""A full pack against what is behind its plug: full texts, both sides of the limit, missing input."""

import pytest
from making.manifests import QUAD, answer, answers, expect, manifest

from preflint.api import Clear, Finding, NotApplicable, Unproven
from preflint.testing import inspect_text, marked

OVER, HEADROOM = "power_train/over-voltage", "power_train/voltage-headroom"


def behind(esc="max_cells: 3", cells=4, chemistry="lipo", more="", regulator="none"):
    written = f"chemistry: {chemistry}, " if chemistry else ""
    pack = f"packs: [{{label: A1, {written}cells: {cells}{more}}}]\n"
    return manifest(f"every_rotor: {{esc: {{{esc}}}}}\n", QUAD, pack, f"regulator: {regulator}\n")


def test_a_cell_too_many_in_full():
    text = behind()
    found = expect(Finding, answer(text, OVER, "A1"))
    assert found.message == "it has 16.80 V when full; the controller bears 12.60 V"
    assert found.evidence == (
        "33.3 % over; 16.80 V when full; the lowest rating behind the plug is 12.60 V (controller, 3 cells)"
    )
    assert found.do == "keep this pack out; fit one of fewer cells, or parts rated for it"
    assert marked(text, found.place) == "4"
    assert [(marked(text, r.place), r.message) for r in found.related] == [("3", "the controller, 3 cells: 12.60 V")]
    seen = inspect_text(text)
    assert seen.verdict == "no-go"
    [told] = [r for r in seen.results if r.rule.id == OVER]
    assert told.precaution == "Keep this pack unplugged until it is settled."


def test_one_cell_is_told_as_one():
    assert expect(Finding, answer(behind("max_cells: 1", 2), OVER, "A1")).evidence.endswith("(controller, 1 cell)")


# A full LiPo cell has 4.20 V, an HV one 4.35 V, one of iron phosphate 3.65 V: common practice, no source.
@pytest.mark.parametrize(("esc", "cells", "chemistry", "over", "headroom"), [
    ("max_cells: 4", 4, "lipo", Clear, Clear),
    ("max_cells: 3", 4, "lipo", Finding, NotApplicable),
    ("max_cells: 4", 4, "lipo-hv", Clear, Finding),      # 17.40 V on 16.80 V: 3.6 % over
    ("max_cells: 4, max_v: 17.4", 4, "lipo-hv", Clear, Clear),
    ("max_cells: 4", 4, "li-ion", Clear, Clear),
    ("max_cells: 4", 4, "life", Clear, Clear),
    ("max_cells: 4", 5, "life", Finding, NotApplicable),  # 18.25 V on 16.80 V
    ("max_cells: 8", 9, "life", Clear, Clear),            # 32.85 V on 33.60 V
    ("max_cells: 12", 13, "lipo", Finding, NotApplicable),
    ("max_cells: 1", 1, "lipo-hv", Clear, Finding),
    ("max_v: 105", 26, "lipo", Clear, Finding),           # 109.20 V on 105: 4 % over and no more
    ("max_v: 16.16", 4, "lipo", Clear, Finding),          # 3.96 % over
    ("max_v: 16.14", 4, "lipo", Finding, NotApplicable),  # 4.09 % over
    ("max_cells: 6, capacitor_v: 25", 6, "lipo", Clear, Finding),
    ("max_cells: 6, capacitor_v: 16", 6, "lipo", Finding, NotApplicable),
    ("max_cells: 6, capacitor_v: 35", 6, "lipo", Clear, Clear),
])
def test_both_sides(esc, cells, chemistry, over, headroom):
    text = behind(esc, cells, chemistry)
    assert isinstance(answer(text, OVER, "A1"), over)
    assert isinstance(answer(text, HEADROOM, "A1"), headroom)


def test_a_little_over_in_full():
    text = behind("max_cells: 4", chemistry="lipo-hv")
    found = expect(Finding, answer(text, HEADROOM, "A1"))
    assert found.message == "it has 17.40 V when full; the controller bears 16.80 V"
    assert found.do == (
        "charge it to what the parts bear, or fit parts rated for it; write max_v where their maker gives volts; "
        "first feed the aircraft from a current-limited supply, props removed"
    )
    assert isinstance(answer(behind("max_cells: 4"), HEADROOM, "A1"), Clear)


def test_the_regulator_counts():
    assert isinstance(answer(behind("max_cells: 6", 6, regulator="{most_v: 26}"), OVER, "A1"), Clear)
    found = expect(Finding, answer(behind("max_cells: 6", 6, regulator="{most_v: 20}"), OVER, "A1"))
    assert found.message == "it has 25.20 V when full; the regulator bears 20.00 V"


def test_each_pack_is_asked_about_and_one_odd_controller_is_named():
    odd = QUAD.replace("spin: ccw}\n  - {at: rear-r", "spin: ccw, esc: {max_cells: 3}}\n  - {at: rear-r")
    packs = "packs: [{label: A1, chemistry: lipo, cells: 3}, {label: A2, chemistry: lipo, cells: 4}]\n"
    text = manifest("every_rotor: {esc: {max_cells: 4}}\n", odd, packs)
    first, second = answers(text, OVER)
    assert isinstance(first, Clear)
    assert expect(Finding, second).message == "it has 16.80 V when full; the controller of rear-left bears 12.60 V"


@pytest.mark.parametrize(("esc", "cells", "expected"), [
    ("max_cells: 3", 4, Finding),  # even of iron phosphate it has 14.60 V, on 12.60 V
    ("max_cells: 4", 4, Unproven), ("max_cells: 4", 3, Clear), ("max_cells: 5", 5, Unproven),
    ("max_cells: 7", 8, Unproven),  # of iron phosphate 29.20 V on 29.40 V, of any other more
])
def test_a_pack_of_unknown_chemistry(esc, cells, expected):
    told = [answer(behind(esc, cells, ""), rule, "A1") for rule in (OVER, HEADROOM)]
    if expected is Unproven:
        assert [one.message for one in told if isinstance(one, Unproven)]
        assert not [one for one in told if isinstance(one, Finding)]
    else:
        assert isinstance(told[0], expected)


def test_an_unknown_chemistry_matters_where_one_part_of_several_may_bear_too_little():
    # Four cells have up to 17.40 V: more than the controller's 16.80 V, less than the regulator's 26 V.
    told = expect(Unproven, answer(behind("max_cells: 4", 4, "", regulator="{most_v: 26}"), HEADROOM, "A1"))
    assert "chemistry" in told.message
    assert isinstance(answer(behind("max_v: 17.4", 4, "", regulator="{most_v: 26}"), HEADROOM, "A1"), Clear)


def test_what_is_missing():
    assert "max_cells" in expect(Unproven, answer(behind("continuous_a: 30"), OVER, "A1")).message
    none = manifest("packs: [{label: A1, chemistry: lipo}]\n", QUAD)
    assert "cells" in expect(Unproven, answer(none, OVER, "A1")).message
    part = QUAD.replace("spin: cw}\n  - {at: front-r", "spin: cw, esc: {max_cells: 3}}\n  - {at: front-r")
    only = manifest("packs: [{label: A1, chemistry: lipo, cells: 4}]\n", part)
    assert isinstance(answer(only, OVER, "A1"), Finding)  # one that is told suffices
    assert isinstance(answer(only.replace("cells: 4", "cells: 3"), OVER, "A1"), Unproven)
