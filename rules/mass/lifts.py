"""Do the rotors lift what it weighs, as long as it is flown?"""

from preflint.api import (
    CAUTION,
    DESK,
    NO_GO,
    PACK_UNPLUGGED,
    THRUST_STAND,
    Aircraft,
    Clear,
    Context,
    Figure,
    Finding,
    Job,
    Known,
    NotApplicable,
    Open,
    Outcome,
    Related,
    Tolerance,
    Unproven,
    events,
    figure,
    fitted,
    records,
    rule,
    together,
    touches,
)

from ..power.limits import HOVER_MASS, MASS_FACTOR
from .thrust import THRUST, Lift, reaches, thrust_to_weight

LIFTS = Tolerance(
    "thrust_to_weight_least",
    "1",
    1.0,
    "higher",
    "derived: with less thrust than weight it sinks",
    "the least thrust over weight at the lowest voltage flown",
)
MARGIN = Tolerance(
    "thrust_to_weight_margin",
    "1",
    1.5,
    "higher",
    "common practice, no source",
    "thrust over weight at the lowest voltage flown, below which little is left to climb and to be held level",
)
_OF_THE_DISPLAY = ("power-sensor", "flight-controller")  # work on these changes what a hover shows, and not its lift


@figure("thrust-to-weight")
def thrust_figures(on: Context) -> list[Figure]:
    """Greatest thrust of all rotors over the take-off mass in the site's air, fresh and at the lowest voltage flown.

    Where no site is recorded it is that of any air from sea level to 1500 m.
    """
    lift = thrust_to_weight(on)
    return [
        Figure("thrust_to_weight", case, ratio.value, ratio.u, "1", None, lift.mass.place)
        for case, ratio in (("full", lift.full), ("lowest-voltage", lift.lowest))
    ]


@rule(
    "mass/lifts",
    each="aircraft",
    severity=NO_GO,
    job=Job.MECHANICAL,
    precaution=PACK_UNPLUGGED,
    source="momentum theory (thrust ∝ density); voltage to the power of 2 to 2.23: UIUC Propeller Database, 10x4.7 in",
    needed_for_flight=True,
    shown_by=fitted.Airframe,
    tolerances=(LIFTS, HOVER_MASS, MASS_FACTOR, *THRUST),
)
def lifts(aircraft: Aircraft, on: Context) -> Outcome:
    """Do the rotors lift the aircraft, down to the lowest voltage that it is flown to?

    One that just lifts off with a fresh pack sinks when the pack is nearly flown, or on the hot meadow high up where
    it was never tried: full throttle then holds neither height nor attitude.

    Reasoning: `max_thrust_g` of all motors (a table of your prop and cell count, at a full pack and 1.225 kg/m³;
    where packs differ, that of the fewest cells) times the density of the site's air over 1.225, else the most that
    a thrust stand showed, in air within 5 % of the site's; times what rotors in each other's air have left, (power
    factor)^(-2/3); times (lowest over full voltage)^2 to ^2.23; over `takeoff_mass_g`. The lowest voltage is 3.50 V
    a cell (li-ion 3.30 V, life 3.00 V: `lowest_cell_mv`), of a stand's that of the pack with fewest cells. U is 10
    % of the table (`thrust_table_percent`), 1 % of the mass, and what is not known of air and voltage, in squares.
    Found where it is below 1 by more than U, clear where it is 1 or more by as much. Between them, or where a mass
    or a thrust is not recorded, a hover with that mass (within `hover_mass_percent`) shows that it lifts, unless
    motor, payload or frame was changed since, or it crashed.

    Fails:

        aircraft: {name: Trial, layout: quad-x, takeoff_mass_g: 4600}
        site: {elevation_m: 1500, temperature_c: 30}
        packs: [{label: A1, chemistry: lipo, cells: 6}]
        every_rotor: {motor: {max_thrust_g: 1300}}

    Passes: the same with

        aircraft: {name: Trial, layout: quad-x, takeoff_mass_g: 1950}

    It does not check that the table is that of this motor and prop, what the pack can give at full throttle, nor how
    the upper and the lower rotor of a pair differ.
    """
    hover = _hover_that_speaks(on)
    if masses_apart(aircraft, on):
        return NotApplicable("the recorded masses are no masses of one aircraft: see power_sensing/mass-plausible")
    try:
        lift = thrust_to_weight(on)
    except Open:
        if hover:
            return Clear(_hovered(hover))
        raise
    decision = reaches(lift.lowest, on.limit(LIFTS))
    evidence = f"{lift.evidence}; at least {on.limit(LIFTS):g}"
    if decision == "clear":
        return Clear(evidence)
    if decision == "found" and not lift.at_least:
        return _sinks(lift, evidence)
    if hover:
        return Clear(f"{_hovered(hover)}; {evidence}")
    return Unproven(
        cause="uncertain",
        place=lift.mass.place,
        message=f"it cannot be told whether the rotors still lift it at {lift.cell_v}",
        do=lift.asks or "take load off, or measure the greatest thrust of a motor on a stand",
        evidence=evidence,
        related=(Related(lift.place, "the greatest thrust recorded"),),
        mind=DESK if lift.asks else together(PACK_UNPLUGGED, THRUST_STAND),
    )


