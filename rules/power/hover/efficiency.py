"""Hover: is the drive as efficient as such drives are?"""

import math

from preflint.api import (
    ANY_LOADED_RUN,
    CAUTION,
    HOVER_LOG,
    PACK_UNPLUGGED,
    Aircraft,
    Clear,
    Context,
    Finding,
    Job,
    NotApplicable,
    Outcome,
    Tolerance,
    Unproven,
    rule,
    together,
)
from preflint.compute.decision import t_factor

from .conditions import CONDITIONS, against_theory, compared_again, must_be_a_packs

EFFICIENCY_LEAST = Tolerance(
    "hover_efficiency_least",
    "1",
    0.25,
    "higher",
    "common practice, no source",
    "the lowest plausible ideal hover power over electrical power",
)
EFFICIENCY_MOST = Tolerance(
    "hover_efficiency_most",
    "1",
    0.85,
    "lower",
    "common practice, no source",
    "the highest plausible ideal hover power over electrical power",
)


@rule(
    "power_sensing/hover-efficiency",
    each="aircraft",
    severity=CAUTION,
    job=Job.LOAD,
    precaution=ANY_LOADED_RUN,
    source="common practice, no source",
    tolerances=(*CONDITIONS, EFFICIENCY_LEAST, EFFICIENCY_MOST),
)
def hover_efficiency(aircraft: Aircraft, on: Context) -> Outcome:
    """Is the hover as efficient as such aircraft are?

    Ideal power over electrical power lies near 0.4 to 0.6 for most drives. Far outside, a scale is wrong, or
    the mass, the props or a motor is not what the record says.

    Reasoning: induced power that momentum theory expects of the rotors where they are (as for hover-power, but
    1.281 times for a disc in another's wake, within 0.133), over volts × amperes of the hover. Found if below
    ``hover_efficiency_least`` or above ``hover_efficiency_most`` by more than the induced power's uncertainty
    at 95 %, unproven within it. How well the display is known does not count here: it is what is asked about.
    Power below what anything hovers on is hover-power's finding and not said again. It asks for the same
    conditions as hover-power. Where no hover is recorded it is not asked.

    Fails:

        aircraft: {name: Trial, layout: quad-x}
        site: {elevation_m: 0, temperature_c: 15, station_pressure_hpa: 1013.25}
        every_rotor: {prop: {diameter_in: 10}}
        records:
          hover:
            - {date: 2026-04-18, mean_current_a: 24.0, mean_voltage_v: 15.0, duration_s: 60, takeoff_mass_g: 1500,
               height_m: 3, wind_m_s: 0}

    Passes: the same with

        records:
          hover:
            - {date: 2026-04-18, mean_current_a: 11.0, mean_voltage_v: 15.0, duration_s: 60, takeoff_mass_g: 1500,
               height_m: 3, wind_m_s: 0}

    Not checked: what motor, speed controller and prop each lose; discs that overlap where ``arm_mm`` is missing.
    """
    seen = against_theory(on)
    if isinstance(seen, NotApplicable):
        return seen
    if seen.too_little:
        return NotApplicable("no drive is better than ideal: see hover-power")
    efficiency, reach = seen.ideal.value / seen.shown_w, t_factor(math.inf) * seen.ideal.u / seen.shown_w
    least, most = on.limit(EFFICIENCY_LEAST), on.limit(EFFICIENCY_MOST)
    evidence = f"{seen.evidence}; efficiency {efficiency:.2f} ± {reach:.2f}, plausible from {least:g} to {most:g}"
    if efficiency + reach < least or efficiency - reach > most:
        low = efficiency < least
        message = (
            f"the hover's efficiency comes out at {efficiency:.2f}, which is "
            f"{'less than' if low else 'more than'} such drives have"
        )
        remedy = (
            f"compare current and voltage with a meter: volts × amperes may read {'high' if low else 'low'}; look at "
            "mass and prop diameters; feel for a hot motor after a hover, pack unplugged"
        )
        precaution = together(PACK_UNPLUGGED, compared_again(on), HOVER_LOG)
        return Finding(
            place=seen.place,
            message=message,
            evidence=evidence,
            do=remedy,
            related=seen.related,
            mind=precaution,
            record="current_comparison",
        )
    if efficiency - reach < least or efficiency + reach > most:
        message = f"the hover's efficiency of {efficiency:.2f} ± {reach:.2f} is too near the limit to tell"
        how = "compare current and voltage with a meter, and weigh the aircraft again"
        return Unproven(
            cause="uncertain",
            place=seen.place,
            message=message,
            do=how,
            evidence=evidence,
            related=seen.related,
            mind=compared_again(on),
        )
    must_be_a_packs(aircraft, seen.hover)
    return Clear(evidence)
