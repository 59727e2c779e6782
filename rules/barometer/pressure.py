"""The pressure of the place: as read there, as reduced from sea level, and as its height leads to expect."""

from preflint.api import Absent, Aircraft, Field, Known, Tolerance, fitted, need, records
from preflint.compute.atmosphere import (
    SEA_LEVEL_HPA,
    SEA_LEVEL_K,
    ZERO_CELSIUS_K,
    geopotential_m,
    standard_pressure_hpa,
    station_pressure_by_temperature_hpa,
    station_pressure_hpa,
)

INDICATION = Tolerance(
    "barometer_indication",
    "hPa",
    3.0,
    "lower",
    "derived: about 25 m of height near sea level (ISO 2533: 8.32 m per hPa at sea level)",
    "how far the indicated pressure may be from the pressure of the place",
)
WEATHER = Tolerance(
    "weather_hpa",
    "hPa",
    35.0,
    "lower",
    "common practice, no source",
    "how far the weather may take the pressure of a place from that of the standard atmosphere",
)
# How far the air may be from the standard's 15 °C: what a reduction from sea level can be wrong by.
_UNLIKE_STANDARD = 20.0 / SEA_LEVEL_K
# How far the air below the place may be on the mean from what the temperature at the place tells: a clear night's
# inversion, a hot noon. Common practice, no source.
_COLUMN_WITHIN_K = 5.0
FEET_PER_M = 1 / 0.3048


def pressure_of_the_place(check: records.BarometerCheck, aircraft: Aircraft) -> tuple[float, float, str]:
    """The pressure of the place, what its reduction may be wrong by (both hPa), and words for it.

    A pressure reduced by the standard atmosphere is taken back by it without a doubt, whatever the weather. One
    reduced by the temperature is as good as that temperature speaks for the air below. Where nobody says which, both
    are possible.
    """
    if isinstance(check.station_pressure_hpa, Known):
        value = check.station_pressure_hpa.value
        return value, 0.0, f"the place {value:.1f} hPa"
    if isinstance(check.sea_level_pressure_hpa, Absent):
        need(check.station_pressure_hpa)
    reported = need(check.sea_level_pressure_hpa).value
    elevation = need(aircraft.site.elevation_m).value
    value, bound = _reduced(check, aircraft, reported, elevation)
    return value, bound, f"{reported:.1f} hPa at sea level, so {value:.1f} hPa at {elevation:g} m"


def _reduced(
    check: records.BarometerCheck, aircraft: Aircraft, reported: float, elevation: float
) -> tuple[float, float]:
    by_standard = station_pressure_hpa(reported, elevation)
    by = check.reduced_by.value if isinstance(check.reduced_by, Known) else None
    if by == "standard-atmosphere":
        return by_standard, 0.0
    celsius = temperature_then(check, aircraft.site)
    if not isinstance(celsius, Known):
        return by_standard, abs(reported - by_standard) * _UNLIKE_STANDARD
    by_temperature = station_pressure_by_temperature_hpa(reported, elevation, celsius.value)
    bound = abs(reported - by_temperature) * _COLUMN_WITHIN_K / (celsius.value + ZERO_CELSIUS_K)
    if by == "temperature":
        return by_temperature, bound
    return (by_standard + by_temperature) / 2, bound + abs(by_standard - by_temperature) / 2


def temperature_then(check: records.BarometerCheck, site: fitted.Site) -> Field[float]:
    """The air's temperature when the check was taken: its own, that of its day, else the site's, which is of no day."""
    if isinstance(check.temperature_c, Known):
        return check.temperature_c
    of_days = [day for day in site.days if isinstance(day.temperature_c, Known)]
    for day in of_days:
        if day.date.value.date == check.date.value.date:
            return day.temperature_c
    if any(day.temperature_c == site.temperature_c for day in of_days):  # that of another day stands in its place
        return Absent("temperature_c", check.place, "write the temperature of the air then")
    return site.temperature_c


def in_feet(check: records.BarometerCheck, aircraft: Aircraft, within: float) -> bool:
    """Whether the indication, and the pressure at sea level, fit an elevation whose number is one of feet."""
    sea_level, elevation = check.sea_level_pressure_hpa, aircraft.site.elevation_m
    if not isinstance(sea_level, Known) or not isinstance(elevation, Known):
        return False
    there = station_pressure_hpa(sea_level.value, elevation.value / FEET_PER_M)
    return abs(check.indicated_hpa.value - there) <= within


def as_elevation_tells(elevation_m: float, weather_hpa: float) -> tuple[float, float]:
    """The standard atmosphere's pressure at the elevation, and how far weather and warmth may take it, in hPa."""
    standard = standard_pressure_hpa(geopotential_m(elevation_m))
    return standard, weather_hpa + abs(SEA_LEVEL_HPA - standard) * _UNLIKE_STANDARD


def fits_in_feet(elevation_m: float, pressure_hpa: float, weather_hpa: float) -> bool:
    """Whether the pressure belongs to the elevation if its number is one of feet."""
    standard, within = as_elevation_tells(elevation_m / FEET_PER_M, weather_hpa)
    return abs(pressure_hpa - standard) <= within
