"""Does it blow harder than the aircraft is made for, where it is to fly?"""

from collections.abc import Iterator

from preflint.api import (
    CAUTION,
    DESK,
    NO_GO,
    PACK_UNPLUGGED,
    Aircraft,
    Clear,
    Context,
    Figure,
    Finding,
    Job,
    NotApplicable,
    Open,
    Outcome,
    figure,
    need,
    rule,
)
from preflint.compute.decision import u_rectangular

from .aloft import SHARE, WIND_SOURCE, Air, Blow, against_limits, wind_between
from .today import ask_for_weather, no_weather, today


@figure("wind-at-height")
def wind_figures(on: Context) -> Iterator[Figure]:
    """Mean wind at the planned height: the middle of the two profiles, with their distance as its uncertainty."""
    day, height = today(on), on.aircraft.plan.height_m
    if day is not None:
        low, high = wind_between(day, need(height).value)
        u = u_rectangular((high - low) / 2)
        yield Figure("wind_at_height_m_s", None, (low + high) / 2, u, "m/s", None, need(day.wind_m_s).place)


@rule(
    "day/wind",
    each="aircraft",
    severity=NO_GO,
    job=Job.RECORD,
    precaution=PACK_UNPLUGGED,
    source=WIND_SOURCE,
    tolerances=(SHARE,),
)
def wind(aircraft: Aircraft, on: Context) -> Outcome:
    """Does it blow harder than the aircraft is made for at the height planned?

    The wind at the ground is not the wind aloft. An aircraft that holds its place at head height is carried off at
    the height of the flight, tilts to its limit, and does not come home.

    Wind at the planned height (`plan.height_m`) = wind × (height / height at which it was measured)^α, with α from
    1/7 (open ground) to 0.2 (the normal profile for wind turbines); a forecast without `at_height_m` is of 10 m.
    Gusts are as much above the mean aloft as below. Found where wind or gusts are over the limit by either α: the
    aircraft's own (`limits_of_aircraft`; its wind limit counts for gusts where it has none for them) or
    `wind_share_of_airspeed` of its airspeed. Where the answer hangs on α `day/wind-aloft` tells it. Asked where the
    weather of the day judged for is written down, in the club's policy or under `site`.

    Fails:

        site: {days: [{date: 2026-05-21, wind_m_s: 6, at_height_m: 2, gust_m_s: 8, source: anemometer}]}
        plan: {height_m: 120}
        limits_of_aircraft: {wind_m_s: 9, gust_m_s: 14}

    Passes: the same with

        plan: {height_m: 10}

    It does not check how good the forecast is, nor the lee of trees and hills, nor a wind that grows faster with
    height on a clear evening: look at the tops of the trees. It knows nothing of the wind at another time of the day.
    """
    day = today(on)
    if day is None:
        return ask_for_weather(on)
    air = on.once(against_limits, aircraft, day, on)
    if any(one.over for one in air.blows):
        return _found(air, max((one for one in air.blows if one.over), key=_beyond))
    if any(one.hangs for one in air.blows):
        return NotApplicable("the answer hangs on how the wind grows with height: see day/wind-aloft")
    if air.open:
        raise Open(air.open)
    return Clear(air.evidence)


@rule(
    "day/wind-aloft",
    each="aircraft",
    severity=CAUTION,
    job=Job.RECORD,
    precaution=PACK_UNPLUGGED,
    source=WIND_SOURCE,
    tolerances=(SHARE,),
)
def wind_aloft(aircraft: Aircraft, on: Context) -> Outcome:
    """May it blow harder at the height planned than the aircraft is made for?

    Between smooth open ground and rough ground the wind grows with height by 1/7 to 0.2 as exponent: at 120 m a
    wind of 6 m/s held at 2 m is 10.8 or 13.6 m/s. Where the limit lies between, no profile tells on which side.

    The reasoning is that of `day/wind`, which tells what is over the limit by either exponent.

    Fails:

        site: {days: [{date: 2026-05-21, wind_m_s: 6, at_height_m: 2, gust_m_s: 8, source: anemometer}]}
        plan: {height_m: 120}
        limits_of_aircraft: {wind_m_s: 12, gust_m_s: 18}

    Passes: the same with

        plan: {height_m: 50}

    It does not check what `day/wind` does not check.
    """
    day = today(on)
    if day is None:
        return no_weather(on)
    try:
        air = on.once(against_limits, aircraft, day, on)
    except Open:
        return NotApplicable("day/wind asks for what is missing")
    if any(one.over for one in air.blows):
        return NotApplicable("it is over a limit whatever the profile: see day/wind")
    hanging = [one for one in air.blows if one.hangs]
    return _found(air, max(hanging, key=_beyond)) if hanging else Clear(air.evidence)


def _beyond(one: Blow) -> float:
    return one.high / one.most.value


def _found(air: Air, worst: Blow) -> Finding:
    subject = "the wind is" if worst.what == "wind" else "gusts are"
    at = "" if air.height_m is None else f" at {air.height_m:g} m"
    may = subject.replace("is", "may be").replace("are", "may be") if worst.hangs else subject
    speed = f"{worst.high:.1f}" if worst.high == worst.low else f"{worst.low:.1f} to {worst.high:.1f}"
    lower = "" if air.lower_m is None or air.height_m is None else f"fly no higher than {air.lower_m:g} m, or "
    return Finding(
        place=worst.most.place,
        message=f"{may} over {worst.most.words}{at}: {speed} m/s, at most {worst.most.value:.3g}",
        evidence=air.evidence,
        do=f"{lower}wait for less wind; then write {'height_m or ' if lower else ''}the day's wind again",
        related=air.related,
        mind=DESK,
    )
