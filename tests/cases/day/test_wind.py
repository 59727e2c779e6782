"""Wind and gusts at the height planned: both sides of each limit, by both profiles, and what is missing."""

import pytest
from making.manifests import answer, expect, manifest

from preflint.api import Clear, Finding, NotApplicable, Unproven
from preflint.findings.outcome import CAUTION, NO_GO
from preflint.testing import computed, inspect_text, marked

WIND, ALOFT = "day/wind", "day/wind-aloft"


def blowing(day="wind_m_s: 6, at_height_m: 2, gust_m_s: 8", limits="wind_m_s: 10, gust_m_s: 30", height=30):
    plan = "" if height is None else f"plan: {{height_m: {height}}}\n"
    limits = f"limits_of_aircraft: {{{limits}}}\n" if limits else ""
    return manifest(f"site: {{days: [{{date: 2026-05-21, {day}}}]}}\n{plan}{limits}")


def test_the_wind_aloft_over_the_limit_though_the_ground_wind_is_below_it():
    """6·15^(1/7) = 8.83 m/s and 6·15^0.2 = 10.31 m/s, on a pocket calculator."""
    text = blowing(limits="wind_m_s: 8, gust_m_s: 30")
    found = expect(Finding, answer(text, WIND))
    assert found.message == "the wind is over its limit at 30 m: 8.8 to 10.3 m/s, at most 8"
    assert found.evidence == (
        "6 m/s at 2 m, so 8.8 to 10.3 m/s at 30 m (exponent 1/7 to 0.2); gusts 2 m/s more; "
        "its limit 8 m/s; its limit for gusts 30 m/s"
    )
    # 2 m · (8/6)^5 = 8.4 m; by the other exponent it is 15 m.
    assert found.do == "fly no higher than 8 m, or wait for less wind; then write height_m or the day's wind again"
    assert marked(text, found.place) == "8"
    assert [marked(text, one.place) for one in found.related] == ["6", "8"]
    told = [one for one in inspect_text(text).results if one.rule.id == WIND]
    assert [one.rule.severity for one in told] == [NO_GO]
    expect(NotApplicable, answer(text, ALOFT))


# As worked in the design's sources: 6 m/s held at 2 m is 10.8 m/s (1/7) or 13.6 m/s (0.2) at 120 m, 8.8 at 30 m.
@pytest.mark.parametrize(("height", "limit", "wind", "aloft"), [
    (120, 10.7, Finding, NotApplicable), (120, 10.8, NotApplicable, Finding),
    (120, 13.5, NotApplicable, Finding), (120, 13.7, Clear, Clear),
    (30, 8.8, Finding, NotApplicable), (30, 8.9, NotApplicable, Finding), (30, 10.4, Clear, Clear),
    (2, 5.9, Finding, NotApplicable), (2, 6, Clear, Clear),
    # Lower than the anemometer it blows less: 6·0.5^0.2 = 5.22 m/s, 6·0.5^(1/7) = 5.43 m/s.
    (1, 5.2, Finding, NotApplicable), (1, 5.3, NotApplicable, Finding), (1, 5.5, Clear, Clear),
])  # fmt: skip
def test_both_sides_of_the_limit_by_both_profiles(height, limit, wind, aloft):
    text = blowing(limits=f"wind_m_s: {limit}, gust_m_s: 30", height=height)
    expect(wind, answer(text, WIND))
    expect(aloft, answer(text, ALOFT))


def test_at_the_limit_itself_it_hangs_on_the_profile():
    """5 m/s at 1 m is 10 m/s at 128 m by the seventh root of 128, which is 2, and 13.2 m/s by its fifth."""
    text = blowing("wind_m_s: 5, at_height_m: 1, gust_m_s: 5", "wind_m_s: 10, gust_m_s: 30", 128)
    expect(NotApplicable, answer(text, WIND))
    expect(Finding, answer(text, ALOFT))


def test_five_metres_are_the_lowest_that_is_proposed():
    for at, told in ((5, "fly no higher than 5 m, or wait"), (4.9, "wait for less wind")):
        found = expect(Finding, answer(blowing(f"wind_m_s: 6, at_height_m: {at}, gust_m_s: 6", "wind_m_s: 6"), WIND))
        assert found.do.startswith(told)


def test_what_hangs_on_the_profile_is_a_caution():
    text = blowing(limits="wind_m_s: 9.5, gust_m_s: 30")
    found = expect(Finding, answer(text, ALOFT))
    assert found.message == "the wind may be over its limit at 30 m: 8.8 to 10.3 m/s, at most 9.5"
    assert [one.rule.severity for one in inspect_text(text).results if one.rule.id == ALOFT] == [CAUTION]


