"""Does it rain harder than the aircraft is made for?"""

from preflint.api import (
    DESK,
    NO_GO,
    PACK_UNPLUGGED,
    Aircraft,
    Clear,
    Context,
    Finding,
    Job,
    Outcome,
    Related,
    need,
    rule,
)

from .today import no_weather, today

_HOW_HARD = ("none", "light", "heavy")


@rule(
    "day/rain",
    each="aircraft",
    severity=NO_GO,
    job=Job.RECORD,
    precaution=PACK_UNPLUGGED,
    source="common practice, no source (no aircraft is flown in more rain than it is made for)",
)
def rain(aircraft: Aircraft, on: Context) -> Outcome:
    """Does it rain harder than the aircraft is made for?

    Water bridges the contacts of a speed controller or of the flight controller: a motor stops, or all of them do.

    The day's `rain` (none, light, heavy; snow counts as light or more) against that of `limits_of_aircraft`. Of a
    day without rain nothing more is asked.

    Fails:

        site: {days: [{date: 2026-05-21, rain: light}]}
        limits_of_aircraft: {rain: none}

    Passes: the same with

        limits_of_aircraft: {rain: light}

    It does not check fog and wet grass, nor whether what keeps the water out is in its place.
    """
    day = today(on)
    if day is None:
        return no_weather(on)
    falls = need(day.rain)
    if falls.value == "none":
        return Clear("no rain")
    most = need(aircraft.limits.rain)
    bears = "no rain" if most.value == "none" else f"{most.value} rain at most"
    if _HOW_HARD.index(falls.value) <= _HOW_HARD.index(most.value):
        return Clear(f"{falls.value} rain; it is made for {bears}")
    return Finding(
        place=most.place,
        message=f"there is {falls.value} rain, and the aircraft is made for {bears}",
        evidence=f"rain: {falls.value} on {on.judged_on}",
        do="wait until it is dry; then write the day's weather again",
        related=(Related(falls.place, f"{falls.value} rain"),),
        mind=DESK,
    )
