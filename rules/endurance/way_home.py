"""Does the aircraft come home against the wind?"""

import math
from collections.abc import Iterator

from preflint.api import (
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
    Outcome,
    Related,
    Unproven,
    figure,
    need,
    rule,
)
from preflint.compute.decision import u_rectangular
from preflint.compute.energy import charge_mah

from .charge import hover
from .planned import LESS_WIND, airspeed, at_speed, way_home


@figure("way-home")
def way_home_figures(on: Context) -> Iterator[Figure]:
    """Seconds from the farthest place to the ground at home, and the charge that they take at hover current."""
    plan, way = on.aircraft.plan, on.once(way_home, on.aircraft)
    place = need(plan.farthest_m).place
    if math.isinf(way.seconds):
        return
    u = u_rectangular((way.most - way.least) / 2) if math.isfinite(way.most) else None
    yield Figure("way_home_s", None, way.seconds, u, "s", None, place)
    current, _ = hover(on)
    mah = charge_mah(current.value, way.seconds)
    by_time = None if u is None else math.hypot(mah * current.u / current.value, charge_mah(current.value, u))
    yield Figure("way_home_mah", None, mah, by_time, "mAh", None, place)


@rule(
    "endurance/way-home",
    each="aircraft",
    severity=NO_GO,
    job=Job.RECORD,
    precaution=PACK_UNPLUGGED,
    source="the triangle of wind; the guard band after JCGM 106:2012",
)
def comes_home(aircraft: Aircraft, on: Context) -> Outcome:
    """Is the aircraft faster than the wind it is to come home against?

    An aircraft that flies out with the wind and comes back against it slows down over the ground by all of the wind.
    Where the wind is as fast as the aircraft it stands still over a field, or goes backwards, until the pack is empty.

    Reasoning: speed over the ground = `airspeed_m_s` less `wind_m_s` of the plan, the wind in the face all the way.
    The airspeed is taken to be known within 10 %, and to be no more than the aircraft reaches
    (`limits_of_aircraft.airspeed_m_s`). Found if even the fastest of these (95 %) does not gain on the wind,
    clear if the slowest does, otherwise too uncertain to tell. Take the wind at the height of the flight: it is
    stronger than at the ground. Not asked of a flight that stays overhead (`farthest_m: 0`).

    Fails:

        plan: {farthest_m: 300, height_m: 30, airspeed_m_s: 7, descent_m_s: 1.5, wind_m_s: 9}

    Passes: the same with

        plan: {farthest_m: 300, height_m: 30, airspeed_m_s: 10, descent_m_s: 1.5, wind_m_s: 6}

    It does not check gusts, wind that rises meanwhile, nor whether the aircraft tilts far enough for that airspeed.
    """
    plan = aircraft.plan
    far = need(plan.farthest_m)
    if far.value == 0:
        return NotApplicable("the flight is planned to stay overhead")
    (speed, u), wind = airspeed(aircraft), need(plan.wind_m_s)
    gains = speed.value - wind.value
    evidence = f"{at_speed(aircraft)} through the air, {wind.value:g} m/s against it: {gains:.1f} m/s gained"
    related = (Related(wind.place, f"{wind.value:g} m/s of wind"),)
    if gains + u < 0:
        return Finding(
            place=speed.place,
            message=f"at {speed.value:g} m/s it does not come home against {wind.value:g} m/s of wind",
            evidence=evidence,
            do=LESS_WIND,
            related=related,
            mind=DESK,
        )
    if gains - u <= 0:
        return Unproven(
            cause="uncertain",
            place=speed.place,
            message=f"{speed.value:g} m/s against {wind.value:g} m/s of wind: too near to tell whether it comes home",
            do="plan for less wind, or measure the airspeed on a still day, there and back",
            evidence=evidence,
            related=related,
            mind=DESK,
        )
    way = on.once(way_home, aircraft)
    return Clear(f"{evidence}; {way.words}, up to {way.most:.0f} s")
