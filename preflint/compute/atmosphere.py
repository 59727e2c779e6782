"""Pressure, density and height in the air.

Source of constants and formulae: ISO 2533:1975 (the same as ICAO Doc 7488), below 11 km.
Heights are geopotential metres unless a name says otherwise; up to 3000 m above the sea the geometric height
(an ``elevation_m``) differs by less than 1.5 m.
"""

import math

SEA_LEVEL_HPA = 1013.25
SEA_LEVEL_K = 288.15
SEA_LEVEL_KG_M3 = 1.225
LAPSE_K_PER_M = 0.0065
GRAVITY_M_S2 = 9.80665
AIR_J_PER_KG_K = 287.05287
RATIO_OF_SPECIFIC_HEATS = 1.4
EARTH_RADIUS_M = 6_356_766.0
ZERO_CELSIUS_K = 273.15

# Exponent of temperature over pressure, 0.190263.
_EXPONENT = AIR_J_PER_KG_K * LAPSE_K_PER_M / GRAVITY_M_S2
# One less the ratio of the molar masses of water and dry air (18.01528 and 28.96442 kg/kmol).
_WATER_LIGHTER_BY = 1 - 18.01528 / 28.964420


def geopotential_m(elevation_m: float) -> float:
    """The geopotential height of a geometric one, r·h/(r + h). Source: ISO 2533."""
    return EARTH_RADIUS_M * elevation_m / (EARTH_RADIUS_M + elevation_m)


def standard_temperature_k(height_m: float) -> float:
    """Temperature of the standard atmosphere; ValueError outside -5 to 11 km."""
    if not -5000 <= height_m <= 11_000:
        raise ValueError(f"the standard atmosphere is used from -5000 m to 11000 m, not at {height_m:g} m")
    return SEA_LEVEL_K - LAPSE_K_PER_M * height_m


def standard_pressure_hpa(height_m: float) -> float:
    """Pressure of the standard atmosphere; ValueError outside -5 to 11 km."""
    return SEA_LEVEL_HPA * float((standard_temperature_k(height_m) / SEA_LEVEL_K) ** (1 / _EXPONENT))


def standard_density_kg_m3(height_m: float) -> float:
    """Density of the standard atmosphere; ValueError outside -5 to 11 km."""
    return 100 * standard_pressure_hpa(height_m) / (AIR_J_PER_KG_K * standard_temperature_k(height_m))


def standard_height_m(pressure_hpa: float) -> float:
    """The height at which the standard atmosphere has this pressure: what an altimeter set to 1013.25 shows.

    Raises ValueError for a pressure outside 226 to 1800 hPa.
    """
    share = float((_pressure(pressure_hpa) / SEA_LEVEL_HPA) ** _EXPONENT)
    return SEA_LEVEL_K / LAPSE_K_PER_M * (1 - share)


def station_pressure_hpa(sea_level_hpa: float, elevation_m: float) -> float:
    """Pressure at a place from the pressure reduced to sea level, as weather reports for flying give it.

    The reduction is the altimeter's (QNH): the whole standard atmosphere is shifted in height until it has
    the reported pressure at sea level, whatever the temperature. ``elevation_m`` is geometric.
    Raises ValueError for a pressure or a height out of reach.
    """
    return standard_pressure_hpa(standard_height_m(sea_level_hpa) + geopotential_m(elevation_m))


def station_pressure_by_temperature_hpa(sea_level_hpa: float, elevation_m: float, temperature_c: float) -> float:
    """Pressure at a place from the pressure reduced to sea level by the temperature of the place, as weather maps do.

    The air below the place is taken to grow warmer by 6.5 K per km downwards: p = p0·exp(-g·h/(R·Tm)), with Tm in
    its middle. ``elevation_m`` is geometric. Source: the hypsometric equation, WMO-No. 8, part I, chapter 3.
    Raises ValueError outside -60 to 60 °C or for a pressure out of reach.
    """
    height = geopotential_m(elevation_m)
    middle_k = _temperature(temperature_c) + ZERO_CELSIUS_K + LAPSE_K_PER_M * height / 2
    return _pressure(sea_level_hpa) * math.exp(-GRAVITY_M_S2 * height / (AIR_J_PER_KG_K * middle_k))


def vapour_pressure_hpa(temperature_c: float) -> float:
    """Saturation vapour pressure over water by the Magnus formula (6.112 hPa, 17.62, 243.12 °C).

    Source: WMO-No. 8, Guide to Instruments and Methods of Observation.
    Raises ValueError outside -60 to 60 °C.
    """
    celsius = _temperature(temperature_c)
    return 6.112 * math.exp(17.62 * celsius / (243.12 + celsius))


