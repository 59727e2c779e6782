"""Gravity at a place: what an accelerometer at rest must show."""

import math

# NGA.STND.0036, World Geodetic System 1984: equator, Somigliana's k, first eccentricity squared.
_EQUATOR_M_S2 = 9.7803253359
_SOMIGLIANA_K = 0.00193185265246
_ECCENTRICITY_SQUARED = 0.00669437999014
_SEMI_MAJOR_M = 6_378_137.0
_FLATTENING = 1 / 298.257223563
_CENTRIFUGAL = 0.00344978650684


def normal_gravity_m_s2(latitude_deg: float, elevation_m: float = 0.0) -> float:
    """Normal gravity of WGS 84 by Somigliana's closed formula, with the second-order correction for height.

    The real value differs by less than 0.001 m/s² nearly everywhere.
    Raises ValueError for a latitude beyond 90° or an elevation outside -1000 to 10 000 m.
    """
    if not -90 <= latitude_deg <= 90:
        raise ValueError(f"latitude {latitude_deg:g}° is not between -90 and 90")
    if not -1000 <= elevation_m <= 10_000:
        raise ValueError(f"elevation {elevation_m:.0f} m is not between -1000 and 10000")
    s2 = math.sin(math.radians(latitude_deg)) ** 2
    at_ellipsoid = _EQUATOR_M_S2 * (1 + _SOMIGLIANA_K * s2) / math.sqrt(1 - _ECCENTRICITY_SQUARED * s2)
    h = elevation_m / _SEMI_MAJOR_M
    return at_ellipsoid * (1 - 2 * (1 + _FLATTENING + _CENTRIFUGAL - 2 * _FLATTENING * s2) * h + 3 * h * h)
