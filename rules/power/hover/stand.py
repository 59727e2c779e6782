"""Hover: does it draw what the thrust stand needed for the same lift?"""

import math

from preflint.api import (
    ANY_LOADED_RUN,
    CAUTION,
    PACK_UNPLUGGED,
    THRUST_STAND,
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
    records,
    rule,
    together,
)
from preflint.compute.decision import t_factor

from ...shared.loaded_run import again
from ..lift import MASS_WITHIN, Uncertain, u_of_another_day
from ..stand import HOW, stand_power_w
from .conditions import CONDITIONS, Steady, must_be_a_packs, steady_hover

STAND_LEAST = Tolerance(
    "hover_stand_least",
    "1",
    0.95,
    "higher",
    "common practice, no source",
    "the least hover current over that of the thrust stand at the same lift; allows for what the stand errs",
)
STAND_MOST = Tolerance(
    "hover_stand_most",
    "1",
    1.15,
    "lower",
    "common practice, no source",
    "the most hover current over that of the thrust stand at the same lift; allows for electronics and control",
)
# What flight controller, receiver and lamps may draw of a small aircraft; common practice, no source.
_ELECTRONICS_W = 2.0
_COMPARE = "compare the current with a meter, and weigh the aircraft again"


@rule(
    "power_sensing/hover-stand",
    each="aircraft",
    severity=CAUTION,
    job=Job.LOAD,
    precaution=ANY_LOADED_RUN,
    source="common practice, no source",
    tolerances=(*CONDITIONS, STAND_LEAST, STAND_MOST),
)
def hover_stand(aircraft: Aircraft, on: Context) -> Outcome:
    """Does the hover draw what the thrust stand needed for the same lift?

    The stand's meters are not the aircraft's, so that the two check each other. A hover that shows less than
    the stand needed under-counts charge; one that shows more over-counts, or the aircraft lost what it had.

    Reasoning: each rotor lifts its share of the mass flown, by disc area. The stand's electrical power at that
    thrust, by a power law between the readings on both sides, adds up over the rotors, with what rotors that
    share air cost more (1.281 times in another's wake, within 0.133), and less what wind and ground save; over
    the hover's mean voltage it is the current to expect. Found if hover current over that is below
    ``hover_stand_least`` or above ``hover_stand_most`` by more than U at 95 % (mass within 1 %, density within
    5 % since the day was another, the share of air), unproven within it. The limits allow for the errors of the
    stand, which are not recorded, and for 2 W of electronics at least, which small aircraft feel. It asks for the
    same conditions as hover-power. One stand speaks for all rotors: the latest. Where hover or stand is missing it is
    not asked.

    Fails:

        aircraft: {name: Trial, layout: quad-x}
        site: {elevation_m: 0, temperature_c: 15, station_pressure_hpa: 1013.25}
        every_rotor: {prop: {diameter_in: 10}}
        records:
          thrust_stand:
            - {date: 2026-04-17, at: front-left, columns: [thrust_g, current_a, voltage_v],
               rows: [[200, 1.3, 15.2], [400, 3.2, 15.1], [800, 8.6, 14.8]]}
          hover:
            - {date: 2026-04-18, mean_current_a: 8.0, mean_voltage_v: 15.0, duration_s: 60, takeoff_mass_g: 1500,
               height_m: 3, wind_m_s: 0}

    Passes: the same with

        records:
          hover:
            - {date: 2026-04-18, mean_current_a: 12.2, mean_voltage_v: 15.0, duration_s: 60, takeoff_mass_g: 1500,
               height_m: 3, wind_m_s: 0}

    Not checked: how good the stand's scale and meters are, whether all rotors are like the one on the stand, and
    a centre of gravity that loads some rotors more.
    """
    if not on.so_far(aircraft.records.thrust_stand):
        return NotApplicable("no thrust stand is recorded")
    seen = on.once(steady_hover, on)
    if isinstance(seen, NotApplicable):
        return seen
    stands = aircraft.records.thrust_stand
    stand = on.freshest("thrust_stand", stands, HOW, mind=THRUST_STAND, says=lambda one: None)  # any will do
    return _against_stand(on, stand, seen)


def _against_stand(on: Context, stand: records.ThrustStand, seen: Steady) -> Outcome:
    watts = _in_the_hovers_air(on, stand, seen)
    expected_a = watts.value / seen.volts
    ratio = seen.current / expected_a
    reach = t_factor(math.inf) * ratio * watts.u / watts.value
    least, most = on.limit(STAND_LEAST), max(on.limit(STAND_MOST), 1 + _ELECTRONICS_W / watts.value)
    evidence = (
        f"{seen.evidence}; thrust stand of {stand.date.value}: {watts.value:.0f} W for {seen.mass_g:g} g, "
        f"{expected_a:.1f} A at {seen.volts:.1f} V; the hover draws {ratio:.2f} ± {reach:.2f} of it, "
        f"plausible from {least:g} to {most:.3g}"
    )
    related = (
        Related(stand.place, f"{expected_a:.1f} A to expect of this stand"),
        Related(seen.mass_place, f"{seen.mass_g:g} g lifted"),
    )
    meter = again(on.latest(on.aircraft.records.current_comparison))
    if ratio + reach < least or ratio - reach > most:
        low = ratio < least
        return Finding(
            place=seen.place,
            message=f"the hover shows {seen.current:.1f} A, {ratio:.2f} times the thrust stand's for the same lift",
            evidence=f"amperes read {'low' if low else 'high, or the aircraft takes more than it did'}; {evidence}",
            do=_COMPARE + ("" if low else "; look for worn props, a hot motor and stiff bearings, pack unplugged"),
            related=related,
            mind=together(PACK_UNPLUGGED, meter),
            record="current_comparison",
        )
    if ratio - reach < least or ratio + reach > most:
        return Unproven(
            cause="uncertain",
            place=seen.place,
            message=f"hover over thrust stand {ratio:.2f} ± {reach:.2f} for the same lift: too near the limit to tell",
            do=_COMPARE,
            evidence=evidence,
            related=related,
            mind=meter,
            record="current_comparison",
        )
    must_be_a_packs(on.aircraft, seen)
    return Clear(evidence)


def _in_the_hovers_air(on: Context, stand: records.ThrustStand, seen: Steady) -> Uncertain:
    """What the rotors took together on the stand to lift the aircraft, in the hover's wind and air."""
    watts = on.once(stand_power_w, on, stand, seen.mass_g)
    of_day = math.hypot(1.5 * MASS_WITHIN / math.sqrt(3), u_of_another_day())
    return watts.times(Uncertain(1.0, of_day)).times(seen.easier)
