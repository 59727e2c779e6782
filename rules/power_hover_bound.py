"""A steady hover, and the least power that physics lets it take."""

import math
from dataclasses import dataclass

from preflint.api import (
    Aircraft,
    Context,
    Known,
    fitted,
    need,
    records,
    rotor,
    rotor_place,
)
from preflint.compute.atmosphere import (
    air_density_kg_m3,
    geopotential_m,
    standard_pressure_hpa,
    station_pressure_hpa,
)
from preflint.compute.decision import u_rectangular
from preflint.compute.induced_power import (
    COAXIAL_SEPARATED,
    disc_area_m2,
    ideal_hover_power_w,
    induced_velocity_m_s,
    overlap_area_m2,
)

GRAVITY_M_S2 = 9.80665  # standard gravity; that of any place on land differs by less than 0.3 %
MM_PER_IN = 25.4
HOW = "hover steadily out of ground effect and note mean current, mean voltage, mass, height and wind"

# Half-widths of what nobody wrote down. Common practice, no source.
_TEMPERATURE_WITHIN_C = 2.0
_PRESSURE_WITHIN_HPA = 2.0
_WEATHER_WITHIN_HPA = 35.0  # either side of the standard pressure of the height, where no pressure is recorded
_MASS_WITHIN = 0.01
_DIAMETER_WITHIN = 0.01
# Of the density, where the hover was on another day than the site's weather: 10 °C and 15 hPa.
ANOTHER_DAY = 0.05


@dataclass(frozen=True, slots=True)
class Uncertain:
    """A value and its standard uncertainty, in one unit."""

    value: float
    u: float


def air_density(site: fitted.Site) -> Uncertain:
    """kg/m³ at the site. Where no humidity is recorded it is anything between dry and saturated.

    Ends the rule as unproven where the temperature, or pressure and elevation, are missing.
    """
    celsius = need(site.temperature_c).value
    if isinstance(site.station_pressure_hpa, Known):
        hectopascal, within = site.station_pressure_hpa.value, _PRESSURE_WITHIN_HPA
    elif isinstance(site.sea_level_pressure_hpa, Known):
        elevation = need(site.elevation_m).value
        hectopascal, within = (
            station_pressure_hpa(site.sea_level_pressure_hpa.value, elevation),
            _PRESSURE_WITHIN_HPA,
        )
    elif isinstance(site.elevation_m, Known):
        height = geopotential_m(site.elevation_m.value)
        hectopascal, within = standard_pressure_hpa(height), _WEATHER_WITHIN_HPA
    else:
        need(site.station_pressure_hpa)
    humidity = site.relative_humidity_percent
    percent = humidity.value if isinstance(humidity, Known) else 50.0
    value = air_density_kg_m3(celsius, hectopascal, percent)
    wettest = 10.0 if isinstance(humidity, Known) else 50.0
    by_humidity = value - air_density_kg_m3(celsius, hectopascal, min(100.0, percent + wettest))
    by_temperature = value * _TEMPERATURE_WITHIN_C / (celsius + 273.15)
    by_pressure = value * within / hectopascal
    u = math.hypot(*(u_rectangular(half) for half in (by_humidity, by_temperature, by_pressure)))
    return Uncertain(value, u)


def ideal_power_w(aircraft: Aircraft, mass_g: float, density_within: float = 0.0) -> Uncertain:
    """The least power by which the recorded props hover with this mass, in still air, far from the ground.

    The thrust is shared as costs least, in proportion to the discs' areas. A pair of discs that share area
    costs more, up to 1.281 times where one lies wholly in the other's contracted wake; the 1.414 of a pair
    in one plane is not used. ``density_within`` is a half-width, relative, beside what the site leaves open.
    """
    air = air_density(aircraft.site)
    diameters = [need(one.prop.diameter_in).value * MM_PER_IN / 1000 for one in aircraft.rotors]
    areas = [disc_area_m2(diameter) for diameter in diameters]
    weight_n = mass_g / 1000 * GRAVITY_M_S2
    total = 0.0
    for i, one in enumerate(aircraft.rotors):
        thrust_n = weight_n * areas[i] / sum(areas)
        shared = sum(
            _shared(aircraft, one, other, diameters[i], diameters[j])
            for j, other in enumerate(aircraft.rotors)
            if j != i
        )
        dearer = 1 + (COAXIAL_SEPARATED - 1) * min(1.0, shared)
        total += dearer * ideal_hover_power_w(thrust_n, areas[i], air.value)
    # P ∝ mass^1.5 / (√density · diameter)
    by_density = 0.5 * math.hypot(air.u / air.value, u_rectangular(density_within))
    u = math.hypot(1.5 * u_rectangular(_MASS_WITHIN), u_rectangular(_DIAMETER_WITHIN), by_density)
    return Uncertain(total, total * u)


