"""The regulator against its load and its packs: full texts, both sides, missing input."""

import pytest
from making.manifests import QUAD, answer, expect, manifest

from preflint.api import Clear, Finding, NotApplicable, Unproven
from preflint.testing import inspect_text, marked

RULE, MARGIN = "power_train/regulator-rating", "power_train/regulator-margin"


def fed(regulator, cells=2, chemistry="lipo"):
    packs = f"packs: [{{label: A1, chemistry: {chemistry}, cells: {cells}}}]\n" if cells else ""
    written = f"regulator: {regulator}\n" if regulator else ""
    return manifest(QUAD, packs, written)


def test_overloaded_in_full():
    text = fed("{continuous_a: 3, load_a: 3.4, least_v: 5}")
    found = expect(Finding, answer(text, RULE))
    assert found.message == "the regulator gives 3 A; what hangs on it takes 3.4 A"
    assert found.do == "fit a regulator with a higher continuous rating, or hang less on it"
    assert marked(text, found.place) == "3"
    assert inspect_text(text).verdict == "no-go"


# Two LiPo cells live between 6.0 and 8.4 V, half empty 7.2 V; 80 % of 5 A are 4 A.
@pytest.mark.parametrize(("load", "least", "no_go", "caution"), [
    (4.0, 6.0, Clear, Clear), (4.1, 6.0, Clear, Finding), (5.0, 6.0, Clear, Finding), (5.1, 6.0, Finding, Clear),
    (1.0, 6.1, Clear, Finding), (1.0, 7.2, Clear, Finding), (1.0, 7.3, Finding, Clear), (1.0, 5.0, Clear, Clear),
])
def test_both_sides(load, least, no_go, caution):
    text = fed(f"{{continuous_a: 5, load_a: {load}, least_v: {least}}}")
    assert isinstance(answer(text, RULE), no_go)
    assert isinstance(answer(text, MARGIN), caution)


def test_volts_in_full():
    found = expect(Finding, answer(fed("{continuous_a: 5, load_a: 1, least_v: 8}"), RULE))
    assert found.message == "the regulator needs 8 V; pack A1 has 7.2 V half empty"
    assert found.evidence == "pack A1 lives between 6.0 and 8.4 V"
    caution = expect(Finding, answer(fed("{continuous_a: 5, load_a: 1, least_v: 6.5}"), MARGIN))
    assert caution.message == "the regulator needs 6.5 V; pack A1 falls to 6.0 V when empty"
    assert caution.do == "land before pack A1 is at 6.5 V under load, or fit a regulator that needs less"
    share = expect(Finding, answer(fed("{continuous_a: 5, load_a: 4.5, least_v: 5}"), MARGIN))
    assert share.message == "the regulator's load takes 90 % of its rating, over 80 %"


@pytest.mark.parametrize("rule", [RULE, MARGIN])
def test_what_is_missing(rule):
    assert isinstance(answer(fed("none"), rule), NotApplicable)
    assert "regulator" in expect(Unproven, answer(fed(""), rule)).message
    assert "load_a" in expect(Unproven, answer(fed("{continuous_a: 5}"), rule)).message
    assert "least_v" in expect(Unproven, answer(fed("{continuous_a: 5, load_a: 1}"), rule)).message
    whole = "{continuous_a: 5, load_a: 1, least_v: 5}"
    assert expect(Unproven, answer(fed(whole, cells=0), rule)).message == "no pack is recorded"
    assert isinstance(answer(fed(whole), rule), Clear)
