"""Do the scales under the aircraft add up to what it takes off with?"""

from preflint.api import (
    CAUTION,
    PACK_UNPLUGGED,
    Aircraft,
    Clear,
    Context,
    Finding,
    Job,
    Known,
    NotApplicable,
    Open,
    Outcome,
    Related,
    Tolerance,
    rule,
)

from ..power.limits import MASS_FACTOR
from .balance import BALANCED, balance

WEIGHED = Tolerance(
    "weighed_percent",
    "%",
    3.0,
    "lower",
    "common practice, no source",
    "how far the sum of the scales may be from the take-off mass; allows for both scales",
)


@rule(
    "mass/weighed",
    each="aircraft",
    severity=CAUTION,
    job=Job.MECHANICAL,
    precaution=PACK_UNPLUGGED,
    source="derived: supports carry together what the whole weighs; the limit is common practice, no source",
    tolerances=(WEIGHED, MASS_FACTOR, *BALANCED),
)
def weighed(aircraft: Aircraft, on: Context) -> Outcome:
    """Do the scales under the aircraft add up to what it takes off with?

    Balanced without its pack or camera, the aircraft's centre of mass is that of another aircraft; or the take-off
    mass is one of last season.

    Reasoning: Σ `mass_g` of the latest `balance_point` that still speaks against `takeoff_mass_g`; found beyond 3 %.
    Beyond `mass_factor` they are no masses of one aircraft, which power_sensing/mass-plausible tells.

    Fails:

        aircraft: {name: Trial, layout: quad-x, takeoff_mass_g: 1950}
        records:
          balance_point:
            - {date: 2026-05-16, columns: [forward_mm, mass_g], rows: [[140, 805], [-140, 745]]}

    Passes: the same with

        records:
          balance_point:
            - {date: 2026-05-16, columns: [forward_mm, mass_g], rows: [[140, 1005], [-140, 945]]}

    It does not check the scales themselves.
    """
    mass = aircraft.about.takeoff_mass_g
    try:
        held = balance(on)
    except Open:
        return NotApplicable("no balance point speaks for it")
    if not isinstance(mass, Known):
        return NotApplicable("no take-off mass is recorded")
    ratio, most, limit = held.mass_g / mass.value, on.limit(MASS_FACTOR), on.limit(WEIGHED)
    if max(ratio, 1 / ratio) > most:
        return NotApplicable("the two masses are no masses of one aircraft: see power_sensing/mass-plausible")
    evidence = (
        f"{held.mass_g:.0f} g on the scales on {held.record.date.value}, take-off mass {mass.value:g} g: "
        f"{100 * (ratio - 1):+.1f} %, at most {limit:g} %"
    )
    if abs(held.mass_g - mass.value) <= limit / 100 * mass.value:
        return Clear(evidence)
    return Finding(
        place=held.record.place,
        message=f"the scales carried {held.mass_g:.0f} g, but it takes off with {mass.value:g} g",
        evidence=evidence,
        do="weigh it ready to fly, with pack and payload; correct takeoff_mass_g, or balance it again as it flies",
        related=(Related(mass.place, f"takes off with {mass.value:g} g"),),
    )
