"""Does the plan count on less wind than there is?"""

from preflint.api import (
    CAUTION,
    DESK,
    PACK_UNPLUGGED,
    Absent,
    Aircraft,
    Clear,
    Context,
    Finding,
    Job,
    Known,
    NotApplicable,
    Outcome,
    Related,
    Unproven,
    rule,
)

from .aloft import WIND_SOURCE, wind_between
from .today import no_weather, today


@rule(
    "day/planned-wind",
    each="aircraft",
    severity=CAUTION,
    job=Job.RECORD,
    precaution=PACK_UNPLUGGED,
    source=WIND_SOURCE,
)
def planned_wind(aircraft: Aircraft, on: Context) -> Outcome:
    """Is the plan made for as much wind as there is?

    The plan says in how much wind the aircraft comes home, and with which charge. On a day with more wind it comes home
    later, or not at all, and every number that the plan was checked with is one of another day.

    Mean wind of the day at the planned height, as `day/wind` has it, against `plan.wind_m_s`. Found where it is more by
    either exponent, clear where it is more by neither, otherwise too uncertain to tell. A flight that stays overhead
    (`farthest_m: 0`) is not asked.

    Fails:

        site: {days: [{date: 2026-05-21, wind_m_s: 7, gust_m_s: 9, source: forecast}]}
        plan: {farthest_m: 300, height_m: 30, wind_m_s: 4}

    Passes: the same with

        plan: {farthest_m: 300, height_m: 30, wind_m_s: 9}

    It does not check gusts, which the way home averages out, nor what `day/wind` does not check.
    """
    day, plan = today(on), aircraft.plan
    if day is None:
        return no_weather(on)
    height, wind, blows = plan.height_m, plan.wind_m_s, day.wind_m_s
    if isinstance(plan.farthest_m, Known) and plan.farthest_m.value == 0:
        return NotApplicable("the flight is planned to stay overhead")
    if isinstance(height, Absent) or isinstance(wind, Absent) or isinstance(blows, Absent):
        return NotApplicable("height or wind of the plan, or the day's wind, is not recorded, which others ask for")
    low, high = wind_between(day, height.value)
    speed = f"{low:.1f}" if low == high else f"{low:.1f} to {high:.1f}"
    evidence = f"{speed} m/s at {height.value:g} m on {on.judged_on}; the plan has {wind.value:g} m/s"
    if high <= wind.value:
        return Clear(evidence)
    do = "wait for less wind; or write the day's wind at that height in plan.wind_m_s, and see whether it comes home"
    related = (Related(blows.place, f"{blows.value:g} m/s of wind"),)
    if low > wind.value:
        return Finding(
            place=wind.place,
            message=f"the plan is for {wind.value:g} m/s of wind, and {speed} m/s blow at {height.value:g} m",
            evidence=evidence,
            do=do,
            related=related,
            mind=DESK,
        )
    return Unproven(
        cause="uncertain",
        place=wind.place,
        message=f"the plan is for {wind.value:g} m/s of wind, and {speed} m/s may blow at {height.value:g} m",
        do=do,
        evidence=evidence,
        related=related,
        mind=DESK,
    )