def masses_apart(aircraft: Aircraft, on: Context) -> bool:
    """Whether take-off mass and the latest hover are no masses of one aircraft, which another rule tells."""
    mass, hover = aircraft.about.takeoff_mass_g, on.latest(aircraft.records.hover)
    if hover is None or not isinstance(hover.takeoff_mass_g, Known) or not isinstance(mass, Known):
        return False
    ratio = mass.value / hover.takeoff_mass_g.value
    return max(ratio, 1 / ratio) > on.limit(MASS_FACTOR)


def _sinks(lift: Lift, evidence: str) -> Finding:
    grams = lift.lowest.value * lift.mass.value
    return Finding(
        place=lift.mass.place,
        message=f"full throttle lifts {grams:.0f} g at {lift.cell_v}, and it weighs {lift.mass.value:g} g",
        evidence=evidence,
        do="weigh it ready to fly, and look at max_thrust_g; if both are right take load off, or fit motors and props "
        "that lift more",
        related=(Related(lift.place, "the greatest thrust recorded"),),
    )


def _hovered(hover: records.Hover) -> str:
    flown = f" with {hover.takeoff_mass_g.value:g} g" if isinstance(hover.takeoff_mass_g, Known) else ""
    return f"it hovered{flown} on {hover.date.value}"


def _hover_that_speaks(on: Context) -> records.Hover | None:
    """The last hover with the take-off mass, where nothing that bears on lift was changed since."""
    mass = on.aircraft.about.takeoff_mass_g
    rows = [row for row in on.ended_by("hover") if row.part not in _OF_THE_DISPLAY]
    for hover in reversed(on.so_far(on.aircraft.records.hover)):
        flown = hover.takeoff_mass_g if isinstance(hover.takeoff_mass_g, Known) else mass
        least = mass.value * (1 - on.limit(HOVER_MASS) / 100) if isinstance(mass, Known) else 0.0
        ended = any(
            event.date.value.after(hover.date.value) is not False and any(touches(event, row, None) for row in rows)
            for event in events(on.aircraft)
        )
        as_heavy = not isinstance(flown, Known) or flown.value >= least
        if as_heavy and not ended and not on.too_old("hover", hover):
            return hover
    return None


@rule(
    "mass/margin",
    each="aircraft",
    severity=CAUTION,
    job=Job.MECHANICAL,
    precaution=PACK_UNPLUGGED,
    source="common practice, no source",
    tolerances=(LIFTS, MARGIN, MASS_FACTOR, *THRUST),
)
def margin(aircraft: Aircraft, on: Context) -> Outcome:
    """Is there thrust left beyond what holds it up?

    What is left is what it climbs with, stops a fall with, and is held level with in a gust.

    Reasoning: thrust over weight at the lowest voltage flown, as `mass/lifts` has it. Found where it is below 1.5 by
    more than its uncertainty; below 1 mass/lifts tells it.

    Fails:

        aircraft: {name: Trial, layout: quad-x, takeoff_mass_g: 2900}
        site: {elevation_m: 200, temperature_c: 15}
        packs: [{label: A1, chemistry: lipo, cells: 6}]
        every_rotor: {motor: {max_thrust_g: 1300}}

    Passes: the same with

        aircraft: {name: Trial, layout: quad-x, takeoff_mass_g: 1950}

    It does not check how much of it the controller may use.
    """
    if masses_apart(aircraft, on):
        return NotApplicable("the recorded masses are no masses of one aircraft: see power_sensing/mass-plausible")
    lift = thrust_to_weight(on)
    decision, limit = reaches(lift.lowest, on.limit(MARGIN)), on.limit(MARGIN)
    evidence = f"{lift.evidence}; at least {limit:g}"
    if decision == "clear":
        return Clear(evidence)
    if decision == "found" and reaches(lift.lowest, on.limit(LIFTS)) == "found" and not lift.at_least:
        return NotApplicable("said by mass/lifts")
    if decision == "found" and not lift.at_least:
        return Finding(
            place=lift.mass.place,
            message=f"at {lift.cell_v} full throttle lifts only {lift.lowest.value:.2f} times what it weighs",
            evidence=evidence,
            do="take load off; until then fly it gently, in little wind, and land early",
            related=(Related(lift.place, "the greatest thrust recorded"),),
        )
    return Unproven(
        cause="uncertain",
        place=lift.mass.place,
        message=f"whether {limit:g} times its weight is lifted at {lift.cell_v} is too uncertain to tell",
        do=lift.asks or "measure the greatest thrust of a motor on a stand",
        evidence=evidence,
        related=(Related(lift.place, "the greatest thrust recorded"),),
        mind=DESK if lift.asks else THRUST_STAND,
    )
