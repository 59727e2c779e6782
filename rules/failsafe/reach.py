"""Does the link reach as far as is planned, and with something to spare?"""

import math

from preflint.api import (
    CAUTION,
    NO_GO,
    PROPS_REMOVED,
    Absent,
    Aircraft,
    Clear,
    Context,
    Finding,
    Job,
    NotApplicable,
    Outcome,
    Related,
    Tolerance,
    Unproven,
    rule,
)

from .margin import HOW, WITHIN, Margin, margin

LEAST = Tolerance(
    "link_margin",
    "dB",
    10.0,
    "higher",
    "common practice, no source (nulls of the antennas, the airframe in between)",
    "what the link must have to spare at the planned distance",
)
NOTHING_LEFT = Tolerance(
    "link_margin_nothing_left",
    "dB",
    0.0,
    "higher",
    "derived: below it the receiver has less than in the test that only just held",
    "with less to spare than this the link is lost before the planned distance",
)


@rule(
    "failsafe/link-reach",
    each="aircraft",
    severity=NO_GO,
    job=Job.PROPS_OFF,
    precaution=PROPS_REMOVED,
    source="Recommendation ITU-R P.525 (free space)",
    tolerances=(NOTHING_LEFT, LEAST, WITHIN),
)
def link_reach(aircraft: Aircraft, on: Context) -> Outcome:
    """Does the link reach as far as is planned?

    Flown farther than the link reaches, the aircraft is on its own: it comes home, lands in somebody's garden or falls,
    by what was set. A range test at reduced power tells how far full power reaches, before anybody flies there.

    Reasoning: reduced by R dB (`reduced_by_db`) control held at `distance_m`; full power has R dB more, and over a
    distance free space takes 20·log10 of it. Left at the planned distance: R + 20·log10(held/planned) dB, within
    `link_margin_within`. Found where even the better end is below zero. A test at full power has R = 0.

    Fails:

        plan: {farthest_m: 500}
        records:
          range_test: [{date: 2026-05-20, distance_m: 30, reduced_power: true, reduced_by_db: 20, control_held: true}]

    Passes: the same with

        plan: {farthest_m: 150}

    It does not check hills, trees, buildings and other transmitters: all of them take more than free space does. A test
    on the ground beyond the break point of the ray off the ground (2.4 GHz, aircraft 1 m high: 150 m) is on the
    careful side, a nearer one may flatter by up to 6 dB.
    """
    found = _found(aircraft, on)
    if isinstance(found, NotApplicable):
        return found
    least, within = on.limit(NOTHING_LEFT), on.limit(WITHIN)
    if found.db + within < least:
        short = f"the link is {abs(found.db):.0f} dB short at the planned {found.planned.value:g} m"
        return _too_little(on, found, least, short)
    if found.db - within < least:
        return _cannot_tell(found, within, "whether the link reaches the planned distance is too uncertain to tell")
    return Clear(_evidence(found, within, least))


@rule(
    "failsafe/link-margin",
    each="aircraft",
    severity=CAUTION,
    job=Job.PROPS_OFF,
    precaution=PROPS_REMOVED,
    source="Recommendation ITU-R P.525 (free space); the limit is common practice, no source",
    tolerances=(LEAST, NOTHING_LEFT, WITHIN),
)
def link_margin(aircraft: Aircraft, on: Context) -> Outcome:
    """Does the link have something to spare at the planned distance?

    An antenna that points at its own null, a battery or a pilot in between, and 10 dB are gone for a second. A link
    with nothing to spare is lost in that second; one with ten decibels reaches three times as far in free space.

    Reasoning: as failsafe/link-reach: R + 20·log10(held/planned) dB, within `link_margin_within`, against
    `link_margin`. Found below it, clear above, else too uncertain to tell. With nothing left at all
    failsafe/link-reach says so.

    Fails:

        plan: {farthest_m: 300}
        records:
          range_test: [{date: 2026-05-20, distance_m: 40, reduced_power: true, reduced_by_db: 20, control_held: true}]

    Passes: the same with

        records:
          range_test: [{date: 2026-05-20, distance_m: 40, reduced_power: true, reduced_by_db: 30, control_held: true}]

    It does not check in which attitude the antennas see each other worst: turn the aircraft round in the test.
    """
    found = _found(aircraft, on)
    if isinstance(found, NotApplicable):
        return found
    least, within = on.limit(LEAST), on.limit(WITHIN)
    if found.db + within < on.limit(NOTHING_LEFT):
        return NotApplicable("the link does not reach as far as is planned, which is told already")
    if found.db + within < least:
        words = f"only {found.db:.0f} dB" if found.db > 0 else "nothing"
        return _too_little(on, found, least, f"the link has {words} to spare at the planned {found.planned.value:g} m")
    if found.db - within < least:
        return _cannot_tell(found, within, f"whether the link has {least:g} dB to spare is too uncertain to tell")
    return Clear(_evidence(found, within, least))


def _found(aircraft: Aircraft, on: Context) -> Margin | NotApplicable:
    """What the test that speaks shows. Ends the rule as unproven where none does, or something is missing."""
    if isinstance(aircraft.plan.farthest_m, Absent) and not aircraft.records.range_test:
        return NotApplicable("neither a planned distance nor a range test is recorded")
    return on.once(margin, aircraft, on.freshest("range_test", aircraft.records.range_test, HOW))


def _evidence(found: Margin, within: float, least: float) -> str:
    return f"{found.words}; ± {within:g} dB, at least {least:g} dB"


def _too_little(on: Context, found: Margin, least: float, message: str) -> Finding:
    spare, within = on.limit(LEAST), on.limit(WITHIN)
    nearer = math.floor(found.reach_m / 10 ** ((spare + within) / 20))
    return Finding(
        place=found.planned.place,
        message=message,
        evidence=_evidence(found, within, least),
        do=f"plan no farther than {nearer} m, where {spare:g} dB are left; or look how both antennas lie, and test the "
        "range again",
        related=(Related(found.place, "the range test"),),
    )


def _cannot_tell(found: Margin, within: float, message: str) -> Unproven:
    return Unproven(
        cause="uncertain",
        place=found.planned.place,
        message=message,
        do=f"repeat it from farther away, or plan nearer: {HOW}",
        record="range_test",
        evidence=f"{found.words}; ± {within:g} dB",
        related=(Related(found.place, "the range test"),),
    )
