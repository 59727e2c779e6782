"""How far apart two places are, and which way, on the ellipsoid of WGS 84.

Source of the figure: NGA.STND.0036, World Geodetic System 1984. Heights are left out: both places lie on it.
"""

from math import asin, cos, hypot, radians, sin, sqrt

_SEMI_MAJOR_M = 6_378_137.0
_FLATTENING = 1 / 298.257223563
_ECCENTRICITY_SQUARED = _FLATTENING * (2 - _FLATTENING)


def meridian_radius_m(latitude_deg: float) -> float:
    """Radius M of the meridian's curve: one radian of latitude is so many metres here.

    Raises ValueError for a latitude beyond 90°.
    """
    s2 = sin(radians(_latitude(latitude_deg))) ** 2
    w2 = 1 - _ECCENTRICITY_SQUARED * s2
    return _SEMI_MAJOR_M * (1 - _ECCENTRICITY_SQUARED) / (w2 * sqrt(w2))


def normal_radius_m(latitude_deg: float) -> float:
    """Radius N across the meridian: one radian of longitude is N·cos(latitude) metres here.

    Raises ValueError for a latitude beyond 90°.
    """
    s2 = sin(radians(_latitude(latitude_deg))) ** 2
    return _SEMI_MAJOR_M / sqrt(1 - _ECCENTRICITY_SQUARED * s2)


def north_east_m(from_deg: tuple[float, float], to_deg: tuple[float, float]) -> tuple[float, float]:
    """How far north and east of one place (latitude, longitude; degrees) another one lies, in m.

    By the straight line through the Earth, which knows no date line and no pole, turned into north and east at the
    first place and stretched to the arc. Up to some kilometres it is exact to a millimetre; half-way round the Earth
    it is up to 5 % out. Raises ValueError for a latitude beyond 90°.
    """
    start, end = _on_ellipsoid(from_deg), _on_ellipsoid(to_deg)
    x, y, z = (there - here for here, there in zip(start, end, strict=True))
    latitude, longitude = radians(from_deg[0]), radians(from_deg[1])
    outward = cos(longitude) * x + sin(longitude) * y
    east = cos(longitude) * y - sin(longitude) * x
    north = cos(latitude) * z - sin(latitude) * outward
    level, straight = hypot(north, east), sqrt(x * x + y * y + z * z)
    if level == 0:
        return 0.0, 0.0
    # Of the ellipsoid the sphere that fits best here; an arc over its chord differs by d²/(24·R²).
    radius = sqrt(meridian_radius_m(from_deg[0]) * normal_radius_m(from_deg[0]))
    arc = 2 * radius * asin(min(1.0, straight / (2 * radius)))
    return north * arc / level, east * arc / level


def distance_m(from_deg: tuple[float, float], to_deg: tuple[float, float]) -> float:
    """Over the ground between two places (latitude, longitude; degrees), in m: see :func:`north_east_m`."""
    return hypot(*north_east_m(from_deg, to_deg))


def _on_ellipsoid(place_deg: tuple[float, float]) -> tuple[float, float, float]:
    """From the middle of the Earth toward 0° 0°, toward 0° 90° east and toward the north pole, in m."""
    latitude, longitude = radians(_latitude(place_deg[0])), radians(place_deg[1])
    normal = normal_radius_m(place_deg[0])
    level = normal * cos(latitude)
    return level * cos(longitude), level * sin(longitude), normal * (1 - _ECCENTRICITY_SQUARED) * sin(latitude)


def _latitude(latitude_deg: float) -> float:
    if not -90 <= latitude_deg <= 90:
        raise ValueError(f"latitude {latitude_deg:g}° is not between -90 and 90")
    return latitude_deg
