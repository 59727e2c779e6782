"""A steady hover, and the least power that physics lets it take."""

import math

from preflint.api import (
    HOVER_LOG,
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
    COAXIAL_COPLANAR,
    COAXIAL_SEPARATED,
    DUCT,
    disc_area_m2,
    ground_effect_thrust_ratio,
    ideal_hover_power_w,
    induced_velocity_m_s,
    overlap_area_m2,
)
from preflint.frozen import dataclass

GRAVITY_M_S2 = 9.80665  # standard gravity; that of any place on land differs by less than 0.5 %
MM_PER_IN = 25.4
HOW = "hover steadily out of ground effect and note mean current, mean voltage, mass, height and wind"

# Half-widths of what nobody wrote down. Common practice, no source.
_TEMPERATURE_WITHIN_C = 2.0
_ANY_AIR_C = (12.5, 32.5)  # middle and half-width, -20 to 45 °C, where no temperature is recorded
_PRESSURE_WITHIN_HPA = 2.0
_WEATHER_WITHIN_HPA = 35.0  # either side of the standard pressure of the height, where no pressure is recorded
MASS_WITHIN = 0.01
_GRAVITY_WITHIN = 0.005
_WIND_WITHIN_M_S = 1.0
_DIAMETER_WITHIN = 0.01
# Of the density, where the hover was on another day than the site's weather: 10 °C and 15 hPa.
ANOTHER_DAY = 0.05


@dataclass(frozen=True, slots=True)
class Uncertain:
    """A value and its standard uncertainty, in one unit."""

    value: float
    u: float

    def times(self, factor: "Uncertain") -> "Uncertain":
        """With an independent factor."""
        value = self.value * factor.value
        return Uncertain(value, math.hypot(self.u * factor.value, self.value * factor.u))


def air_density(site: fitted.Site) -> Uncertain:
    """kg/m³ at the site. What is not recorded is anything: humidity dry to saturated, temperature -20 to 45 °C.

    Ends the rule as unproven where pressure and elevation are missing.
    """
    celsius, by_c = _ANY_AIR_C
    if isinstance(site.temperature_c, Known):
        celsius, by_c = site.temperature_c.value, _TEMPERATURE_WITHIN_C
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
    by_temperature = value * by_c / (celsius + 273.15)
    by_pressure = value * within / hectopascal
    u = math.hypot(*(u_rectangular(half) for half in (by_humidity, by_temperature, by_pressure)))
    return Uncertain(value, u)


def least_power_w(aircraft: Aircraft, mass_g: float, density_within: float = 0.0) -> Uncertain:
    """The least power by which anything hovers on these discs in still air, far from the ground.

    Every disc as if it were alone: discs that share air, side by side or on one axis, take more, but by how
    much depends on how each blade is loaded, so that no factor above 1 is certain. The thrust is shared as
    costs least, by area; then the power is that of one disc of all areas together.
    ``density_within`` is a half-width, relative, beside what the site leaves open.
    """
    air = air_density(aircraft.site)
    least = ideal_hover_power_w(mass_g / 1000 * GRAVITY_M_S2, sum(_areas_m2(aircraft)), air.value)
    # P ∝ (mass · gravity)^1.5 / (√density · diameter)
    by_density = 0.5 * math.hypot(air.u / air.value, u_rectangular(density_within))
    by_weight = 1.5 * math.hypot(u_rectangular(MASS_WITHIN), u_rectangular(_GRAVITY_WITHIN))
    return Uncertain(least, least * math.hypot(by_weight, u_rectangular(_DIAMETER_WITHIN), by_density))


def interference(aircraft: Aircraft) -> Uncertain:
    """Power that momentum theory expects of the rotors where they are over that of rotors far apart: 1 or more.

    1.281 times for a disc that lies wholly in another's contracted wake, in proportion for one that lies there
    in part, within 0.133 either way: it is 1.414 for a pair in one plane, and 1.155 for one whose lower rotor
    is loaded only outside the wake. Where distances are not recorded only rotors on one axis count.
    """
    diameters, areas = _diameters_m(aircraft), _areas_m2(aircraft)
    shared = 0.0
    for i, one in enumerate(aircraft.rotors):
        with_others = sum(
            _shared(aircraft, one, other, diameters[i], diameters[j])
            for j, other in enumerate(aircraft.rotors)
            if j != i
        )
        shared += min(1.0, with_others) * areas[i] / sum(areas)
    doubt = u_rectangular((COAXIAL_COPLANAR - COAXIAL_SEPARATED) * shared)
    return Uncertain(1 + (COAXIAL_SEPARATED - 1) * shared, doubt)


def u_of_another_day() -> float:
    """Relative standard uncertainty of a power for the density of a day that was another."""
    return 0.5 * u_rectangular(ANOTHER_DAY)


def lift_shares(aircraft: Aircraft) -> list[float]:
    """Each rotor's share of the lift, as costs least: by area."""
    areas = _areas_m2(aircraft)
    return [area / sum(areas) for area in areas]


def _diameters_m(aircraft: Aircraft) -> list[float]:
    return [need(one.prop.diameter_in).value * MM_PER_IN / 1000 for one in aircraft.rotors]


def _areas_m2(aircraft: Aircraft) -> list[float]:
    """Of each rotor's disc; a ducted one needs the power of an open disc of twice its area."""
    return [
        disc_area_m2(diameter) / (DUCT**2 if is_ducted(one) else 1)
        for one, diameter in zip(aircraft.rotors, _diameters_m(aircraft), strict=True)
    ]


def is_ducted(one: rotor.Rotor) -> bool:
    """Whether a duct is recorded; one that nobody recorded is taken as none, and whoever asks says so."""
    return isinstance(one.ducted, Known) and one.ducted.value


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


def eased(aircraft: Aircraft, mass_g: float, wind_m_s: float, height_m: float) -> Uncertain:
    """Power in that wind and at that height over power in still air, far from the ground: at most 1.

    Wind by Glauert's formula for all discs loaded alike, the slowest flow, on which wind acts most; the wind is
    known within 1 m/s. The ground by Cheeseman and Bennett's formula for one rotor of all areas together: near
    the ground many rotors behave as one large one. Its whole effect stands in the uncertainty too.
    """
    area = sum(_areas_m2(aircraft))
    hover = induced_velocity_m_s(mass_g / 1000 * GRAVITY_M_S2, area, air_density(aircraft.site).value)
    by_wind = wind_saves(wind_m_s, hover)
    in_less = wind_saves(max(0.0, wind_m_s - _WIND_WITHIN_M_S), hover)
    in_more = wind_saves(wind_m_s + _WIND_WITHIN_M_S, hover)
    radius = max(math.sqrt(area / math.pi), largest_diameter_m(aircraft) / 2)
    # The formula holds from half a radius upwards; lower than that no comparison is made.
    by_ground = ground_effect_thrust_ratio(radius, max(height_m, radius / 2)) ** -1.5
    value = by_wind * by_ground
    u = math.hypot(u_rectangular((in_less - in_more) / 2) / by_wind, u_rectangular(1 - by_ground) / by_ground)
    return Uncertain(value, value * u)


def largest_diameter_m(aircraft: Aircraft) -> float:
    """Of all props recorded. Ends the rule as unproven where one is missing."""
    return max(_diameters_m(aircraft))


def latest_hover(on: Context) -> records.Hover:
    """The hover that speaks. Ends the rule as unproven where there is none."""
    return on.freshest("hover", on.aircraft.records.hover, HOW, mind=HOVER_LOG)