def dew_point_c(temperature_c: float, relative_humidity_percent: float) -> float:
    """The temperature at which the air's own water condenses: the Magnus formula solved for it, in °C.

    Source: WMO-No. 8, as for ``vapour_pressure_hpa``; over water, below 0 °C as well, as humidity is reported.
    Raises ValueError for a temperature outside -60 to 60 °C, or a humidity of 0 or less or above 100 %.
    """
    if not 0 < relative_humidity_percent <= 100:
        raise ValueError(f"relative humidity {relative_humidity_percent:g} % is not above 0 and at most 100")
    celsius = _temperature(temperature_c)
    logarithm = math.log(relative_humidity_percent / 100) + 17.62 * celsius / (243.12 + celsius)
    return 243.12 * logarithm / (17.62 - logarithm)


def air_density_kg_m3(temperature_c: float, pressure_hpa: float, relative_humidity_percent: float = 0.0) -> float:
    """Density of moist air at the pressure of the place, as a mixture of ideal gases.

    Less than 0.1 % below the reference formula CIPM-2007. Raises ValueError for a temperature outside -60 to
    60 °C, a pressure outside 226 to 1800 hPa or a humidity outside 0 to 100 %.
    """
    if not 0 <= relative_humidity_percent <= 100:
        raise ValueError(f"relative humidity {relative_humidity_percent:g} % is not between 0 and 100")
    vapour_hpa = relative_humidity_percent / 100 * vapour_pressure_hpa(temperature_c)
    dry_equivalent_pa = 100 * (_pressure(pressure_hpa) - _WATER_LIGHTER_BY * vapour_hpa)
    return dry_equivalent_pa / (AIR_J_PER_KG_K * (temperature_c + ZERO_CELSIUS_K))


def metres_per_hpa(density_kg_m3: float) -> float:
    """How many metres of height change the pressure by 1 hPa: 100/(ρ·g), 8.32 m in the standard air at sea level.

    Raises ValueError for a density that is not above zero.
    """
    if not density_kg_m3 > 0:
        raise ValueError(f"an air density is above zero, not {density_kg_m3:g} kg/m³")
    return 100 / (density_kg_m3 * GRAVITY_M_S2)


def density_altitude_m(density_kg_m3: float) -> float:
    """The height at which the standard atmosphere is this thin.

    Raises ValueError for a density outside 0.364 to 2 kg/m³.
    """
    if not 0.363 <= density_kg_m3 <= 2:
        raise ValueError(f"an air density of {density_kg_m3:g} kg/m³ is not between 0.364 and 2")
    share = float((density_kg_m3 / SEA_LEVEL_KG_M3) ** (_EXPONENT / (1 - _EXPONENT)))
    return SEA_LEVEL_K / LAPSE_K_PER_M * (1 - share)


def speed_of_sound_m_s(temperature_c: float) -> float:
    """√(κ·R·T): depends on the temperature alone. Raises ValueError outside -60 to 60 °C."""
    kelvin = _temperature(temperature_c) + ZERO_CELSIUS_K
    return math.sqrt(RATIO_OF_SPECIFIC_HEATS * AIR_J_PER_KG_K * kelvin)


def tip_speed_m_s(diameter_m: float, speed_rpm: float) -> float:
    """Speed of the blade tips of a hovering rotor. Raises ValueError for no diameter or a speed below zero."""
    if not (diameter_m > 0 and speed_rpm >= 0):
        raise ValueError("a rotor has a diameter above zero and a speed of zero or more")
    return math.pi * diameter_m * speed_rpm / 60


def tip_mach(diameter_m: float, speed_rpm: float, temperature_c: float) -> float:
    """That speed over the speed of sound."""
    return tip_speed_m_s(diameter_m, speed_rpm) / speed_of_sound_m_s(temperature_c)


def _pressure(pressure_hpa: float) -> float:
    if not 226 <= pressure_hpa <= 1800:
        raise ValueError(f"an air pressure of {pressure_hpa:g} hPa is not between 226 and 1800")
    return pressure_hpa


def _temperature(temperature_c: float) -> float:
    if not -60 <= temperature_c <= 60:
        raise ValueError(f"an air temperature of {temperature_c:g} °C is not between -60 and 60")
    return temperature_c