# Gusts are 2 m/s above the mean aloft as well: 10.83 to 12.31 m/s at 30 m.
@pytest.mark.parametrize(("limits", "expected", "words"), [
    ("wind_m_s: 10.4, gust_m_s: 10.8", Finding, "gusts are over its limit for gusts at 30 m"),
    ("wind_m_s: 10.4, gust_m_s: 10.9", NotApplicable, ""), ("wind_m_s: 10.4, gust_m_s: 12.4", Clear, ""),
    ("wind_m_s: 10.4", Finding, "gusts are over its limit at 30 m"), ("wind_m_s: 12.4", Clear, ""),
    ("gust_m_s: 10.8", Finding, "gusts are over its limit for gusts at 30 m"), ("gust_m_s: 12.4", Clear, ""),
    # 0.7 of 15.4 m/s is 10.78 m/s, of 17.7 m/s 12.39 m/s.
    ("airspeed_m_s: 15.4", Finding, "gusts are over 0.7 of its airspeed at 30 m"), ("airspeed_m_s: 17.7", Clear, ""),
    ("airspeed_m_s: 16, wind_m_s: 20, gust_m_s: 30", NotApplicable, ""),
])  # fmt: skip
def test_gusts_and_the_airspeed(limits, expected, words):
    told = expect(expected, answer(blowing(limits=limits), WIND))
    if expected is Finding:
        assert told.message.startswith(words)


def test_a_forecast_is_of_ten_metres():
    """8·10^(1/7) = 11.1 m/s and 8·10^0.2 = 12.7 m/s at 100 m."""
    text = blowing("wind_m_s: 8, gust_m_s: 8, source: forecast", "wind_m_s: 11, gust_m_s: 30", 100)
    assert "8 m/s at 10 m, so 11.1 to 12.7 m/s at 100 m" in expect(Finding, answer(text, WIND)).evidence


@pytest.mark.parametrize("source", ["", ", source: anemometer"])
def test_a_wind_that_was_measured_needs_its_height(source):
    told = expect(Unproven, answer(blowing(f"wind_m_s: 6, gust_m_s: 8{source}"), WIND))
    assert told.message == "at_height_m of the day of 2026-05-21 is not recorded"
    expect(NotApplicable, answer(blowing(f"wind_m_s: 6, gust_m_s: 8{source}"), ALOFT))


def test_no_height_planned():
    """What is over the limit where it was measured is told; a wind below it may be over aloft."""
    found = expect(Finding, answer(blowing(limits="wind_m_s: 5", height=None), WIND))
    assert found.message == "gusts are over its limit: 8.0 m/s, at most 5"
    assert found.do == "wait for less wind; then write the day's wind again"
    told = expect(Unproven, answer(blowing(limits="wind_m_s: 9", height=None), WIND))
    assert (told.message, told.on_paper) == ("plan.height_m is not recorded", True)


@pytest.mark.parametrize(("day", "limits", "lacks"), [
    ("gust_m_s: 8, at_height_m: 2", "wind_m_s: 10", "wind_m_s of the day of 2026-05-21"),
    ("wind_m_s: 6, at_height_m: 2", "wind_m_s: 12", "gust_m_s of the day of 2026-05-21"),
    ("wind_m_s: 6, at_height_m: 2, gust_m_s: 8", "", "limits_of_aircraft.wind_m_s"),
    ("wind_m_s: 6, at_height_m: 2, gust_m_s: 8", "least_c: 0", "limits_of_aircraft.wind_m_s"),
])
def test_input_missing(day, limits, lacks):
    told = expect(Unproven, answer(blowing(day, limits), WIND))
    assert told.message == f"{lacks} is not recorded"
    expect(NotApplicable if "gust" in day else Clear, answer(blowing(day, limits), ALOFT))


def test_another_day_and_no_days_at_all():
    """Nobody who writes no weather is asked for it; who does is asked once for each day."""
    for rule in (ALOFT, "day/icing", "day/rain", "day/temperature"):
        assert expect(NotApplicable, answer(blowing(), rule, judged_on="2026-05-22")).because == (
            "no weather of 2026-05-22 is recorded"
        )
    told = expect(Unproven, answer(blowing(), WIND, judged_on="2026-05-22"))
    assert told.do == "read the forecast; write the weather of 2026-05-22 under days"
    expect(NotApplicable, answer(manifest("limits_of_aircraft: {wind_m_s: 8}\n"), WIND))


def test_the_figure_spans_both_profiles():
    told = computed(inspect_text(blowing()), "wind_at_height_m_s")
    assert (told.value, told.unit) == (pytest.approx((8.834 + 10.312) / 2, abs=0.001), "m/s")
    assert told.standard_uncertainty == pytest.approx((10.312 - 8.834) / 2 / 3**0.5, abs=0.001)


def test_a_calm_has_no_height_to_keep_below():
    expect(Clear, answer(blowing("wind_m_s: 0, at_height_m: 2, gust_m_s: 0"), WIND))
    found = expect(Finding, answer(blowing("wind_m_s: 0, at_height_m: 2, gust_m_s: 40"), WIND))
    assert found.do == "wait for less wind; then write the day's wind again"


def test_a_flight_at_the_ground_has_wind_too():
    """6·0.5^0.2 = 5.2 m/s at 1 m, and not none at 0 m."""
    expect(Finding, answer(blowing(limits="wind_m_s: 5, gust_m_s: 30", height=0), WIND))
    expect(Clear, answer(blowing(limits="wind_m_s: 5.5, gust_m_s: 30", height=0), WIND))
