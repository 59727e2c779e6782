"""Does the place of the weight leave every rotor something to steer with?"""

from collections.abc import Iterator

from preflint.api import (
    CAUTION,
    PACK_UNPLUGGED,
    Aircraft,
    Clear,
    Context,
    Figure,
    Finding,
    Job,
    NotApplicable,
    Outcome,
    Related,
    Tolerance,
    Unproven,
    figure,
    name,
    rule,
)
from preflint.compute.lift import weight_at
from preflint.compute.zonotope import even_shares

from .balance import BALANCED, HOW, balance, flat_places_mm
from .thrust import THRUST, thrust_to_weight
from .trim import decide_share, rotors_give, towards, trim

TRIM_SHARE = Tolerance(
    "trim_share_percent",
    "%",
    80.0,
    "lower",
    "common practice, no source",
    "what one rotor may give of its greatest thrust to hold the aircraft level, at the lowest voltage flown",
)


@figure("balance")
def balance_figures(on: Context) -> Iterator[Figure]:
    """The centre of mass, forward and right of the centre of the rotors, and what every rotor gives at hover.

    ``hover_share``: of each rotor its part of the greatest thrust that a full pack gives in the site's air, the load
    shared as evenly as can be; left out where one rotor would have to pull down. ``trim_share``: as
    ``mass/trim-share`` judges it.
    """
    held = balance(on)
    for axis, case in enumerate(("forward", "right")):
        yield Figure(
            "centre_of_mass", case, float(held.centre[axis]), float(held.u[axis]), "mm", None, held.record.place
        )
    lift, places = thrust_to_weight(on), flat_places_mm(on.aircraft)
    fresh = lift.each_g * lift.full.value / lift.lowest.value
    gives, yaw = rotors_give(on.aircraft, fresh, places)
    shares = even_shares(gives, weight_at(held.centre, lift.mass.value, yaw))
    for one, share in zip(on.aircraft.rotors, () if shares is None else shares, strict=shares is not None):
        u = float(share) * lift.full.u / lift.full.value
        yield Figure("hover_share", "full", float(share), u, "1", name(one), held.record.place)
    found = trim(on).share
    if found.value < float("inf"):
        yield Figure("trim_share", "lowest-voltage", found.value, found.u, "1", None, held.record.place)


@rule(
    "mass/trim-share",
    each="aircraft",
    severity=CAUTION,
    job=Job.MECHANICAL,
    precaution=PACK_UNPLUGGED,
    source="statics (sums of forces and moments); the limit is common practice, no source",
    tolerances=(TRIM_SHARE, *BALANCED, *THRUST),
)
def trim_share(aircraft: Aircraft, on: Context) -> Outcome:
    """Does the place of the weight leave every rotor something to steer with?

    A camera far out in front, a pack that slid back: two rotors carry most of it, run hot, and have little left where
    a gust asks for more. What they lack the aircraft answers by tipping over towards them.

    Reasoning: the centre of mass by the latest `balance_point`, Σ m x / Σ m. All ways to share the weight so that
    neither pitch, roll nor torque is left over are looked at, and that is taken which asks least of the hardest worked
    rotor; its thrust over its greatest at the lowest voltage flown (see `mass/lifts`) is judged. Found above 80 %
    (`trim_share_percent`) by more than U: scales 1 %, supports 2 mm, and what thrust and weight are not known by.
    Where the same weight in the centre would ask for as much, mass/margin tells it.

    Fails:

        aircraft: {name: Trial, layout: quad-x, arm_mm: 300, takeoff_mass_g: 1950}
        site: {elevation_m: 200, temperature_c: 15}
        packs: [{label: A1, chemistry: lipo, cells: 4}]
        every_rotor: {motor: {max_thrust_g: 1300}}
        records:
          balance_point:
            - {date: 2026-05-16, columns: [forward_mm, mass_g], rows: [[200, 1725], [-200, 225]]}

    Passes: the same with

        records:
          balance_point:
            - {date: 2026-05-16, columns: [forward_mm, mass_g], rows: [[200, 1010], [-200, 940]]}

    It does not check how high or low the weight sits, tilted rotors, nor load that swings.
    """
    told, limit = trim(on), on.limit(TRIM_SHARE) / 100
    if told.centred > limit:
        return NotApplicable("the weight asks for as much wherever it is: see mass/margin")
    evidence = f"{told.evidence}; at most {100 * limit:g} %"
    related = (Related(told.lift.place, "the greatest thrust recorded"),)
    beyond = decide_share(told.share, 1.0)
    decision = decide_share(told.share, limit)
    if decision == "clear":
        return Clear(evidence)
    if beyond == "found":
        return NotApplicable("said by authority/level")
    if decision == "found":
        who = " and ".join(told.hardest[:2]) or "one rotor"
        return Finding(
            place=told.balance.record.place,
            message=f"{who} must give {100 * told.share.value:.0f} % of all they have to hold it level",
            evidence=evidence,
            do=f"move pack or payload {towards(told.balance.centre)}, and weigh on the scales again",
            related=related,
            record="balance_point",
        )
    if told.also_centred(limit):
        return NotApplicable("as uncertain with the weight in the centre: see mass/margin")
    return Unproven(
        cause="uncertain",
        place=told.balance.record.place,
        message="how much the hardest worked rotor gives is too uncertain to tell",
        do=told.lift.asks or f"move pack or payload {towards(told.balance.centre)}; then {HOW}",
        evidence=evidence,
        related=related,
        record=None if told.lift.asks else "balance_point",
    )

