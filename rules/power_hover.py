"""Hover: the power shown against the least that physics lets it be."""

from collections.abc import Iterator
from dataclasses import dataclass

from preflint.api import (
    CAUTION,
    NO_GO,
    Aircraft,
    Clear,
    Context,
    Figure,
    Finding,
    Job,
    Known,
    NotApplicable,
    NotFitted,
    Open,
    Outcome,
    Place,
    Related,
    Tolerance,
    Unproven,
    figure,
    need,
    records,
    rule,
)
from preflint.compute.decision import t_factor

from .power_hover_bound import (
    ANOTHER_DAY,
    HOW,
    Uncertain,
    air_density,
    electrical_w,
    ideal_power_w,
    largest_diameter_m,
    latest_hover,
    mean_induced_m_s,
    wind_saves,
)
from .power_sensing_draw import ANY_LOADED_RUN

HOVER_WIND = Tolerance(
    "hover_wind_m_s",
    "m/s",
    3.0,
    "lower",
    "common practice, no source",
    "the most wind in which a hover is compared with momentum theory",
)
HOVER_HEIGHT = Tolerance(
    "hover_height_diameters",
    "1",
    2.0,
    "higher",
    "common practice, no source",
    "how many prop diameters the rotors must be above the ground",
)
HOVER_STEADY = Tolerance(
    "hover_steady_s",
    "s",
    20.0,
    "higher",
    "common practice, no source",
    "how long the hover must last over which means are taken",
)
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
_CONDITIONS = (HOVER_WIND, HOVER_HEIGHT, HOVER_STEADY)


@figure("air-density")
def density_figures(on: Context) -> Iterator[Figure]:
    """Density of the air at the site."""
    site = on.aircraft.site
    air = air_density(site)
    yield Figure("air_density_kg_m3", None, air.value, air.u, "kg/m³", None, site.place)


@figure("ideal-hover-power")
def ideal_figures(on: Context) -> Iterator[Figure]:
    """The least power that lifts the aircraft, at the mass recorded for take-off."""
    mass = need(on.aircraft.about.takeoff_mass_g)
    ideal = ideal_power_w(on.aircraft, mass.value)
    yield Figure("ideal_hover_power_w", None, ideal.value, ideal.u, "W", None, mass.place)


@figure("hover-power")
def hover_figures(on: Context) -> Iterator[Figure]:
    """Electrical power of the hover, as shown: how wrong the scales are, this figure cannot know."""
    hover = latest_hover(on)
    shown = electrical_w(on.aircraft, hover)
    yield Figure("hover_power_w", None, shown, None, "W", None, hover.place)


@figure("implied-efficiency")
def efficiency_figures(on: Context) -> Iterator[Figure]:
    """Ideal hover power at the mass flown over electrical power; its uncertainty is that of the ideal power."""
    hover = latest_hover(on)
    ideal = ideal_power_w(on.aircraft, _mass(on.aircraft, hover)[0], ANOTHER_DAY)
    shown = electrical_w(on.aircraft, hover)
    yield Figure("implied_efficiency", None, ideal.value / shown, ideal.u / shown, "1", None, hover.place)


