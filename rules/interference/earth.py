"""The Earth's field at the site, and how far what is measured of it may be from it."""

from __future__ import annotations

from collections.abc import Iterator

from preflint.api import (
    DESK,
    SETTINGS,
    Absent,
    Context,
    Field,
    Figure,
    Open,
    Tolerance,
    Unproven,
    figure,
    need,
)
from preflint.arrays import np
from preflint.compute.geomagnetism import Field as EarthField
from preflint.compute.geomagnetism import decimal_year, geomagnetic_field
from preflint.compute.least_squares import Array

FIELD_STRENGTH = Tolerance(
    "field_strength_percent",
    "%",
    15.0,
    "lower",
    "common practice, no source",
    "how far the strength of the field measured may be from that of the model at the site",
)
ANY_IRON = 4.0  # more than iron on board bends the field, less than any mistaken unit; common practice, no source
# The field on Earth goes from 22 to 67 µT (World Magnetic Model).
ANYWHERE_UT = 22 / ANY_IRON, 67 * ANY_IRON
UNIT_HOW = "look in the logger's settings in what unit it logs, and name the columns _ut or _mgauss by that"
_WORST_CONDITION = 100.0  # of a soft-iron matrix: no iron stretches a field so far


def earth_field(on: Context) -> EarthField:
    """The model field at the site on the day judged at. Ends the rule as unproven without a site."""
    site = on.aircraft.site
    latitude, longitude = need(site.latitude_deg).value, need(site.longitude_deg).value
    elevation = need(site.elevation_m).value
    try:
        return on.once(geomagnetic_field, latitude, longitude, elevation, decimal_year(on.judged_on))
    except ValueError as why:
        raise Open(
            Unproven(
                place=site.place,
                message=f"no field is known at the site: {why}",
                do="judge at a date that the model covers",
                mind=DESK,
            )
        ) from why


def is_strong_as_earth(shown_ut: float, total_ut: float) -> bool:
    """Whether a field shown may be the Earth's in µT at all, whatever iron the aircraft has."""
    return total_ut / ANY_IRON <= shown_ut <= total_ut * ANY_IRON


def soft_iron_matrix(field: Field[tuple[tuple[float, ...], ...]]) -> Array:
    """A soft-iron matrix (3, 3), none where none is recorded. Ends the rule as unproven where it can be no such."""
    if isinstance(field, Absent):
        return np.eye(3)
    values = np.array(field.value)
    if not (np.linalg.det(values) > 0 and np.linalg.cond(values) < _WORST_CONDITION):
        message = "the soft_iron matrix flattens or mirrors the field: nothing is right after it"
        how = "read the 3 by 3 matrix in the flight controller's settings again, row by row"
        raise Open(Unproven(cause="uncertain", place=field.place, message=message, do=how, mind=SETTINGS))
    return values


@figure("earth-field")
def field_figures(on: Context) -> Iterator[Figure]:
    """The Earth's field at the site on the day judged at, by the World Magnetic Model."""
    field, place = earth_field(on), on.aircraft.site.place
    yield Figure("field_total_ut", None, field.total_ut, field.u_total_ut, "µT", None, place)
    yield Figure("field_horizontal_ut", None, field.horizontal_ut, field.u_horizontal_ut, "µT", None, place)
    yield Figure("field_inclination_deg", None, field.inclination_deg, field.u_inclination_deg, "deg", None, place)
    yield Figure("field_declination_deg", None, field.declination_deg, field.u_declination_deg, "deg", None, place)
