"""The pressure of the place, as read there or reduced from sea level, and how far an indication may be from it."""

from preflint.api import Absent, Aircraft, Known, Tolerance, need, records
from preflint.compute.atmosphere import station_pressure_hpa

INDICATION = Tolerance(
    "barometer_indication",
    "hPa",
    3.0,
    "lower",
    "derived: about 25 m of height near sea level (ISO 2533: 8.32 m per hPa at sea level)",
    "how far the indicated pressure may be from the pressure of the place",
)
# How far the air may be from the standard's 15 °C: what a reduction from sea level can be wrong by.
_UNLIKE_STANDARD = 20.0 / 288.15


def pressure_of_the_place(check: records.BarometerCheck, aircraft: Aircraft) -> tuple[float, float, str]:
    """The pressure of the place, what its reduction may be wrong by (both hPa), and words for it."""
    if isinstance(check.station_pressure_hpa, Known):
        value = check.station_pressure_hpa.value
        return value, 0.0, f"the place {value:.1f} hPa"
    if isinstance(check.sea_level_pressure_hpa, Absent):
        need(check.station_pressure_hpa)
    reported = need(check.sea_level_pressure_hpa).value
    elevation = need(aircraft.site.elevation_m).value
    value = station_pressure_hpa(reported, elevation)
    bound = abs(reported - value) * _UNLIKE_STANDARD
    return value, bound, f"{reported:.1f} hPa at sea level, so {value:.1f} hPa at {elevation:g} m"