@rule(
    "power_sensing/hover-power",
    each="aircraft",
    severity=NO_GO,
    job=Job.POWER_SENSING,
    precaution=ANY_LOADED_RUN,
    source="momentum theory of the actuator disc, as in J. G. Leishman, Principles of Helicopter Aerodynamics, "
    "chapter 2",
    tolerances=_CONDITIONS,
)
def hover_power(aircraft: Aircraft, on: Context) -> Outcome:
    """Does the hover take at least the power that physics asks for?

    Nothing hovers on less than the ideal induced power of its rotors. Where volts × amperes come out below
    it, a scale reads low, with certainty and without any meter: more is drawn than counted.

    Reasoning: each rotor of disc area A with thrust T takes T^1.5/√(2·density·A) at the least; the thrusts
    add up to the weight flown. Discs that share area take more; the smaller factor of the two that theory
    gives is used (1.281 for a pair of which one lies in the other's wake; 1.414 would be in one plane). Wind
    saves some, by Glauert's formula, and that much is taken off. Found if the power shown is below this bound
    by more than the bound's own uncertainty (mass and prop diameter within 1 %, density within 5 % since
    the day was another, and what the site leaves open), clear if above by as much.
    It asks for a hover of ``hover_steady_s`` or more, ``hover_height_diameters`` or more above the ground, in
    no more than ``hover_wind_m_s``; otherwise it is unproven. Where no hover is recorded it is not asked.

    Fails:

        aircraft: {name: Trial, layout: quad-x}
        site: {elevation_m: 0, temperature_c: 15, station_pressure_hpa: 1013.25}
        every_rotor: {prop: {diameter_in: 10}}
        records:
          hover:
            - {date: 2026-04-18, mean_current_a: 4.8, mean_voltage_v: 15.0, duration_s: 60, takeoff_mass_g: 1500,
               height_m: 3, wind_m_s: 0}

    (72 W shown, where 80 W are needed)

    Passes:

        aircraft: {name: Trial, layout: quad-x}
        site: {elevation_m: 0, temperature_c: 15, station_pressure_hpa: 1013.25}
        every_rotor: {prop: {diameter_in: 10}}
        records:
          hover:
            - {date: 2026-04-18, mean_current_a: 11.0, mean_voltage_v: 15.0, duration_s: 60, takeoff_mass_g: 1500,
               height_m: 3, wind_m_s: 0}

    Not checked: ducts, which are not recorded; a ducted rotor may take as little as 0.71 of the bound. A scale
    that reads high, and one that reads low by less than the losses of the drive.
    """
    seen = _compared(aircraft, on)
    if isinstance(seen, NotApplicable):
        return seen
    factor = t_factor(float("inf"))
    low, high = seen.bound.value - factor * seen.bound.u, seen.bound.value + factor * seen.bound.u
    if seen.shown_w < low:
        message = (
            f"the hover shows {seen.shown_w:.0f} W, but open rotors of this size need {seen.bound.value:.0f} W "
            "at the least: volts or amperes read low"
        )
        times = seen.bound.value / seen.shown_w
        remedy = (
            f"compare the current, then the voltage, with a meter: together they read low by a factor of "
            f"{times:.2f} or more; look at the mass and the prop diameters too"
        )
        return Finding(seen.place, message, seen.evidence, remedy, seen.related)
    if seen.shown_w < high:
        message = f"the hover shows {seen.shown_w:.0f} W, too near the least of {seen.bound.value:.0f} W to tell"
        how = "compare current and voltage with a meter, and weigh the aircraft again"
        return Unproven("uncertain", seen.place, message, how, seen.evidence, seen.related)
    return Clear(seen.evidence)


@rule(
    "power_sensing/hover-efficiency",
    each="aircraft",
    severity=CAUTION,
    job=Job.POWER_SENSING,
    precaution=ANY_LOADED_RUN,
    source="common practice, no source",
    tolerances=(*_CONDITIONS, EFFICIENCY_LEAST, EFFICIENCY_MOST),
)
def hover_efficiency(aircraft: Aircraft, on: Context) -> Outcome:
    """Is the hover as efficient as such aircraft are?

    Ideal power over electrical power lies near 0.4 to 0.6 for most drives. Far outside, a scale is wrong, or
    the mass, the props or a motor is not what the record says.

    Reasoning: ideal induced power, as for hover-power, over volts × amperes of the hover; found if below
    ``hover_efficiency_least`` or above ``hover_efficiency_most`` by more than the ideal power's uncertainty,
    unproven within it. Above 1 it is hover-power's finding and not said again. Where no hover is recorded it
    is not asked.

    Fails:

        aircraft: {name: Trial, layout: quad-x}
        site: {elevation_m: 0, temperature_c: 15, station_pressure_hpa: 1013.25}
        every_rotor: {prop: {diameter_in: 10}}
        records:
          hover:
            - {date: 2026-04-18, mean_current_a: 24.0, mean_voltage_v: 15.0, duration_s: 60, takeoff_mass_g: 1500,
               height_m: 3, wind_m_s: 0}

    Passes:

        aircraft: {name: Trial, layout: quad-x}
        site: {elevation_m: 0, temperature_c: 15, station_pressure_hpa: 1013.25}
        every_rotor: {prop: {diameter_in: 10}}
        records:
          hover:
            - {date: 2026-04-18, mean_current_a: 11.0, mean_voltage_v: 15.0, duration_s: 60, takeoff_mass_g: 1500,
               height_m: 3, wind_m_s: 0}

    Not checked: what motor, speed controller and prop each lose.
    """
    seen = _compared(aircraft, on)
    if isinstance(seen, NotApplicable):
        return seen
    efficiency, u = seen.bound.value / seen.shown_w, seen.bound.u / seen.shown_w
    reach = t_factor(float("inf")) * u
    if efficiency - reach > 1:
        return NotApplicable("no drive is better than ideal: see hover-power")
    least, most = on.limit(EFFICIENCY_LEAST), on.limit(EFFICIENCY_MOST)
    evidence = f"{seen.evidence}; efficiency {efficiency:.2f} ± {reach:.2f}, plausible from {least:g} to {most:g}"
    if efficiency + reach < least or efficiency - reach > most:
        low = efficiency < least
        message = (
            f"the hover's efficiency comes out at {efficiency:.2f}, which is "
            f"{'less than' if low else 'more than'} such drives have"
        )
        remedy = (
            f"compare current and voltage with a meter: volts × amperes may read {'high' if low else 'low'}; "
            "look at mass and prop diameters, and feel after a hover whether a motor is hot, pack unplugged"
        )
        return Finding(seen.place, message, evidence, remedy, seen.related)
    if efficiency - reach < least or efficiency + reach > most:
        message = f"the hover's efficiency of {efficiency:.2f} ± {reach:.2f} is too near the limit to tell"
        how = "compare current and voltage with a meter, and weigh the aircraft again"
        return Unproven("uncertain", seen.place, message, how, evidence, seen.related)
    return Clear(evidence)


