"""The barometer check: full texts, both sides of the limit, reduction from sea level, missing input."""

import pytest
from making.manifests import answer, expect, manifest

from preflint.api import Clear, Finding, NotApplicable, Unproven
from preflint.testing import marked

RULE = "barometer/indicated-pressure"
FITTED = "barometer: {accuracy_hpa: 1}\n"
BARE = manifest(FITTED, name="Lapwing")


def checked(indicated, reference="station_pressure_hpa: 986.4", accuracy="reference: {accuracy_hpa: 0.5}"):
    entry = f"date: 2026-05-20, indicated_hpa: {indicated:g}, {reference}, {accuracy}"
    return manifest(FITTED, records={"barometer_check": entry}, name="Lapwing")


def test_wrong_pressure_in_full():
    text = checked(978.1)
    found = expect(Finding, answer(text, RULE))
    assert found.message == "the barometer indicates 8.3 hPa less than the pressure of the place"
    assert found.evidence == (
        "indicated 978.1 hPa, the place 986.4 hPa: -8.3 hPa ± 0.6 hPa (95 %); at most 3 hPa, about 25 m of height"
    )
    assert found.do == (
        "clear the sensor's hole; see that nothing presses on it; if it stays wrong replace it; check again"
    )
    assert marked(text, found.place) == "978.1"


# U = 1.96 · 0.5/√3 = 0.566 hPa around the limit of 3 hPa.
@pytest.mark.parametrize(
    ("error", "expected"),
    [(2.43, Clear), (-2.43, Clear), (2.44, Unproven), (-3.56, Unproven), (3.57, Finding), (-3.57, Finding)],
)
def test_both_sides_of_the_limit(error, expected):
    assert isinstance(answer(checked(986.4 + error), RULE), expected)


# ISO 2533:1975, Table 5: 954.608 hPa at 500 m and 898.746 hPa at 1000 m, sea level 1013.25 hPa. Air that is
# 20 K unlike the standard makes the step uncertain by 7 %: 58.6 hPa · 0.069 = 4.1 hPa at 500 m.
@pytest.mark.parametrize(("elevation", "indicated", "expected"), [
    (0, 1013.2, Clear),
    (100, 1001.3, Clear),
    (100, 1013.2, Finding),  # sea level entered for the place
    (500, 954.6, Unproven),
    (1000, 898.7, Unproven),
    (1000, 1013.2, Finding),
])
def test_reduction_from_sea_level(elevation, indicated, expected):
    text = checked(indicated, "sea_level_pressure_hpa: 1013.25") + f"site: {{elevation_m: {elevation}}}\n"
    told = expect(expected, answer(text, RULE))
    if elevation == 500:
        assert "1013.2 hPa at sea level, so 954.6 hPa at 500 m: +0.0 hPa ± 4.6 hPa" in told.evidence.replace(
            "-0.0", "+0.0"
        )
        assert told.message == (
            "the barometer check cannot tell whether the pressure is within the limit"
        )


def test_below_the_sea_a_reduction_is_in_as_much_doubt():
    """400 m below it, 1013.25 · (1 + 0.0065 · 400/288.15)^5.2559 = 1062.2 hPa by ISO 2533; 48.97 · 0.069 = 3.4 hPa."""
    text = checked(1062.2, "sea_level_pressure_hpa: 1013.25") + "site: {elevation_m: -400}\n"
    told = expect(Unproven, answer(text, RULE))
    assert told.do.startswith("say how the report was reduced, in reduced_by; or read the pressure at the place")


