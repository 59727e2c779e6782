"""Does the aircraft show the place where it stands?"""

from preflint.api import (
    FIELD_CHECK,
    NO_GO,
    Aircraft,
    Clear,
    Context,
    Finding,
    Job,
    Known,
    NotApplicable,
    Outcome,
    Related,
    Tolerance,
    Unproven,
    records,
    rule,
)
from preflint.compute.decision import decide

from .shown import RANGE_ERROR, Away, away, relied_on

POSITION = Tolerance(
    "position_error",
    "m",
    30.0,
    "lower",
    "common practice, no source",
    "how far from the place where it stands the aircraft may show itself",
)
COLD_START = Tolerance(
    "cold_start_minutes",
    "min",
    5.0,
    "higher",
    "common practice, no source (orbits come within 30 s, the plan of all satellites within 12.5 min)",
    "how long a receiver is on before a position that is off tells anything",
)
_HOW = (
    "put the aircraft under open sky at a place on the map; wait until the position stands still; write it, the "
    "place and how well that is known in a position_check"
)


@rule(
    "position/where",
    each="aircraft",
    severity=NO_GO,
    job=Job.PACK_IN,
    precaution=FIELD_CHECK,
    source="WGS 84 (NGA.STND.0036); common practice, no source (the shown position is compared with a known one)",
    needed_for_flight=True,
    shown_by=records.PositionCheck,
    tolerances=(POSITION, RANGE_ERROR, COLD_START),
)
def where(aircraft: Aircraft, on: Context) -> Outcome:
    """Does the position by satellite agree with the place?

    An aircraft that holds its place or comes home by satellite flies to where it believes to be. With a position of
    another day, of another receiver, or one that is scattered by a wall or by its own transmitter, it drifts away or
    comes home to the wrong field.

    Error = distance on the ellipsoid of WGS 84 from the place where it stands (`place_latitude_deg`,
    `place_longitude_deg`; the site's where they are left out) to the position shown, in m; where only rows were
    written, to their mean. The receiver is as good as `satellite_range_error` times its `hdop` of the day, twice that
    for 95 %; without `hdop` as its maker says, `accuracy_m`, a bound: a/√3. How well the place is known
    (`reference.accuracy_m`) is a bound, too. They add in squares, and the 95 % bounds decide. A site that is written
    to two decimals is known to 600 m, which tells nothing.

    In the first minutes after a cold start (`minutes_on`) a position may be off with nothing wrong: it is read again.

    Fails:

        satellite_receiver: {accuracy_m: 3}
        records:
          position_check: [{date: 2026-05-20, shown_latitude_deg: 54.41235, shown_longitude_deg: -2.94421,
                            place_latitude_deg: 54.41235, place_longitude_deg: -2.94121, reference: {accuracy_m: 5}}]

    Passes: the same with

        records:
          position_check: [{date: 2026-05-20, shown_latitude_deg: 54.41237, shown_longitude_deg: -2.94118,
                            place_latitude_deg: 54.41235, place_longitude_deg: -2.94121, reference: {accuracy_m: 5}}]

    It does not check the height by satellite, a map on another datum than WGS 84 (up to some hundred metres off), nor
    the position in flight.
    """
    if not relied_on(aircraft):
        return NotApplicable("the aircraft does not rely on position by satellite")
    return on.tested("position_check", aircraft.records.position_check, lambda check: _shown(check, on), _HOW)


def _shown(check: records.PositionCheck, on: Context) -> Outcome:
    """What one position check shows by itself."""
    found = on.once(away, check, on.aircraft, on.limit(RANGE_ERROR))
    limit, soon = on.limit(POSITION), on.limit(COLD_START)
    decision = decide(found.metres, found.u_m, float("inf"), limit)
    evidence = (
        f"shown {found.shown[0]:.5f}, {found.shown[1]:.5f}; the place {found.latitude.value:.5f}, "
        f"{found.longitude.value:.5f}: {found.metres:.0f} m ± {1.96 * found.u_m:.0f} m (95 %), at most {limit:g} m"
    )
    if decision == "clear":
        return Clear(evidence)
    related = (Related(found.latitude.place, "the place"),)
    if isinstance(check.minutes_on, Known) and check.minutes_on.value < soon:
        return Unproven(
            cause="uncertain",
            place=check.minutes_on.place,
            message=f"the position was read {check.minutes_on.value:g} min after switching on: too soon to tell",
            do=f"leave the receiver on under open sky for {soon:g} min; then check again",
            record="position_check",
            evidence=evidence,
            related=related,
        )
    if decision == "found":
        return Finding(
            place=found.at,
            message=f"the aircraft shows itself {found.metres:.0f} m from where it stands",
            evidence=f"{evidence}; {_which_way(found)}",
            do="wait some minutes under open sky; compare latitude, longitude and their signs; if it stays wrong "
            "look at the receiver and its wires; check again",
            related=related,
        )
    return Unproven(
        cause="uncertain",
        place=found.at,
        message="the position check cannot tell whether the position is within the limit",
        do="read the place off a map to five decimals; write how well it is known; check again",
        record="position_check",
        evidence=evidence,
        related=related,
    )


def _which_way(found: Away) -> str:
    north, east = "north" if found.north_m > 0 else "south", "east" if found.east_m > 0 else "west"
    return f"{abs(found.north_m):.0f} m {north}, {abs(found.east_m):.0f} m {east} of it"
