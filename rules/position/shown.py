"""The position shown: how far it is from the place, how well both are known, and how far it wandered."""

from __future__ import annotations

from collections.abc import Iterator
from math import hypot, inf
from typing import TYPE_CHECKING

from preflint.api import (
    Absent,
    Aircraft,
    Context,
    Figure,
    Known,
    NotFitted,
    Open,
    Place,
    Table,
    Tolerance,
    figure,
    need,
    not_recorded,
    records,
)
from preflint.arrays import np
from preflint.compute.decision import t_factor, u_rectangular
from preflint.compute.distance import north_east_m
from preflint.frozen import dataclass

if TYPE_CHECKING:
    from numpy.typing import NDArray

RANGE_ERROR = Tolerance(
    "satellite_range_error",
    "m",
    4.0,
    "higher",
    "common practice, no source (one frequency, open sky)",
    "how well the distance to one satellite is known: standard uncertainty, which HDOP multiplies",
)


@dataclass(frozen=True, slots=True)
class Away:
    """From the place to the position shown: metres north and east, and the standard uncertainty of their length.

    ``latitude`` and ``longitude``: of the place as written. ``shown``: degrees; ``at``: where that is written.
    """

    latitude: Known[float]
    longitude: Known[float]
    shown: tuple[float, float]
    at: Place
    north_m: float
    east_m: float
    u_m: float

    @property
    def metres(self) -> float:
        return hypot(self.north_m, self.east_m)


@dataclass(frozen=True, slots=True)
class Wander:
    """How far a row lies from the mean of all at most, and by how much its last digit may hide or feign, in m."""

    metres: float
    digit_m: float
    rows: int


def away(check: records.PositionCheck, aircraft: Aircraft, range_error_m: float) -> Away:
    """The position as written, else the mean of the rows. Ends the rule as unproven where something is missing."""
    own = _u_of_receiver(check, aircraft, range_error_m)
    known = need(check.reference.accuracy_m)
    latitude, longitude = _place(check, aircraft)
    place = latitude.value, longitude.value
    u = hypot(own, u_rectangular(known.value))
    by_hand = isinstance(check.shown_latitude_deg, Known) or isinstance(check.shown_longitude_deg, Known)
    if isinstance(check.table, Known) and not by_hand:
        table = check.table.value
        north, east = map(float, _north_east(place, table).mean(axis=0))
        last = float(table.column("latitude_deg")[-1]), float(table.column("longitude_deg")[-1])
        return Away(latitude, longitude, last, table.place, north, east, u)
    shown = need(check.shown_latitude_deg), need(check.shown_longitude_deg)
    north, east = north_east_m(place, (shown[0].value, shown[1].value))
    return Away(latitude, longitude, (shown[0].value, shown[1].value), shown[0].place, north, east, u)


def wander(check: records.PositionCheck) -> Wander:
    """Ends the rule as unproven where no rows are recorded."""
    table = need(check.table).value
    first = float(table.column("latitude_deg")[0]), float(table.column("longitude_deg")[0])
    each = _north_east(first, table)
    lengths = np.hypot(*(each - each.mean(axis=0)).T)
    # Half a last digit toward the equator, which every place has a little of.
    toward = -1 if first[0] > 0 else 1
    corner = (
        first[0] + toward * table.last_digit("latitude_deg") / 2,
        first[1] + table.last_digit("longitude_deg") / 2,
    )
    return Wander(float(lengths.max()), hypot(*north_east_m(first, corner)), len(lengths))


@figure("position")
def position_figures(on: Context) -> Iterator[Figure]:
    """How far the latest position check showed itself from the place, and how far its rows wandered about their mean.

    The uncertainty of the first is that of receiver and place, of the second that of the last digit.
    """
    check = on.latest(on.aircraft.records.position_check)
    if check is None or isinstance(on.aircraft.satellite_receiver, NotFitted):
        return
    if isinstance(check.table, Known):
        seen = on.once(wander, check)
        yield Figure("position_wander_m", None, seen.metres, u_rectangular(seen.digit_m), "m", None, check.place)
    found = on.once(away, check, on.aircraft, on.limit(RANGE_ERROR))
    yield Figure("position_error_m", None, found.metres, found.u_m, "m", None, check.place)


def relied_on(aircraft: Aircraft) -> bool:
    """Whether flight relies on position by satellite. Ends the rule as unproven where nobody says."""
    relies = aircraft.relies_on("satellite")
    if isinstance(relies, Absent):
        raise Open(not_recorded(relies))
    return relies


def _north_east(place: tuple[float, float], table: Table) -> NDArray[np.float64]:
    """Of each row, (rows, 2)."""
    rows = zip(table.column("latitude_deg"), table.column("longitude_deg"), strict=True)
    return np.array([north_east_m(place, (float(latitude), float(longitude))) for latitude, longitude in rows])


def _u_of_receiver(check: records.PositionCheck, aircraft: Aircraft, range_error_m: float) -> float:
    """By the dilution of the day: 2·HDOP·(error of a distance) holds 95 %; else by what its maker says of it."""
    if isinstance(check.hdop, Known):
        return 2 * check.hdop.value * range_error_m / t_factor(inf)
    receiver = aircraft.satellite_receiver
    assert not isinstance(receiver, NotFitted)
    return u_rectangular(need(need(receiver).value.accuracy_m).value)


def _place(check: records.PositionCheck, aircraft: Aircraft) -> tuple[Known[float], Known[float]]:
    """Latitude and longitude where it stood. Ends the rule as unproven where one of them is not recorded."""
    if isinstance(check.place_latitude_deg, Known) or isinstance(check.place_longitude_deg, Known):
        return need(check.place_latitude_deg), need(check.place_longitude_deg)
    return need(aircraft.site.latitude_deg), need(aircraft.site.longitude_deg)
