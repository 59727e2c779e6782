"""The pressure of the place beside its elevation: both sides of the weather, feet, sea level, missing input."""

import pytest
from making.manifests import answer, expect, manifest

from preflint.api import Clear, Finding, NotApplicable
from preflint.testing import marked

RULE = "barometer/site-pressure"


def at(elevation, pressure, more=""):
    return manifest(f"site: {{elevation_m: {elevation}, station_pressure_hpa: {pressure}}}\n{more}")


def test_feet_in_full():
    text = at(695, 991.3)
    found = expect(Finding, answer(text, RULE))
    assert found.message == "991.3 hPa are not the pressure of a place 695 m above the sea"
    # ISO 2533:1975: 1013.25 · (1 - 0.0065 · 695/288.15)^5.2559 = 932.5 hPa; 80.7 hPa · 20/288.15 = 5.6 hPa.
    assert found.evidence == (
        "991.3 hPa recorded; at 695 m the standard atmosphere has 932.5 hPa, within 41 hPa by weather and warmth"
    )
    assert found.do == (
        "if the elevation was read in feet, write metres: 695 ft are 212 m; "
        "if the pressure is one reduced to sea level, write it as sea_level_pressure_hpa"
    )
    assert marked(text, found.place) == "695"
    assert [marked(text, one.place) for one in found.related] == ["991.3"]


# ISO 2533:1975, table 5: 1013.25 hPa at 0 m, 898.746 hPa at 1000 m, 701.085 hPa at 3000 m (geopotential; 1.4 m more
# geometric). Besides the weather's 35 hPa: 114.5 · 20/288.15 = 7.9 hPa, and 312.2 · 20/288.15 = 21.7 hPa.
@pytest.mark.parametrize(("elevation", "pressure", "expected"), [
    (0, 979.0, Clear), (0, 1047.5, Clear), (0, 977.5, Finding), (0, 1049.0, Finding),
    (1000, 941.0, Clear), (1000, 942.5, Finding), (1000, 856.5, Clear), (1000, 855.0, Finding),
    (3000, 756.0, Clear), (3000, 760.0, Finding),
])  # fmt: skip
def test_both_sides_of_the_weather(elevation, pressure, expected):
    expect(expected, answer(at(elevation, pressure), RULE))


def test_a_pressure_at_sea_level_for_that_of_the_place():
    found = expect(Finding, answer(at(900, 1015.2), RULE))
    assert found.do.endswith("; if the pressure is one reduced to sea level, write it as sea_level_pressure_hpa")


def test_neither_feet_nor_sea_level():
    """ISO 2533:1975, table 5: 898.746 hPa at 1000 m, 795.014 hPa at 2000 m."""
    found = expect(Finding, answer(at(2000, 898.7), RULE))
    assert found.do == "read the elevation off a map, in metres: the pressure tells of about 1000 m"


def test_of_two_pressures_the_one_farther_off_counts_below_as_above():
    """ISO 2533:1975: 898.7 hPa at 1000 m, so 850 are 49 too few, and 908 are 9 too many."""
    check = "records:\n  barometer_check:\n    - {date: 2026-05-20, indicated_hpa: 908, station_pressure_hpa: 908}\n"
    found = expect(Finding, answer(at(1000, 850, check), RULE))
    assert found.message.startswith("850.0 hPa are not the pressure of a place 1000 m")


def test_the_latest_check_counts_too():
    check = "records:\n  barometer_check:\n    - {date: 2026-05-20, indicated_hpa: 991, station_pressure_hpa: 991}\n"
    text = manifest("site: {elevation_m: 695}\n", check)
    assert marked(text, expect(Finding, answer(text, RULE)).related[0].place) == "991"
    expect(Clear, answer(text.replace("695", "212"), RULE))


@pytest.mark.parametrize("site", ["{elevation_m: 212}", "{station_pressure_hpa: 991.3}"])
def test_input_missing(site):
    expect(NotApplicable, answer(manifest(f"site: {site}\n"), RULE))
