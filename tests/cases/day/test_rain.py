"""Rain against what the aircraft is made for."""

import pytest
from making.manifests import answer, expect, manifest

from preflint.api import Clear, Finding, NotApplicable, Unproven
from preflint.testing import marked

RULE = "day/rain"


def raining(day, limits=""):
    return manifest(f"site: {{days: [{{date: 2026-05-21{day}}}]}}\n{limits}")


@pytest.mark.parametrize(("rain", "limit", "expected"), [
    ("none", "none", Clear), ("light", "none", Finding), ("heavy", "none", Finding),
    ("none", "light", Clear), ("light", "light", Clear), ("heavy", "light", Finding),
])  # fmt: skip
def test_each_rain_and_each_limit(rain, limit, expected):
    expect(expected, answer(raining(f", rain: {rain}", f"limits_of_aircraft: {{rain: {limit}}}\n"), RULE))


def test_in_full():
    text = raining(", rain: heavy", "limits_of_aircraft: {rain: light}\n")
    found = expect(Finding, answer(text, RULE))
    assert found.message == "there is heavy rain, and the aircraft is made for light rain at most"
    assert (marked(text, found.place), marked(text, found.related[0].place)) == ("light", "heavy")


def test_of_a_dry_day_nothing_more_is_asked():
    expect(Clear, answer(raining(", rain: none"), RULE))
    assert expect(Unproven, answer(raining(", rain: light"), RULE)).message == "limits_of_aircraft.rain is not recorded"
    assert expect(Unproven, answer(raining(""), RULE)).message == "rain of the day of 2026-05-21 is not recorded"
    expect(NotApplicable, answer(manifest("limits_of_aircraft: {rain: none}\n"), RULE))
