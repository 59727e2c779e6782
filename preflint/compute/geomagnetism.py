"""The Earth's magnetic field at a place and date, and how far a disturbance turns a compass.

Source of the field: World Magnetic Model, NOAA NCEI and British Geological Survey; error model from the
technical reports of WMM2020 and WMM2025. Fields in microtesla (µT), north, east and down.
"""

from __future__ import annotations

import calendar
import math
from datetime import date
from functools import lru_cache
from typing import TYPE_CHECKING

from preflint.arrays import np
from preflint.frozen import dataclass

if TYPE_CHECKING:
    from numpy.typing import ArrayLike

FIRST_YEAR = 2020.0
LAST_YEAR = 2030.0


@dataclass(frozen=True, slots=True)
class Field:
    """The model field, with standard uncertainties (one sigma) by the error model.

    ``u_…`` covers what the model leaves out, chiefly the crust below; it does not cover steel nearby.
    Declination is positive to the east, inclination positive downwards, both in degrees.
    """

    total_ut: float
    horizontal_ut: float
    north_ut: float
    east_ut: float
    down_ut: float
    inclination_deg: float
    declination_deg: float
    u_total_ut: float
    u_horizontal_ut: float
    u_north_ut: float
    u_east_ut: float
    u_down_ut: float
    u_inclination_deg: float
    u_declination_deg: float


def decimal_year(day: date) -> float:
    """The date as a year and a fraction: 1 January is the whole number."""
    days_in_year = 366 if calendar.isleap(day.year) else 365
    return day.year + (day.timetuple().tm_yday - 1) / days_in_year


@lru_cache(maxsize=256)
def geomagnetic_field(latitude_deg: float, longitude_deg: float, elevation_m: float, decimal_year: float) -> Field:
    """The field by the World Magnetic Model in force at that date (WMM2020 or WMM2025).

    Latitude -90 to 90 (north positive), longitude -180 to 360 (east positive), elevation -1000 to
    850 000 m. The model counts height from the ellipsoid; taking it from sea level, up to 110 m off,
    changes the field by less than 0.005 µT.

    Raises ValueError for a place off the globe or a date that no model covers.
    """
    if not -90 <= latitude_deg <= 90:
        raise ValueError(f"latitude {latitude_deg:g}° is not between -90 and 90")
    if not -180 <= longitude_deg <= 360:
        raise ValueError(f"longitude {longitude_deg:g}° is not between -180 and 360")
    if not -1000 <= elevation_m <= 850_000:
        raise ValueError(f"elevation {elevation_m:.0f} m is not between -1000 and 850000")
    if not FIRST_YEAR <= decimal_year <= LAST_YEAR:
        raise ValueError(
            f"no World Magnetic Model at hand for {decimal_year:.3f}; "
            f"those at hand run from {FIRST_YEAR} to {LAST_YEAR}"
        )
    # Loaded for an aircraft that relies on its compass.
    from pygeomag import GeoMag  # type: ignore[import-untyped]
    from pygeomag.wmm.wmm_2020 import WMM_2020  # type: ignore[import-untyped]
    from pygeomag.wmm.wmm_2025 import WMM_2025  # type: ignore[import-untyped]

    coefficients = WMM_2025 if decimal_year >= 2025 else WMM_2020
    # A GeoMag keeps scratch space, so one object must not serve two threads: each call has its own.
    model = GeoMag(coefficients_data=coefficients)
    at = model.calculate(latitude_deg, longitude_deg, elevation_m / 1000, decimal_year)
    u = at.calculate_uncertainty()
    return Field(
        total_ut=at.f / 1000,
        horizontal_ut=at.h / 1000,
        north_ut=at.x / 1000,
        east_ut=at.y / 1000,
        down_ut=at.z / 1000,
        inclination_deg=at.i,
        declination_deg=at.d,
        u_total_ut=u.f / 1000,
        u_horizontal_ut=u.h / 1000,
        u_north_ut=u.x / 1000,
        u_east_ut=u.y / 1000,
        u_down_ut=u.z / 1000,
        u_inclination_deg=u.i,
        u_declination_deg=u.d,
    )


def horizontal_disturbance_ut(disturbance_ut: ArrayLike, tilt_deg: float) -> float:
    """The largest horizontal part (µT) of a disturbance, over all ways of tilting the aircraft so far.

    ``disturbance_ut``: shape (3,), body axes forward, right, down. Tilting by ``tilt_deg`` can bring up to
    that much of the vertical part into the horizontal plane. It moves by no more than the disturbance
    does, so a ball of radius r around the disturbance widens it by r at most.

    Raises ValueError for a wrong shape, numbers that are not finite or a tilt outside 0 to 90.
    """
    x, y, z = _three(disturbance_ut)
    if not 0 <= tilt_deg <= 90:
        raise ValueError(f"tilt {tilt_deg:g}° is not between 0 and 90")
    from_vertical_deg = math.degrees(math.atan2(math.hypot(x, y), abs(z)))
    return math.hypot(x, y, z) * math.sin(math.radians(min(90.0, from_vertical_deg + tilt_deg)))


def deviation_deg(horizontal_disturbance_ut: float, horizontal_ut: float) -> float:
    """The largest error of heading (degrees), over all headings, from a disturbance fixed to the aircraft.

    A disturbance as large as the horizontal field can turn the compass right round: 180, "meaningless".

    Raises ValueError for a disturbance below zero or a field that is not above zero.
    """
    if not (math.isfinite(horizontal_disturbance_ut) and horizontal_disturbance_ut >= 0):
        raise ValueError("a horizontal disturbance is a finite number, zero or more")
    if not (math.isfinite(horizontal_ut) and horizontal_ut > 0):
        raise ValueError("the horizontal field must be a finite number above zero")
    if horizontal_disturbance_ut >= horizontal_ut:
        return 180.0
    return math.degrees(math.asin(horizontal_disturbance_ut / horizontal_ut))


def heading_error_deg(disturbance_ut: ArrayLike, horizontal_ut: float, tilt_deg: float) -> float:
    """The largest error of heading (degrees) from a disturbance (3,) in body axes, level (0) or tilted.

    Raises ValueError as :func:`horizontal_disturbance_ut` and :func:`deviation_deg` do.
    """
    return deviation_deg(horizontal_disturbance_ut(disturbance_ut, tilt_deg), horizontal_ut)


def _three(vector: ArrayLike) -> tuple[float, float, float]:
    values = np.asarray(vector, dtype=float)
    if values.shape != (3,) or not np.all(np.isfinite(values)):
        raise ValueError("a field vector needs three finite numbers")
    return float(values[0]), float(values[1]), float(values[2])
