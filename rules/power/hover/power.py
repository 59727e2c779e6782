"""Hover: the power shown against the least that physics lets it be."""

import math
from collections.abc import Iterator

from preflint.api import (
    ANY_LOADED_RUN,
    NO_GO,
    PACK_UNPLUGGED,
    Aircraft,
    Clear,
    Context,
    Figure,
    Finding,
    Job,
    NotApplicable,
    Outcome,
    Unproven,
    figure,
    need,
    rule,
    together,
)
from preflint.compute.decision import effective_dof, t_factor
from preflint.compute.induced_power import DUCT

from ..lift import ANOTHER_DAY, air_density, interference, latest_hover, least_power_w
from .conditions import (
    CONDITIONS,
    against_theory,
    compared_again,
    ducts_open,
    kind_of_rotors,
    mass,
    must_be_a_packs,
)
from .shown import power_w


@figure("air-density")
def density_figures(on: Context) -> Iterator[Figure]:
    """Density of the air at the site."""
    site = on.aircraft.site
    air = air_density(site)
    yield Figure("air_density_kg_m3", None, air.value, air.u, "kg/m³", None, site.place)


@figure("ideal-hover-power")
def ideal_figures(on: Context) -> Iterator[Figure]:
    """What momentum theory asks for at the mass recorded for take-off, in still air, far from the ground.

    Rotors that share air cost more than rotors apart. Ducts count where they are recorded.
    """
    recorded = need(on.aircraft.about.takeoff_mass_g)
    ideal = least_power_w(on.aircraft, recorded.value).times(on.once(interference, on.aircraft))
    yield Figure("ideal_hover_power_w", None, ideal.value, ideal.u, "W", None, recorded.place)


@figure("hover-power")
def hover_figures(on: Context) -> Iterator[Figure]:
    """Electrical power of the hover as the settings installed show it.

    Its uncertainty is that of the two scales, with the errors that the comparisons found, which are not taken
    off. Where one of them was not compared since the display last changed, nobody knows it, and none is stated.
    """
    hover = latest_hover(on)
    shown, u, dof = on.once(power_w, on, hover)
    yield Figure("hover_power_w", None, shown, u, "W", None, hover.place, dof)


@figure("implied-efficiency")
def efficiency_figures(on: Context) -> Iterator[Figure]:
    """Ideal hover power at the mass flown, in still air, over the electrical power shown.

    Its uncertainty is that of the ideal power and of the power shown; where the latter is not known, none.
    """
    hover = latest_hover(on)
    flown, _ = mass(on.aircraft, hover)
    ideal = on.once(least_power_w, on.aircraft, flown, ANOTHER_DAY).times(on.once(interference, on.aircraft))
    shown, u_shown, dof = on.once(power_w, on, hover)
    efficiency = ideal.value / shown
    u = None
    if u_shown is not None:
        parts = ((ideal.u / ideal.value, math.inf), (u_shown / shown, dof))
        u, dof = efficiency * math.hypot(*(part for part, _ in parts)), effective_dof(parts)
    yield Figure("implied_efficiency", None, efficiency, u, "1", None, hover.place, dof)


