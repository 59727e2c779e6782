"""Figures of the air, and of how far a thing falls: for people, and for those who judge lift and flight time."""

from collections.abc import Iterator

from preflint.api import Context, Figure, Known, figure, need
from preflint.compute.atmosphere import density_altitude_m, dew_point_c
from preflint.compute.decision import u_rectangular
from preflint.compute.wind import fall_distance_m

from ..power.lift import air_density

# Half-widths of a thermometer in the shade and of a reported humidity. Common practice, no source.
_TEMPERATURE_WITHIN_C = 2.0
_HUMIDITY_WITHIN_PERCENT = 10.0
_ATMOSPHERE_KG_M3 = (0.364, 2.0)  # densities that the standard atmosphere reaches below 11 km


@figure("density-altitude")
def density_altitude_figures(on: Context) -> Iterator[Figure]:
    """The height at which the standard atmosphere is as thin as the air at the site, with the day's weather in it."""
    site = on.aircraft.site
    air = air_density(site)
    thinnest, thickest = air.value - air.u, air.value + air.u
    if _ATMOSPHERE_KG_M3[0] <= thinnest and thickest <= _ATMOSPHERE_KG_M3[1]:
        u = (density_altitude_m(thinnest) - density_altitude_m(thickest)) / 2
        yield Figure("density_altitude_m", None, density_altitude_m(air.value), u, "m", None, site.place)


@figure("dew-point")
def dew_point_figures(on: Context) -> Iterator[Figure]:
    """At the site, with the day's weather in it."""
    celsius, humidity = need(on.aircraft.site.temperature_c), need(on.aircraft.site.relative_humidity_percent)
    if humidity.value > 0:  # written as 0 it was not measured
        c, percent = celsius.value, humidity.value
        warm, cold = min(60.0, c + _TEMPERATURE_WITHIN_C), max(-60.0, c - _TEMPERATURE_WITHIN_C)
        damp, dry = min(100.0, percent + _HUMIDITY_WITHIN_PERCENT), max(1.0, percent - _HUMIDITY_WITHIN_PERCENT)
        by_temperature = u_rectangular((dew_point_c(warm, percent) - dew_point_c(cold, percent)) / 2)
        by_humidity = u_rectangular((dew_point_c(c, damp) - dew_point_c(c, dry)) / 2)
        u = (by_temperature**2 + by_humidity**2) ** 0.5
        yield Figure("dew_point_c", None, dew_point_c(c, percent), u, "°C", None, humidity.place)


@figure("fall-distance")
def fall_figures(on: Context) -> Iterator[Figure]:
    """How far forward the aircraft would come from the planned height at the planned airspeed, in still air, if all
    lift were gone: without drag, and so at most. It says nothing of what any law asks for.
    """
    height, speed = on.aircraft.plan.height_m, on.aircraft.plan.airspeed_m_s
    if isinstance(height, Known) and isinstance(speed, Known):
        distance = fall_distance_m(speed.value, height.value)
        yield Figure("fall_distance_m", None, distance, None, "m", None, height.place)
