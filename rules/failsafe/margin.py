"""What the link has to spare at the planned distance, by the range test."""

from collections.abc import Iterator

from preflint.api import Aircraft, Context, Figure, Known, Open, Place, Tolerance, Unproven, figure, need, records
from preflint.compute.decision import u_rectangular
from preflint.compute.radio import (
    break_point_m,
    free_space_loss_db,
    fresnel_radius_m,
    full_power_reach_m,
    link_margin_db,
)
from preflint.frozen import dataclass

WITHIN = Tolerance(
    "link_margin_within",
    "dB",
    2.0,
    "higher",
    "common practice, no source (paces within 10 %, the reduction within 1 dB, a hand beside the antenna)",
    "how far the margin worked out from a range test may be wrong",
)
HOW = (
    "set the transmitter to reduced power, walk away with it and note how far control is complete; turn the aircraft "
    "round once at that distance; write the range_test with reduced_by_db"
)
# How high transmitter and aircraft are in the test, by how it is taken.
_PILOT_M, _AIRCRAFT_M = 1.5, 1.0


@dataclass(frozen=True, slots=True)
class Margin:
    """``db``: to spare at the planned distance; ``reach_m``: where nothing is left, at full power and in free space."""

    test: records.RangeTest
    held_m: float
    reduced_db: float
    planned: Known[float]
    db: float
    reach_m: float
    place: Place

    @property
    def words(self) -> str:
        """What it was worked out from."""
        return (
            f"control held at {self.held_m:g} m with the power reduced by {self.reduced_db:g} dB; planned "
            f"{self.planned.value:g} m: {self.db:+.1f} dB, nothing left at {self.reach_m:.0f} m"
        )


def margin(aircraft: Aircraft, test: records.RangeTest) -> Margin:
    """Ends the rule as unproven where something is missing, or where control did not hold."""
    held, distance, planned = need(test.control_held), need(test.distance_m), need(aircraft.plan.farthest_m)
    if not held.value:
        raise Open(
            Unproven(
                place=held.place,
                message=f"control did not hold in the range test of {test.date.value}: it shows no margin",
                do=HOW,
                record="range_test",
            )
        )
    at_full = isinstance(test.reduced_power, Known) and not test.reduced_power.value
    reduced = 0.0 if at_full else need(test.reduced_by_db).value
    near, far = max(distance.value, 0.1), max(planned.value, 1.0)  # of nothing there is no logarithm
    place = distance.place if at_full else need(test.reduced_by_db).place
    return Margin(
        test, distance.value, reduced, planned, link_margin_db(reduced, near, far), full_power_reach_m(reduced, near),
        place,
    )  # fmt: skip


@figure("link")
def link_figures(on: Context) -> Iterator[Figure]:
    """What the latest range test tells of the link, and of the way to the farthest place that is planned.

    The margin in free space with `link_margin_within` as a bound, a/√3. Where the frequency is recorded: the loss over
    the planned distance, the radius of the first Fresnel ellipsoid in the middle of it, and the distance beyond which
    the ray off the ground puts out the direct one in the test, the aircraft 1 m and the transmitter 1.5 m high. A test
    farther than that is on the careful side.
    """
    test, planned = on.latest(on.aircraft.records.range_test), on.aircraft.plan.farthest_m
    if test is None:
        return
    if isinstance(test.frequency_mhz, Known):
        mhz, place = test.frequency_mhz.value, test.frequency_mhz.place
        yield Figure("link_break_point_m", None, break_point_m(mhz, _PILOT_M, _AIRCRAFT_M), None, "m", None, place)
        if isinstance(planned, Known) and planned.value > 0:
            far = planned.value
            yield Figure("free_space_loss_db", None, free_space_loss_db(mhz, far), None, "dB", None, place)
            yield Figure("fresnel_radius_m", None, fresnel_radius_m(mhz, far), None, "m", None, place)
    found = on.once(margin, on.aircraft, test)
    yield Figure("link_margin_db", None, found.db, u_rectangular(on.limit(WITHIN)), "dB", None, found.place)
    yield Figure("link_reach_m", None, found.reach_m, None, "m", None, found.place)