# 1013.2 hPa at sea level taken back to 900 m with pen and paper. By the standard atmosphere (ISO 2533):
# 1013.2 · (1 - 0.0065 · 900/288.15)^5.2559 = 909.7 hPa. By a temperature of 2 °C at the place (hypsometric equation,
# WMO-No. 8), 899.9 m geopotential: 2 + 273.15 + 2.93 K in the middle,
# 1013.2 · exp(-9.80665 · 899.9/(287.053 · 278.08)) = 907.16 hPa.
@pytest.mark.parametrize(("said", "indicated", "expected"), [
    ("", 909.7, Unproven),
    ("reduced_by: standard-atmosphere", 909.7, Clear),
    ("reduced_by: standard-atmosphere", 911.9, Clear),
    ("reduced_by: standard-atmosphere", 913.5, Finding),
    ("reduced_by: standard-atmosphere, temperature_c: 2", 909.7, Clear),
    ("reduced_by: temperature, temperature_c: 2", 907.1, Clear),
    ("reduced_by: temperature, temperature_c: 2", 913.0, Finding),
    ("temperature_c: 8", 909.5, Clear),  # near the standard's 9.2 °C both ways lead to much the same
])
def test_how_the_report_was_reduced(said, indicated, expected):
    text = checked(indicated, f"sea_level_pressure_hpa: 1013.2{', ' if said else ''}{said}")
    told = expect(expected, answer(text + "site: {elevation_m: 900}\n", RULE))
    if expected is Unproven:
        assert told.do.startswith("say how the report was reduced, in reduced_by; or read the pressure at the place")


def test_the_temperature_of_the_site_where_the_check_has_none():
    text = checked(907.1, "sea_level_pressure_hpa: 1013.2, reduced_by: temperature")
    told = expect(Clear, answer(text + "site: {elevation_m: 900, temperature_c: 2}\n", RULE))
    # 5 K of a column of 106.0 hPa at 2 °C are 1.93 hPa; with the barometer's 0.5: 1.96 · √(1.93² + 0.5²)/√3 = 2.25.
    assert "so 907.2 hPa at 900 m: -0.1 hPa ± 2.3 hPa (95 %)" in told.evidence


def test_weather_of_another_day_leaves_the_temperature_then_to_be_written():
    """Judged with the day's weather in place of the site's, as warm as that may be."""
    text = checked(907.1, "sea_level_pressure_hpa: 1013.2, reduced_by: temperature")
    site = "site: {elevation_m: 900, temperature_c: 2, days: [{date: 2026-05-21, temperature_c: 2}]}\n"
    asked = expect(Unproven, answer(text + site, RULE)).do
    assert asked.startswith("write temperature_c of the air then into the barometer check; or read the pressure at")
    written = text.replace("reduced_by: temperature", "reduced_by: temperature, temperature_c: 2")
    expect(Clear, answer(written + site, RULE))


def test_an_elevation_in_feet_is_said_first():
    """212 m above the sea, written as 695 ft."""
    text = checked(990.0, "sea_level_pressure_hpa: 1015.4") + "site: {elevation_m: 695}\n"
    assert expect(Finding, answer(text, RULE)).do.startswith("write elevation_m in metres: its number fits in feet; ")


@pytest.mark.parametrize(("text", "message"), [
    (BARE, "no barometer check is recorded"),
    (BARE.replace("barometer: {accuracy_hpa: 1}\n", ""), "whether the aircraft has a barometer is not recorded"),
    (checked(986.4, accuracy="reference: {instrument: weather report}"),
     "reference.accuracy_hpa of the barometer check of 2026-05-20 is not recorded"),
    (checked(986.4, "sea_level_pressure_hpa: 1013"), "site.elevation_m is not recorded"),
    (checked(986.4).replace("station_pressure_hpa: 986.4, ", ""),
     "station_pressure_hpa of the barometer check of 2026-05-20 is not recorded"),
])
def test_input_missing(text, message):
    told = expect(Unproven, answer(text, RULE))
    assert (told.cause, told.message) == ("absent", message)


def test_out_of_the_question():
    assert answer(BARE.replace("{accuracy_hpa: 1}", "none"), RULE) == NotApplicable(
        "the aircraft does not rely on a barometer"
    )
