"""The temperature of the day against what the aircraft is made for."""

import pytest
from making.manifests import answer, expect, manifest

from preflint.api import Clear, Finding, NotApplicable, Unproven
from preflint.testing import marked

RULE = "day/temperature"


def at(celsius, limits="least_c: -5, most_c: 40"):
    return manifest(
        f"site: {{days: [{{date: 2026-05-21, temperature_c: {celsius}}}]}}\nlimits_of_aircraft: {{{limits}}}\n"
    )


@pytest.mark.parametrize(("celsius", "expected"), [(-5.1, Finding), (-5, Clear), (40, Clear), (40.1, Finding)])
def test_both_sides_of_both_limits(celsius, expected):
    expect(expected, answer(at(celsius), RULE))


def test_in_full():
    cold, warm = at(-8), at(44)
    found = expect(Finding, answer(cold, RULE))
    assert found.message == "it is colder than the aircraft is made for: -8 °C, at least -5 °C"
    assert (marked(cold, found.place), marked(cold, found.related[0].place)) == ("-5", "-8")
    found = expect(Finding, answer(warm, RULE))
    assert found.message == "it is warmer than the aircraft is made for: 44 °C, at most 40 °C"
    assert found.do.startswith("wait for cooler air; ")


def test_input_missing():
    assert expect(Unproven, answer(at(12, "least_c: -5"), RULE)).message == (
        "limits_of_aircraft.most_c is not recorded"
    )
    assert expect(Unproven, answer(at(12, "wind_m_s: 8"), RULE)).message == (
        "limits_of_aircraft.least_c is not recorded"
    )
    expect(Finding, answer(at(-8, "least_c: -5"), RULE))
    expect(NotApplicable, answer(at(12, "rain: none"), RULE))  # day/wind asks for the limits
    expect(NotApplicable, answer(manifest("limits_of_aircraft: {least_c: 0, most_c: 40}\n"), RULE))
    without = at(12).replace("temperature_c: 12", "rain: none")
    assert expect(Unproven, answer(without, RULE)).message == "temperature_c of the day of 2026-05-21 is not recorded"
