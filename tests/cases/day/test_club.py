"""The club's own days: its story, near misses of its go aircraft, and remedies that are followed."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from making.manifests import CLUB, FILES, GO, answer, expect, manifest

from preflint.api import Clear, Finding
from preflint.findings.inspected import Inspected
from preflint.fleet.inspect import inspect_many
from preflint.testing import computed, findings, inspect_text, open_questions, outcome

FIELD_DAY = "2026-05-23"


def of_the_club(name: str) -> str:
    return (CLUB / f"{name}.airframe.yaml").read_text(encoding="utf-8")


def on_the_field_day(text: str) -> Inspected:
    return inspect_text(text, FIELD_DAY, files=FILES)


def test_the_story_of_a_wind_that_is_below_the_limit_at_the_ground_only() -> None:
    """4·10^(1/7) = 5.56 m/s and 4·10^0.2 = 6.34 m/s at 100 m; her limit is 5."""
    text = of_the_club("phalarope")
    (aircraft,) = inspect_many([CLUB / "phalarope.airframe.yaml"], judged_on=None).aircraft
    found = expect(Finding, outcome(aircraft, "day/wind"))
    assert found.message == "the wind is over its limit at 100 m: 5.6 to 6.3 m/s, at most 5"
    assert found.do.startswith("fly no higher than 30 m, or wait")  # 10 m · (5/4)^5
    assert aircraft.verdict == "no-go"
    assert [rule for rule, _, _ in findings(aircraft) if rule != "freshness/first-flight"] == ["day/wind"]
    expect(Clear, outcome(on_the_field_day(text.replace("height_m: 100", "height_m: 30")), "day/wind"))


# On the field day 4 m/s are forecast at 10 m, gusts 3 m/s above it: at 30 m at most 4.98 and 7.98 m/s.
NEAR = [("wind_m_s: ", 5), ("gust_m_s: ", 8), ("airspeed_m_s: ", 11.5), ("least_c: ", 17), ("most_c: ", 17)]


@pytest.mark.parametrize("name", GO)
def test_a_limit_just_above_what_the_day_brings_stays_go(name: str) -> None:
    text = of_the_club(name)
    start = text.index("limits_of_aircraft: {")
    old = text[start : text.index("\n", start)]
    near = f"limits_of_aircraft: {{{', '.join(f'{key}{value}' for key, value in NEAR)}, rain: none}}"
    seen = on_the_field_day(text.replace(old, near))
    assert (seen.verdict, findings(seen)) == ("go", [])
    assert [rule for rule, _, _ in open_questions(seen) if rule.startswith("day/")] == []
    assert computed(seen, "wind_at_height_m_s").value < 5


@settings(derandomize=True, deadline=None, max_examples=40)
@given(st.floats(1, 15), st.floats(0, 6), st.sampled_from([2.0, 10.0]), st.floats(2, 14), st.floats(20, 120))
def test_a_height_that_is_told_is_low_enough_and_no_lower_than_needed(
    wind: float, more: float, at: float, limit: float, height: float
) -> None:
    def flown(high: float) -> str:
        day = f"wind_m_s: {wind:.2f}, at_height_m: {at}, gust_m_s: {wind + more:.2f}"
        return manifest(
            f"site: {{days: [{{date: 2026-05-21, {day}}}]}}\nplan: {{height_m: {high:.1f}}}\n"
            f"limits_of_aircraft: {{wind_m_s: {limit:.2f}, gust_m_s: {limit + 3:.2f}}}\n"
        )

    told = [one for rule in ("day/wind", "day/wind-aloft") if isinstance(one := answer(flown(height), rule), Finding)]
    assert len(told) <= 1
    if told and told[0].do.startswith("fly no higher than "):
        low = float(told[0].do.split()[4])
        expect(Clear, answer(flown(low), "day/wind"))
        expect(Clear, answer(flown(low), "day/wind-aloft"))
        assert not isinstance(answer(flown(low + 1.1), "day/wind"), Clear)
