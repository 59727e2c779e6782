"""Does the aircraft show the place where it stands?"""

from preflint.api import (
    FIELD_CHECK,
    NO_GO,
    Absent,
    Aircraft,
    Clear,
    Context,
    Finding,
    Job,
    Known,
    NotApplicable,
    NotFitted,
    Open,
    Outcome,
    Related,
    Tolerance,
    Unproven,
    need,
    not_recorded,
    records,
    rule,
)
from preflint.compute.decision import decide, u_rectangular
from preflint.compute.distance import distance_m

POSITION = Tolerance(
    "position_error",
    "m",
    30.0,
    "lower",
    "common practice, no source",
    "how far from the place where it stands the aircraft may show itself",
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
    source="common practice, no source (the shown position is compared with a known one before flight)",
    needed_for_flight=True,
    shown_by=records.PositionCheck,
    tolerances=(POSITION,),
)
def where(aircraft: Aircraft, on: Context) -> Outcome:
    """Does the position by satellite agree with the place?

    An aircraft that holds its place or comes home by satellite flies to where it believes to be. With a position of
    another day, of another receiver, or one that is scattered by a wall or by its own transmitter, it drifts away or
    comes home to the wrong field.

    Error = distance along the great circle from the place where it stands (`place_latitude_deg`,
    `place_longitude_deg`; the site's where they are left out) to the position shown, in m. How well the place is
    known (`reference.accuracy_m`) and the receiver's own accuracy have known bounds: a/√3 each, in squares, and the
    95 % bounds decide. A site that is written to two decimals is known to 600 m, which tells nothing.

    Fails:

        satellite_receiver: {accuracy_m: 3}
        records:
          position_check: [{date: 2026-05-20, shown_latitude_deg: 54.41235, shown_longitude_deg: -2.94421,
                            place_latitude_deg: 54.41235, place_longitude_deg: -2.94121, reference: {accuracy_m: 5}}]

    Passes: the same with

        records:
          position_check: [{date: 2026-05-20, shown_latitude_deg: 54.41237, shown_longitude_deg: -2.94118,
                            place_latitude_deg: 54.41235, place_longitude_deg: -2.94121, reference: {accuracy_m: 5}}]

    It does not check the height by satellite, how many satellites there were, nor the position in flight.
    """
    relies = aircraft.relies_on("satellite")
    if isinstance(relies, Absent):
        raise Open(not_recorded(relies))
    if not relies:
        return NotApplicable("the aircraft does not rely on position by satellite")
    return on.tested("position_check", aircraft.records.position_check, lambda check: _shown(check, on), _HOW)


def _shown(check: records.PositionCheck, on: Context) -> Outcome:
    """What one position check shows by itself."""
    receiver = on.aircraft.satellite_receiver
    if isinstance(receiver, NotFitted):
        return NotApplicable("no satellite receiver is fitted")
    own, known = need(need(receiver).value.accuracy_m), need(check.reference.accuracy_m)
    place = _place(check, on.aircraft)
    shown = (check.shown_latitude_deg.value, check.shown_longitude_deg.value)
    error, limit = distance_m((place[0].value, place[1].value), shown), on.limit(POSITION)
    u = (u_rectangular(own.value) ** 2 + u_rectangular(known.value) ** 2) ** 0.5
    decision = decide(error, u, float("inf"), limit)
    evidence = (
        f"shown {shown[0]:.5f}, {shown[1]:.5f}; the place {place[0].value:.5f}, {place[1].value:.5f}: {error:.0f} m ± "
        f"{1.96 * u:.0f} m (95 %), at most {limit:g} m"
    )
    if decision == "clear":
        return Clear(evidence)
    related = (Related(place[0].place, "the place"),)
    if decision == "found":
        return Finding(
            place=check.shown_latitude_deg.place,
            message=f"the aircraft shows itself {error:.0f} m from where it stands",
            evidence=evidence,
            do="wait some minutes under open sky; compare latitude, longitude and their signs; if it stays wrong "
            "look at the receiver and its wires; check again",
            related=related,
        )
    return Unproven(
        cause="uncertain",
        place=check.shown_latitude_deg.place,
        message="the position check cannot tell whether the position is within the limit",
        do="read the place off a map to five decimals; write how well it is known; check again",
        record="position_check",
        evidence=evidence,
        related=related,
    )


def _place(check: records.PositionCheck, aircraft: Aircraft) -> tuple[Known[float], Known[float]]:
    """Latitude and longitude where it stood. Ends the rule as unproven where one of them is not recorded."""
    if isinstance(check.place_latitude_deg, Known) or isinstance(check.place_longitude_deg, Known):
        return need(check.place_latitude_deg), need(check.place_longitude_deg)
    return need(aircraft.site.latitude_deg), need(aircraft.site.longitude_deg)
