"""How far two places are apart."""

from math import asin, cos, hypot, radians, sin

EARTH_RADIUS_M = 6371008.8  # mean radius of the Earth, IUGG


def distance_m(from_deg: tuple[float, float], to_deg: tuple[float, float]) -> float:
    """Along the great circle between two places (latitude, longitude; degrees), in m.

    By half chords, which keep their digits at small distances. The Earth is taken as a sphere: 0.6 % at most.
    """
    (latitude, longitude), (latitude_to, longitude_to) = (tuple(map(radians, place)) for place in (from_deg, to_deg))
    north = sin((latitude_to - latitude) / 2)
    east = sin((longitude_to - longitude) / 2) * (cos(latitude) * cos(latitude_to)) ** 0.5
    return 2 * EARTH_RADIUS_M * asin(min(1.0, hypot(north, east)))
