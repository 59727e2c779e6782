"""An invented club's own rule: its field takes no aircraft above a certain mass."""

from preflint.api import (
    NO_GO,
    PACK_UNPLUGGED,
    Aircraft,
    Clear,
    Context,
    Finding,
    Job,
    Outcome,
    RuleModule,
    Tolerance,
    need,
    rule,
)

MASS = Tolerance(
    "club_mass_g", "g", 7000.0, "lower", "the invented club's site rules", "heaviest aircraft ready to fly"
)


@rule(
    "club/mass-limit",
    each="aircraft",
    severity=NO_GO,
    job=Job.RECORD,
    precaution=PACK_UNPLUGGED,
    source="the invented club's site rules",
    tolerances=(MASS,),
)
def mass_limit(aircraft: Aircraft, on: Context) -> Outcome:
    """The aircraft is not heavier than the club's field allows.

    Compares takeoff_mass_g with the limit club_mass_g. It does not check that the masses of the parts add up.
    """
    mass, limit = need(aircraft.about.takeoff_mass_g), on.limit(MASS)
    if mass.value <= limit:
        return Clear(f"{mass.value:.0f} g, limit {limit:.0f} g")
    return Finding(
        place=mass.place,
        message=f"take-off mass {mass.value:.0f} g is above the club's {limit:.0f} g",
        evidence=f"recorded {mass.value:.0f} g; limit {limit:.0f} g",
        do="fly it elsewhere, or make it lighter and weigh it again",
    )


MODULE = RuleModule(api=1, name="sample", rules=(mass_limit,))
