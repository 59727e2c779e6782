"""Does the pressure of the place belong to its elevation?"""

from preflint.api import (
    CAUTION,
    PACK_UNPLUGGED,
    Absent,
    Aircraft,
    Clear,
    Context,
    Finding,
    Job,
    Known,
    NotApplicable,
    Outcome,
    Related,
    need,
    rule,
)
from preflint.compute.atmosphere import SEA_LEVEL_HPA, standard_height_m

from .pressure import FEET_PER_M, WEATHER, as_elevation_tells, fits_in_feet


@rule(
    "barometer/site-pressure",
    each="aircraft",
    severity=CAUTION,
    job=Job.RECORD,
    precaution=PACK_UNPLUGGED,
    source="ISO 2533:1975 (standard atmosphere); the weather's part is common practice, no source",
    tolerances=(WEATHER,),
)
def site_pressure(aircraft: Aircraft, on: Context) -> Outcome:
    """Does the pressure of the place belong to its elevation?

    An elevation read off a map in feet, or a pressure at sea level written as that of the place: the air is then
    reckoned too thin or too dense, and a barometer is judged by a pressure that is none of its place.

    Reasoning: the standard atmosphere gives the pressure at ``elevation_m``; the weather takes it up to
    ``weather_hpa`` away, and air 20 K unlike the standard up to 7 % of the step from sea level. Found beyond both.
    Asked of the site's ``station_pressure_hpa`` and of that of the latest ``barometer_check``.

    Fails:

        site: {elevation_m: 695, station_pressure_hpa: 991.3}

    Passes:

        site: {elevation_m: 212, station_pressure_hpa: 991.3}

    It does not check an elevation that is wrong by less than the weather hides: about 300 m.
    """
    told = [aircraft.site.station_pressure_hpa]
    if check := on.latest(aircraft.records.barometer_check):
        told.append(check.station_pressure_hpa)
    pressures = [one for one in told if isinstance(one, Known)]
    if not pressures:
        return NotApplicable("no pressure of the place is recorded")
    if isinstance(aircraft.site.elevation_m, Absent):
        return NotApplicable("no elevation is recorded")
    elevation, weather = need(aircraft.site.elevation_m), on.limit(WEATHER)
    standard, within = as_elevation_tells(elevation.value, weather)
    pressure = max(pressures, key=lambda one: abs(one.value - standard))
    evidence = (
        f"{pressure.value:.1f} hPa recorded; at {elevation.value:g} m the standard atmosphere has {standard:.1f} hPa, "
        f"within {within:.0f} hPa by weather and warmth"
    )
    if abs(pressure.value - standard) <= within:
        return Clear(evidence)
    remedies = []
    if fits_in_feet(elevation.value, pressure.value, weather):
        metres = elevation.value / FEET_PER_M
        remedies.append(f"if the elevation was read in feet, write metres: {elevation.value:g} ft are {metres:.0f} m")
    if abs(pressure.value - SEA_LEVEL_HPA) <= weather:
        remedies.append("if the pressure is one reduced to sea level, write it as sea_level_pressure_hpa")
    if not remedies:
        about = standard_height_m(pressure.value)
        remedies.append(f"read the elevation off a map, in metres: the pressure tells of about {about:.0f} m")
    return Finding(
        place=elevation.place,
        message=f"{pressure.value:.1f} hPa are not the pressure of a place {elevation.value:g} m above the sea",
        evidence=evidence,
        do="; ".join(remedies),
        related=(Related(pressure.place, f"{pressure.value:.1f} hPa at the place"),),
    )