@rule(
    "power_sensing/hover-power",
    each="aircraft",
    severity=NO_GO,
    job=Job.LOAD,
    precaution=ANY_LOADED_RUN,
    source="momentum theory of the actuator disc, as in J. G. Leishman, Principles of Helicopter Aerodynamics, "
    "chapter 2",
    tolerances=CONDITIONS,
)
def hover_power(aircraft: Aircraft, on: Context) -> Outcome:
    """Does the hover take at least the power that physics asks for?

    In air that does not rise, nothing hovers on less than the ideal induced power of its rotors. Where
    volts × amperes come out below it, a scale reads low, which no meter is needed to tell: more is drawn than
    counted.

    Reasoning: a rotor of disc area A with thrust T takes T^1.5/√(2·density·A) at the least. Each disc counts
    as if it were alone and the thrust, equal to the weight flown, is shared as costs least. Rotors that overlap
    or sit on one axis take more in truth (up to 1.414 times), but no more is certain: a lower rotor loaded only
    outside the upper one's wake comes down to 1.155 in theory. A rotor with ``ducted: true`` needs 0.707 of an
    open one; where no duct is recorded, a rotor is taken as open, and the evidence says so. Wind saves some, by
    Glauert's formula, and the ground some, by Cheeseman and Bennett's for one rotor of all areas together; that
    much is taken off. Found if the power shown is below this bound by more than the bound's own uncertainty at
    95 % (mass and prop diameter within 1 %, gravity within 0.5 %, wind within 1 m/s, density within 5 % since
    the day was another, and what the site leaves open: any humidity, any temperature from -20 to 45 °C), clear if
    above by as much.
    Mean voltage × mean current is not less than the mean of the power, since the one falls as the other rises.
    It asks for a hover of ``hover_steady_s`` or more, ``hover_height_diameters`` or more above the ground, in
    no more than ``hover_wind_m_s``; otherwise it is unproven, and so are amperes beyond the sensor's range and,
    unless it is found all the same, volts more than 5 % outside those of the pack. The hover is converted to the
    settings installed; one that its ``in_force`` does not note is taken as unchanged. Where no hover is recorded
    it is not asked.

    Fails:

        aircraft: {name: Trial, layout: quad-x}
        site: {elevation_m: 0, temperature_c: 15, station_pressure_hpa: 1013.25}
        every_rotor: {prop: {diameter_in: 10}, ducted: false}
        records:
          hover:
            - {date: 2026-04-18, mean_current_a: 4.8, mean_voltage_v: 15.0, duration_s: 60, takeoff_mass_g: 1500,
               height_m: 3, wind_m_s: 0}

    (72 W shown, where 80 W are needed)

    Passes: the same with

        records:
          hover:
            - {date: 2026-04-18, mean_current_a: 11.0, mean_voltage_v: 15.0, duration_s: 60, takeoff_mass_g: 1500,
               height_m: 3, wind_m_s: 0}

    Not checked: a duct that widens below the prop, which may take less still; upwash between rotors in wind;
    an updraught, as over a slope in the wind or in the sun. A scale that reads high, and one that reads low by
    less than the losses of the drive.
    """
    seen = against_theory(on)
    if isinstance(seen, NotApplicable):
        return seen
    if seen.too_little:
        message = (
            f"the hover shows {seen.shown_w:.0f} W, but {kind_of_rotors(aircraft)} of this size need "
            f"{seen.least.value:.0f} W at the least"
        )
        times = seen.least.value / seen.shown_w
        remedy = (
            f"compare the current, then the voltage, with a meter: together they read low by a factor of "
            f"{times:.2f} or more; look at the mass and the prop diameters too"
        )
        if ducts_open(aircraft) and times * DUCT < 1:
            remedy += "; if the rotors turn in ducts, which can lift with 0.71 of that power, record ducted: true"
        precaution = together(PACK_UNPLUGGED, compared_again(on))
        return Finding(
            place=seen.place,
            message=message,
            evidence=seen.evidence,
            do=remedy,
            related=seen.related,
            mind=precaution,
            record="current_comparison",
        )
    if seen.shown_w < seen.least.value + t_factor(math.inf) * seen.least.u:
        message = f"the hover shows {seen.shown_w:.0f} W, too near the least of {seen.least.value:.0f} W to tell"
        how = "compare current and voltage with a meter, and weigh the aircraft again"
        return Unproven(
            cause="uncertain",
            place=seen.place,
            message=message,
            do=how,
            evidence=seen.evidence,
            related=seen.related,
            mind=compared_again(on),
        )
    must_be_a_packs(aircraft, seen.hover)
    return Clear(seen.evidence)
