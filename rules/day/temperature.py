"""Is it warmer or colder than the aircraft is made for?"""

from preflint.api import (
    CAUTION,
    DESK,
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
    need,
    rule,
)

from .today import no_weather, today


@rule(
    "day/temperature",
    each="aircraft",
    severity=CAUTION,
    job=Job.RECORD,
    precaution=PACK_UNPLUGGED,
    source="common practice, no source (air temperatures that the maker states)",
)
def temperature(aircraft: Aircraft, on: Context) -> Outcome:
    """Is it warmer or colder than the aircraft is made for?

    In the heat motors, controllers and packs have less room below what they bear; in the cold a pack gives less
    current, plastic parts break and a display grows slow.

    The day's `temperature_c` against `least_c` and `most_c` of `limits_of_aircraft`. What the temperature does to
    the air stands in the figures `air_density_kg_m3` and `density_altitude_m`, which lift and flight time hang on.

    Fails:

        site: {days: [{date: 2026-05-21, temperature_c: -8}]}
        limits_of_aircraft: {least_c: -5, most_c: 40}

    Passes: the same with

        site: {days: [{date: 2026-05-21, temperature_c: -4}]}

    It does not check the temperature of the pack, nor of a part that stands in the sun.
    """
    day = today(on)
    if day is None:
        return no_weather(on)
    limits = aircraft.limits
    least, most = limits.least_c, limits.most_c
    if not any(isinstance(one, Known) for one in (least, most, limits.wind_m_s, limits.gust_m_s, limits.airspeed_m_s)):
        return NotApplicable("nothing is recorded of the weather that it is made for: day/wind asks for it")
    celsius = need(day.temperature_c)
    if isinstance(least, Known) and celsius.value < least.value:
        return _found(celsius, least, "colder", "at least", "wait for warmer air")
    if isinstance(most, Known) and celsius.value > most.value:
        return _found(celsius, most, "warmer", "at most", "wait for cooler air")
    return Clear(f"{celsius.value:g} °C, between {need(least).value:g} °C and {need(most).value:g} °C")


def _found(celsius: Known[float], limit: Known[float], how: str, bound: str, do: str) -> Finding:
    return Finding(
        place=limit.place,
        message=f"it is {how} than the aircraft is made for: {celsius.value:g} °C, {bound} {limit.value:g} °C",
        evidence=f"{celsius.value:g} °C of the day against {limit.value:g} °C of limits_of_aircraft",
        do=f"{do}; fly short and look at the aircraft after it if you fly all the same",
        related=(Related(celsius.place, f"{celsius.value:g} °C"),),
        mind=DESK,
    )
