"""Can the rotors hold the aircraft level where its weight acts?"""

from __future__ import annotations

import math
from collections.abc import Iterator

from preflint.api import (
    NO_GO,
    PACK_UNPLUGGED,
    Aircraft,
    Clear,
    Context,
    Figure,
    Finding,
    Job,
    Known,
    NotApplicable,
    Outcome,
    Related,
    Unproven,
    figure,
    name,
    rule,
)
from preflint.compute.atmosphere import GRAVITY_M_S2
from preflint.compute.lift import TORQUE_PER_THRUST, thrust_and_moments, weight_at
from preflint.compute.zonotope import distance_to_limit, even_margin, with_each_gone

from ..mass.balance import BALANCED, HOW, flat_places_mm, off
from ..mass.thrust import THRUST, thrust_to_weight
from ..mass.trim import decide_share, towards, trim, yaw_arms

_MOST_ROTORS = 16  # of which each is tried stopped: with n of them the work goes with n to the fourth
_MM_PER_IN = 25.4


@figure("authority")
def authority_figures(on: Context) -> Iterator[Figure]:
    """What control is left while the weight is held in the centre of the rotors.

    With all rotors, and with each one stopped in turn where there are more than four. ``authority_margin`` has no
    unit: the part of each rotor's half range that is free on both sides, at the lowest voltage flown; zero or below
    where the aircraft cannot be held. ``authority_distance`` is the distance to the limit in N and N m (Du, Quan,
    Yang, Cai, 2015), the torque of a prop taken as 0.0646 of thrust times diameter (UIUC Propeller Database,
    10x4.7 in).
    """
    lift = thrust_to_weight(on)
    aircraft, signs = on.aircraft, yaw_arms(on.aircraft)
    if signs is None:
        return
    diameters = [one.prop.diameter_in for one in aircraft.rotors]
    widest = max((one.value for one in diameters if isinstance(one, Known)), default=0.0)
    sized = all(isinstance(one, Known) for one in diameters)
    yaw = signs * (TORQUE_PER_THRUST * widest * _MM_PER_IN / 1000 if sized else 1.0)
    gives = thrust_and_moments(flat_places_mm(aircraft) / 1000, lift.each_g / 1000 * GRAVITY_M_S2, yaw)
    asked = weight_at((0.0, 0.0), lift.mass.value / 1000 * GRAVITY_M_S2, True)
    whose: list[str | None] = [None]
    margins, distances = [even_margin(gives, asked)], [distance_to_limit(gives, asked)]
    if 4 < len(signs) <= _MOST_ROTORS:
        whose += [name(rotor) for rotor in aircraft.rotors]
        of_left = with_each_gone(gives, asked)
        margins, distances = [*margins, *of_left[0].tolist()], [*distances, *of_left[1].tolist()]
    for at, margin, distance in zip(whose, margins, distances, strict=True):
        case = "stopped" if at else "none-stopped"
        if math.isfinite(margin):
            yield Figure("authority_margin", case, margin, None, "1", at, lift.place)
        if sized:
            yield Figure("authority_distance", case, distance, None, "N, N m", at, lift.place)


@rule(
    "authority/level",
    each="aircraft",
    severity=NO_GO,
    job=Job.MECHANICAL,
    precaution=PACK_UNPLUGGED,
    source="statics; G. M. Ziegler, Lectures on Polytopes, 7.3; Du, Quan, Yang, Cai, J. Guid. Control Dyn. 38(5), 2015",
    tolerances=(*BALANCED, *THRUST),
)
def level(aircraft: Aircraft, on: Context) -> Outcome:
    """Can the rotors hold the aircraft level where its weight acts?

    With the weight too far out, the rotors on that side give all they have and the aircraft still tips over to it; it
    leaves the ground on its other legs, and turns over.

    Reasoning: as for `mass/trim-share`. Found where no way to share the weight leaves pitch, roll and torque in
    balance, or every way asks more than its greatest thrust of some rotor at the lowest voltage flown, by more than
    U. Where the weight in the centre would ask for as much, mass/lifts tells it, or mass/margin where that is in
    doubt. Where spin alone does not balance torque, as of three rotors, torque is left out.

    Fails:

        aircraft: {name: Trial, layout: quad-x, arm_mm: 300, takeoff_mass_g: 1950}
        site: {elevation_m: 200, temperature_c: 15}
        packs: [{label: A1, chemistry: lipo, cells: 4}]
        every_rotor: {motor: {max_thrust_g: 1300}}
        records:
          balance_point:
            - {date: 2026-05-16, columns: [forward_mm, mass_g], rows: [[300, 1850], [-300, 100]]}

    Passes: the same with

        records:
          balance_point:
            - {date: 2026-05-16, columns: [forward_mm, mass_g], rows: [[200, 1010], [-200, 940]]}

    It does not check tilted rotors, and nothing of what happens when a rotor stops: see the figure authority_margin.
    """
    told = trim(on)
    if told.centred > 1:
        return NotApplicable("it asks for as much wherever the weight is: see mass/lifts")
    evidence = f"{told.evidence}; at most 100 %"
    decision = decide_share(told.share, 1.0)
    if decision == "clear":
        return Clear(evidence)
    related = (Related(told.lift.place, "the greatest thrust recorded"),)
    if decision == "found":
        return Finding(
            place=told.balance.record.place,
            message=f"the weight acts {off(told.balance.centre)}: the rotors cannot hold it level there",
            evidence=evidence,
            do=f"move pack or payload {towards(told.balance.centre)}, and weigh on the scales again",
            related=related,
            record="balance_point",
        )
    if told.also_centred(1.0):
        return NotApplicable("as uncertain with the weight in the centre: see mass/margin")
    return Unproven(
        cause="uncertain",
        place=told.balance.record.place,
        message="whether the rotors can hold it level is too uncertain to tell",
        do=f"move pack or payload {towards(told.balance.centre)}; then {HOW}",
        evidence=evidence,
        related=related,
        record="balance_point",
    )

