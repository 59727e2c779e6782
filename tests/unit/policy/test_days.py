"""The weather of a day, in the club's policy and in a manifest: which counts, and what it takes the place of."""

import pytest
from making.manifests import expect

from preflint.api import Clear, Finding, Known, NotApplicable, Unproven
from preflint.errors import NotRead, UsageError
from preflint.inspection import Inspected
from preflint.testing import computed, inspect_text, outcome

OWN = "preflint: 1\naircraft: {name: Dunlin, layout: quad-x}\nlimits_of_aircraft: {least_c: 0, most_c: 30}\n"
SITE = "site: {elevation_m: 1500, temperature_c: 10, relative_humidity_percent: 50, sea_level_pressure_hpa: 1013.25}\n"
HOT = "days: [{date: 2026-05-21, temperature_c: 35, relative_humidity_percent: 0.1}]\n"


def judged(policy: str, manifest: str = OWN + SITE, day: str = "2026-05-21", **files: str) -> Inspected:
    return inspect_text(manifest, day, files={"preflint.yaml": f"preflint: 1\n{policy}", **files})


def refused(policy: str) -> str:
    with pytest.raises(UsageError) as error:
        judged(policy)
    return str(error.value).removeprefix("the policy is wrong, nothing was judged: ")


def test_the_days_weather_reaches_the_air() -> None:
    """1500 m, 35 °C, dry: ISO 2533 has 845.56 hPa there, so ρ = 0.9559 kg/m³ and 2510 m of density altitude."""
    hot = judged(HOT)
    assert computed(hot, "air_density_kg_m3").value == pytest.approx(0.9559, abs=2e-4)
    assert computed(hot, "density_altitude_m").value == pytest.approx(2510, abs=2)
    told = expect(Finding, outcome(hot, "day/temperature"))
    assert [one.place.file for one in told.related] == ["preflint.yaml"]
    cool = judged(HOT, day="2026-05-22")
    assert computed(cool, "density_altitude_m").value < 1800
    expect(Unproven, outcome(cool, "day/wind"))
    expect(NotApplicable, outcome(judged(""), "day/wind"))


def test_what_the_day_does_not_say_the_site_says() -> None:
    site = judged("days: [{date: 2026-05-21, temperature_c: 20}]\n").aircraft.site
    assert [one.value for one in (site.temperature_c, site.relative_humidity_percent) if isinstance(one, Known)] == [
        20, 50,
    ]  # fmt: skip


@pytest.mark.parametrize(("day", "station", "sea_level"), [
    ("station_pressure_hpa: 850", True, False),
    ("sea_level_pressure_hpa: 1003", False, True),
    ("wind_m_s: 3", False, True),
])
def test_of_two_pressures_the_days_counts(day: str, station: bool, sea_level: bool) -> None:
    site = judged(f"days: [{{date: 2026-05-21, {day}}}]\n").aircraft.site
    assert isinstance(site.station_pressure_hpa, Known) is station
    assert isinstance(site.sea_level_pressure_hpa, Known) is sea_level


def test_the_clubs_day_goes_before_the_manifests_own() -> None:
    own = OWN + "site: {days: [{date: 2026-05-21, temperature_c: 4}, {date: 2026-05-22, temperature_c: -3}]}\n"
    expect(Finding, outcome(judged(HOT, own), "day/temperature"))
    expect(Clear, outcome(judged("", own), "day/temperature"))
    expect(Finding, outcome(judged(HOT, own, "2026-05-22"), "day/temperature"))


def test_a_manifest_without_a_site_has_the_clubs_weather() -> None:
    expect(Finding, outcome(judged(HOT, OWN), "day/temperature"))


def test_a_site_in_a_file_has_its_days() -> None:
    there = "elevation_m: 1500\ndays: [{date: 2026-05-21, temperature_c: -3}]\n"
    seen = judged("", OWN + "site: sites/there.yaml\n", **{"sites/there.yaml": there})
    told = expect(Finding, outcome(seen, "day/temperature"))
    assert [one.place.file for one in told.related] == ["sites/there.yaml"]


CHECK = (
    "barometer: {}\nrecords: {barometer_check: [{date: 2026-05-16, indicated_hpa: 907.1, "
    "sea_level_pressure_hpa: 1013.2, reduced_by: temperature, reference: {accuracy_hpa: 0.5}}]}\n"
)


@pytest.mark.parametrize(("days", "said"), [
    ("", "so 907.2 hPa at 900 m"), ("days: [{date: 2026-05-16, temperature_c: 2}]\n", "so 907.2 hPa at 900 m"),
    # That of another day says nothing of the air then: the standard atmosphere's 909.7 hPa, and less sure.
    ("days: [{date: 2026-05-21, temperature_c: 33}]\n", "so 909.7 hPa at 900 m"),
    ("days: [{date: 2026-05-21, temperature_c: 33}, {date: 2026-05-16, temperature_c: 2}]\n", "so 907.2 hPa at 900 m"),
])  # fmt: skip
def test_a_check_of_another_day_is_not_judged_by_the_days_temperature(days: str, said: str) -> None:
    seen = judged(days, OWN + "site: {elevation_m: 900, temperature_c: 2}\n" + CHECK)
    told = outcome(seen, "barometer/indicated-pressure")
    assert isinstance(told, Clear | Unproven)
    assert said in told.evidence


@pytest.mark.parametrize(("policy", "complaint"), [
    ("days: [{date: 2026-02-30}]\n", '2:15: "2026-02-30" is not in the calendar; write 2026-05-23'),
    ("days: [{date: 2026-05-21, wind: 3}]\n", '2:27: "wind" is not known here; did you mean "wind_m_s"?'),
    ("days: [{wind_m_s: 3}]\n", '2:8: "date" is missing, as in date: 2026-05-23'),
    ("days: [{date: 2026-05-21}, {date: 2026-05-21}]\n",
     "2:35: the weather of 2026-05-21 stands on line 2 already; keep one of them"),
    ("days: [windy]\n", "2:8: "),
    ("days: {date: 2026-05-21}\n", "2:7: "),
    ("days: [{date: 2026-05-21, station_pressure_hpa: 900, sea_level_pressure_hpa: 1000}]\n",
     "2:54: station_pressure_hpa and sea_level_pressure_hpa cannot both stand here; keep one of them"),
])  # fmt: skip
def test_days_that_are_wrong_say_where_and_what(policy: str, complaint: str) -> None:
    assert f"preflint.yaml:{complaint}" in refused(policy)


def test_a_day_twice_in_a_manifest() -> None:
    with pytest.raises(NotRead) as error:
        inspect_text(OWN + "site: {days: [{date: 2026-05-21}, {date: 2026-05-21}]}\n")
    assert [problem.message for problem in error.value.problems] == [
        "the weather of 2026-05-21 stands on line 4 already; keep one of them"
    ]
