"""Ice on the props: both sides of the temperature and of the spread, rain and fog, what is missing."""

import pytest
from making.manifests import answer, expect, manifest

from preflint.api import Clear, Finding, NotApplicable, Unproven
from preflint.testing import marked

RULE = "day/icing"


def air(words):
    return manifest(f"site: {{days: [{{date: 2026-05-21, {words}}}]}}\n")


def test_damp_and_cold():
    text = air("temperature_c: 1, relative_humidity_percent: 95, rain: none")
    found = expect(Finding, answer(text, RULE))
    assert found.message == "ice may build up on the props: 1 °C, and the air is damp"
    assert found.evidence == (
        "dew point 0.3 °C at 95 % humidity, 0.7 K below the air; dry above 2 K; ice is feared at 2 °C or less"
    )
    assert (marked(text, found.place), marked(text, found.related[0].place)) == ("1", "95")


# The spread is 2 K at 86.57 % at 2 °C: psychrolib 2.5.0, GetTDewPointFromRelHum. At -20 °C it is at 84.06 % over water
# (WMO-No. 8's constants, solved with scipy's brentq); psychrolib takes it over ice there, at 82.4 %.
@pytest.mark.parametrize(("words", "expected"), [
    ("temperature_c: 2, relative_humidity_percent: 87.0, rain: none", Finding),
    ("temperature_c: 2, relative_humidity_percent: 86.2, rain: none", Clear),
    ("temperature_c: -20, relative_humidity_percent: 85.5, rain: none", Finding),
    ("temperature_c: -20, relative_humidity_percent: 84, rain: none", Clear),
    ("temperature_c: 2.1, relative_humidity_percent: 100, rain: light, fog: true", Clear),
    ("temperature_c: 2, rain: light", Finding), ("temperature_c: 2, fog: true", Finding),
    ("temperature_c: 2, relative_humidity_percent: 60, rain: heavy", Finding),
    ("temperature_c: 2, relative_humidity_percent: 60, rain: none, fog: false", Clear),
])  # fmt: skip
def test_both_sides(words, expected):
    expect(expected, answer(air(words), RULE))


@pytest.mark.parametrize(("words", "lacks"), [
    ("rain: none", "temperature_c"),
    ("temperature_c: 2, rain: none", "relative_humidity_percent"),
    ("temperature_c: 2, relative_humidity_percent: 60", "rain"),
])
def test_input_missing(words, lacks):
    told = expect(Unproven, answer(air(words), RULE))
    assert told.message == f"{lacks} of the day of 2026-05-21 is not recorded"


def test_no_weather():
    expect(NotApplicable, answer(manifest(), RULE))
