"""The wind that the plan counts on, against that of the day at the planned height."""

import pytest
from making.manifests import answer, expect, manifest

from preflint.api import Clear, Finding, NotApplicable, Unproven
from preflint.findings.outcome import CAUTION
from preflint.testing import inspect_text, marked

PLANNED = "day/planned-wind"


def planned(wind, far=300, height=30, day="wind_m_s: 6, at_height_m: 2", on="2026-05-21"):
    plan = f"farthest_m: {far}, height_m: {height}" + ("" if wind is None else f", wind_m_s: {wind}")
    return manifest(f"site: {{days: [{{date: {on}, {day}}}]}}\nplan: {{{plan}}}\n")


def test_a_plan_for_a_calm_day_in_full():
    """6·15^(1/7) = 8.83 m/s and 6·15^0.2 = 10.31 m/s, on a pocket calculator."""
    text = planned(4)
    found = expect(Finding, answer(text, PLANNED))
    assert found.message == "the plan is for 4 m/s of wind, and 8.8 to 10.3 m/s blow at 30 m"
    assert found.evidence == "8.8 to 10.3 m/s at 30 m on 2026-05-21; the plan has 4 m/s"
    assert found.do == (
        "wait for less wind; or write the day's wind at that height in plan.wind_m_s, and see whether it comes home"
    )
    assert marked(text, found.place) == "4"
    assert [(marked(text, one.place), one.message) for one in found.related] == [("6", "6 m/s of wind")]
    assert [one.rule.severity for one in inspect_text(text).results if one.rule.id == PLANNED] == [CAUTION]


@pytest.mark.parametrize(("wind", "kind"), [(8.8, Finding), (8.9, Unproven), (10.3, Unproven), (10.4, Clear)])
def test_both_sides_by_both_profiles(wind, kind):
    expect(kind, answer(planned(wind), PLANNED))


def test_a_calm_day_is_clear_of_a_calm_plan():
    expect(Clear, answer(planned(0, day="wind_m_s: 0, source: forecast"), PLANNED))


@pytest.mark.parametrize("text", [
    planned(None), planned(4, far=0), planned(4, day="gust_m_s: 9, source: forecast"), planned(4, on="2026-05-20"),
])  # fmt: skip
def test_not_asked(text):
    expect(NotApplicable, answer(text, PLANNED))


def test_a_wind_of_an_unknown_height_asks_for_it():
    expect(Unproven, answer(planned(4, day="wind_m_s: 6"), PLANNED))