def _shared(aircraft: Aircraft, one: rotor.Rotor, other: rotor.Rotor, own_m: float, its_m: float) -> float:
    """The share of the larger disc that both sweep, seen from above; none where distances are not recorded."""
    here, there = rotor_place(aircraft, one), rotor_place(aircraft, other)
    scale_m = 0.001
    if not (isinstance(one.place_mm, Known) and isinstance(other.place_mm, Known)):
        if isinstance(one.place_mm, Known) or isinstance(other.place_mm, Known):
            return 0.0
        arm = aircraft.about.arm_mm
        scale_m = arm.value / 1000 if isinstance(arm, Known) else math.inf
    apart = math.dist(here[:2], there[:2])
    # Sines and cosines of a coaxial pair's one angle are the same to the last bit.
    apart_m = apart * scale_m if apart > 0 else 0.0
    return overlap_area_m2(min(own_m, its_m), apart_m) / disc_area_m2(max(own_m, its_m))


def wind_saves(wind_m_s: float, hover_m_s: float) -> float:
    """Induced power in a level wind over that in still air: v/v_h of v = v_h²/√(V² + v²).

    ``hover_m_s`` is the induced velocity v_h in still air. Source: H. Glauert's momentum theory of forward
    flight, as in J. G. Leishman, Principles of Helicopter Aerodynamics, chapter 2.
    """
    ratio = (wind_m_s / hover_m_s) ** 2
    return math.sqrt((math.sqrt(ratio**2 + 4) - ratio) / 2)


def mean_induced_m_s(aircraft: Aircraft, mass_g: float) -> float:
    """Induced velocity in still air with all discs loaded alike: the slowest, on which wind acts most."""
    area = sum(disc_area_m2(need(one.prop.diameter_in).value * MM_PER_IN / 1000) for one in aircraft.rotors)
    return induced_velocity_m_s(mass_g / 1000 * GRAVITY_M_S2, area, air_density(aircraft.site).value)


def largest_diameter_m(aircraft: Aircraft) -> float:
    """Of all props recorded. Ends the rule as unproven where one is missing."""
    return max(need(one.prop.diameter_in).value for one in aircraft.rotors) * MM_PER_IN / 1000


def latest_hover(on: Context) -> records.Hover:
    """The hover that speaks. Ends the rule as unproven where there is none."""
    return on.freshest("hover", on.aircraft.records.hover, HOW)


def electrical_w(aircraft: Aircraft, hover: records.Hover) -> float:
    """Mean voltage × mean current, as the settings installed would show it.

    Volts go with divider_ratio, amperes against sensor_mv_per_a; a zero in force is taken as unchanged.
    """
    shown = need(hover.mean_current_a).value * need(hover.mean_voltage_v).value
    now, then = aircraft.power_sensing, hover.in_force
    if not isinstance(now, Known):
        return shown
    if isinstance(now.value.divider_ratio, Known) and isinstance(then.divider_ratio, Known):
        shown *= now.value.divider_ratio.value / then.divider_ratio.value
    if isinstance(now.value.sensor_mv_per_a, Known) and isinstance(then.sensor_mv_per_a, Known):
        shown *= then.sensor_mv_per_a.value / now.value.sensor_mv_per_a.value
    return shown