@dataclass(frozen=True, slots=True)
class _Compared:
    """A hover under the right conditions: what was shown, and the bound in its wind."""

    place: Place
    shown_w: float
    bound: Uncertain
    evidence: str
    related: tuple[Related, ...]


def _compared(aircraft: Aircraft, on: Context) -> _Compared | NotApplicable:
    if isinstance(aircraft.power_sensing, NotFitted):
        return NotApplicable("no power sensing is fitted")
    if not any(record.date.value.date <= on.judged_on for record in aircraft.records.hover):
        return NotApplicable("no hover is recorded")
    hover = latest_hover(on)
    current, volts = need(hover.mean_current_a), need(hover.mean_voltage_v)
    height, wind, lasted = need(hover.height_m), need(hover.wind_m_s), need(hover.duration_s)
    mass_g, mass_place = _mass(aircraft, hover)
    enough_m = on.limit(HOVER_HEIGHT) * largest_diameter_m(aircraft)
    if height.value < enough_m:
        message = f"the hover was {height.value:g} m above the ground, where the ground helps to lift"
        raise _not_comparable(height.place, message, f"hover {enough_m:.1f} m or more above the ground")
    if wind.value > on.limit(HOVER_WIND):
        message = f"the hover was in {wind.value:g} m/s of wind, which helps to lift"
        raise _not_comparable(wind.place, message, f"hover in {on.limit(HOVER_WIND):g} m/s of wind or less")
    if lasted.value < on.limit(HOVER_STEADY):
        message = f"the hover lasted {lasted.value:g} s, too short for a mean"
        raise _not_comparable(lasted.place, message, f"hover for {on.limit(HOVER_STEADY):g} s or more")
    still = ideal_power_w(aircraft, mass_g, ANOTHER_DAY)
    saved = wind_saves(wind.value, mean_induced_m_s(aircraft, mass_g))
    bound = Uncertain(saved * still.value, saved * still.u)
    shown = electrical_w(aircraft, hover)
    air = air_density(aircraft.site)
    evidence = (
        f"hover of {hover.date.value}: {volts.value:g} V × {current.value:g} A"
        + ("" if abs(shown / (volts.value * current.value) - 1) < 1e-9 else " converted to the settings installed")
        + f" = {shown:.0f} W; least power for {mass_g:g} g at {air.value:.3f} kg/m³ and {wind.value:g} m/s of wind "
        f"{bound.value:.0f} W ± {t_factor(float('inf')) * bound.u:.0f} W (95 %)"
    )
    return _Compared(current.place, shown, bound, evidence, (Related(mass_place, f"{mass_g:g} g lifted"),))


def _mass(aircraft: Aircraft, hover: records.Hover) -> tuple[float, Place]:
    """As flown, else as recorded for take-off, in g."""
    mass = hover.takeoff_mass_g
    if not isinstance(mass, Known):
        mass = need(aircraft.about.takeoff_mass_g)
    return mass.value, mass.place


def _not_comparable(place: Place, message: str, how: str) -> Open:
    return Open(Unproven("absent", place, message, f"{how}; {HOW}"))


RULES = (hover_power, hover_efficiency)
FIGURES = (density_figures, ideal_figures, hover_figures, efficiency_figures)
