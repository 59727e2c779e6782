"""Are the masses those of one aircraft, and was the hover at the mass that it takes off with?"""

from collections.abc import Iterator

from preflint.api import (
    CAUTION,
    HOVER_LOG,
    NO_GO,
    PACK_UNPLUGGED,
    Aircraft,
    Clear,
    Context,
    Finding,
    Job,
    Known,
    NotApplicable,
    Outcome,
    Related,
    rule,
    together,
)

from ..draw import for_the_mass
from ..lift import MASS_WITHIN
from ..limits import HOVER_MASS, MASS_FACTOR


@rule(
    "power_sensing/mass-plausible",
    each="aircraft",
    severity=NO_GO,
    job=Job.RECORD,
    precaution=PACK_UNPLUGGED,
    source="derived: a whole weighs no less than its parts, and as much as its supports carry",
    tolerances=(MASS_FACTOR,),
)
def mass_plausible(aircraft: Aircraft, on: Context) -> Outcome:
    """Can the take-off mass be that of this aircraft?

    Grams written for kilograms, a nought too many, the mass of another aircraft: hover power, thrust and the current
    of flight are reckoned from it, and every bound that stands on it is wrong by as much.

    Reasoning: found where `takeoff_mass_g` and the mass of the latest hover are more than `mass_factor` times each
    other, or that mass and the sum of the scales in the latest `balance_point`; and where motors, props and the
    lightest pack, as far as each is recorded, weigh more than the whole by more than 2 %.

    Fails:

        aircraft: {name: Trial, layout: quad-x, takeoff_mass_g: 15000}
        records:
          hover: [{date: 2026-05-17, takeoff_mass_g: 1500}]

    Passes: the same with

        aircraft: {name: Trial, layout: quad-x, takeoff_mass_g: 1500}

    It does not check that the scales are right, nor a mass that is wrong by less. Whether the motors lift it is judged
    by mass/lifts.
    """
    mass = aircraft.about.takeoff_mass_g
    if not isinstance(mass, Known):
        return NotApplicable("no take-off mass is recorded")
    hover, most = on.latest(aircraft.records.hover), on.limit(MASS_FACTOR)
    compared = []
    if hover and isinstance(hover.takeoff_mass_g, Known):
        flown = hover.takeoff_mass_g
        evidence = f"take-off mass {mass.value:g} g, hover of {hover.date.value} {flown.value:g} g"
        if max(mass.value / flown.value, flown.value / mass.value) > most:
            return Finding(
                place=mass.place,
                message=f"the take-off mass is {mass.value:g} g, but the aircraft hovered with {flown.value:g} g",
                evidence=f"{evidence}; at most {most:g} times each other",
                do="weigh the aircraft ready to fly, and correct whichever mass is wrong",
                related=(Related(flown.place, f"hovered with {flown.value:g} g"),),
            )
        compared.append(evidence)
    scales = on.latest(aircraft.records.balance_point)
    if scales and isinstance(scales.table, Known):
        carried = float(scales.table.value.column("mass_g").sum())
        evidence = f"take-off mass {mass.value:g} g, scales of {scales.date.value} {carried:.0f} g"
        if carried <= 0 or max(mass.value / carried, carried / mass.value) > most:
            return Finding(
                place=mass.place,
                message=f"the take-off mass is {mass.value:g} g, but the scales under it carried {carried:.0f} g",
                evidence=f"{evidence}; at most {most:g} times each other",
                do="weigh the aircraft ready to fly, and correct whichever mass is wrong",
                related=(Related(scales.table.place, f"{carried:.0f} g on the scales"),),
            )
        compared.append(evidence)
    parts = sum(_parts_g(aircraft))
    if parts > mass.value * (1 + 2 * MASS_WITHIN):
        return Finding(
            place=mass.place,
            message=f"the take-off mass is {mass.value:g} g, but its parts alone weigh {parts:.0f} g",
            evidence="motors, props and the lightest pack, as far as their masses are recorded",
            do="weigh the aircraft ready to fly; if that is right, look at mass_g of motors, props and packs",
        )
    if parts:
        compared.append(f"parts recorded {parts:.0f} g")
    if not compared:
        return NotApplicable("there is nothing to compare the take-off mass with")
    return Clear("; ".join(compared))


def _parts_g(aircraft: Aircraft) -> Iterator[float]:
    """Masses of what is certainly on board, as far as recorded."""
    for rotor in aircraft.rotors:
        for one in (rotor.motor.mass_g, rotor.prop.mass_g):
            if isinstance(one, Known):
                yield one.value
    packs = [pack.mass_g.value for pack in aircraft.packs if isinstance(pack.mass_g, Known)]
    if packs and len(packs) == len(aircraft.packs):
        yield min(packs)


@rule(
    "power_sensing/hover-mass",
    each="aircraft",
    severity=CAUTION,
    job=Job.HOVER,
    precaution=together(PACK_UNPLUGGED, HOVER_LOG),
    source="momentum theory of the actuator disc, as in J. G. Leishman, Principles of Helicopter Aerodynamics, "
    "chapter 2; the limit is common practice, no source",
    tolerances=(HOVER_MASS, MASS_FACTOR),
)
def hover_mass(aircraft: Aircraft, on: Context) -> Outcome:
    """Was the hover at the mass that the aircraft takes off with?

    The latest hover says what flight draws. Flown lighter than the aircraft is now, it says too little.

    Reasoning: induced power goes with mass to the power of 1.5, and so does the current of one pack; the rules that
    ask for the current of hover convert it so. Found where the hover's mass is more than `hover_mass_percent` from
    `takeoff_mass_g`; more than `mass_factor` times is judged by mass-plausible. Where no hover notes its mass it is
    taken as that of take-off, and not asked.

    Fails:

        aircraft: {name: Trial, layout: quad-x, takeoff_mass_g: 1650}
        records:
          hover: [{date: 2026-05-17, takeoff_mass_g: 1500}]

    Passes: the same with

        aircraft: {name: Trial, layout: quad-x, takeoff_mass_g: 1550}

    It does not check what the pack's own resistance and the drive's losses add at another current.
    """
    mass, hover = aircraft.about.takeoff_mass_g, on.latest(aircraft.records.hover)
    if not isinstance(mass, Known) or hover is None or not isinstance(hover.takeoff_mass_g, Known):
        return NotApplicable("take-off mass, or that of a hover, is not recorded")
    if on.outdated("hover", hover):
        return NotApplicable("the hover is stale, or may be, by what was done since")
    flown, limit, most = hover.takeoff_mass_g, on.limit(HOVER_MASS), on.limit(MASS_FACTOR)
    if max(mass.value / flown.value, flown.value / mass.value) > most:
        return NotApplicable("the two masses are no masses of one aircraft: see mass-plausible")
    factor, apart = for_the_mass(aircraft, hover), 100 * (flown.value / mass.value - 1)
    evidence = (
        f"hover of {hover.date.value} with {flown.value:g} g, take-off mass {mass.value:g} g: {apart:+.1f} %, at most "
        f"{limit:g} %; its current is taken {factor:.2f} times"
    )
    if abs(flown.value - mass.value) <= limit / 100 * mass.value:
        return Clear(evidence)
    way = "heavier" if apart > 0 else "lighter"
    return Finding(
        place=flown.place,
        message=f"the hover was flown {abs(apart):.0f} % {way} than the aircraft takes off",
        evidence=evidence,
        do="weigh the aircraft ready to fly; if the mass is right, log a steady hover with it",
        related=(Related(mass.place, f"takes off with {mass.value:g} g"),),
    )
