"""What blows at the height planned, against what the aircraft is made for."""

import math

from preflint.api import (
    Absent,
    Aircraft,
    Context,
    Known,
    Place,
    Related,
    Tolerance,
    Unproven,
    fitted,
    need,
    not_recorded,
)
from preflint.compute.wind import NORMAL_PROFILE, OPEN_GROUND, height_of_wind_m, wind_at_m_s
from preflint.frozen import dataclass

FORECAST_HEIGHT_M = 10.0  # of the wind that weather services report; WMO-No. 8, part I, chapter 5
WIND_SOURCE = (
    "power law of the wind over height: exponent 1/7 over open ground (Hsu and others 1994, from memory) to 0.2 "
    "(IEC 61400-1, normal profile); gusts keep their size above the mean, as IEC 61400-1 keeps its turbulence; "
    "0.7 of the airspeed: common practice, no source"
)
SHARE = Tolerance(
    "wind_share_of_airspeed",
    "1",
    0.7,
    "lower",
    "common practice, no source",
    "how much of its airspeed may be taken up by the wind, so that it comes home against it",
)
_LOWEST_M = 5.0  # nobody is sent to fly lower than that
_GROUND_M = 1.0  # lower down the power law tells nothing: it has no wind at the ground itself


@dataclass(frozen=True, slots=True)
class Most:
    """The most wind, in m/s: ``words`` say whose limit it is."""

    value: float
    place: Place
    words: str


@dataclass(frozen=True, slots=True)
class Blow:
    """Wind or gusts at one height, between two profiles of the wind, and the least of its limits."""

    what: str
    low: float
    high: float
    most: Most

    @property
    def over(self) -> bool:
        """Whether it is over its limit by whichever profile."""
        return self.low > self.most.value

    @property
    def hangs(self) -> bool:
        """Whether it is over its limit by one profile and not by the other."""
        return self.low <= self.most.value < self.high


@dataclass(frozen=True, slots=True)
class Air:
    """All that blows: at the planned ``height_m``, or where it was measured if no height is planned.

    ``lower_m`` is the height below which all of it is within its limits by either profile; None where there is none
    worth flying at. ``open`` is what is missing for the whole answer.
    """

    blows: tuple[Blow, ...]
    height_m: float | None
    lower_m: float | None
    evidence: str
    related: tuple[Related, ...]
    open: Unproven | None


def measured_at_m(day: fitted.Day) -> float:
    """The height that the day's wind belongs to. Ends the rule as unproven where nobody says."""
    forecast = isinstance(day.source, Known) and day.source.value == "forecast"
    if isinstance(day.at_height_m, Known) or not forecast:
        return need(day.at_height_m).value
    return FORECAST_HEIGHT_M


def wind_between(day: fitted.Day, height_m: float) -> tuple[float, float]:
    """The least and the most mean wind at that height, in m/s, over open ground; below 1 m that of 1 m."""
    wind, at = need(day.wind_m_s).value, measured_at_m(day)
    ends = [wind_at_m_s(wind, at, max(height_m, _GROUND_M), exponent) for exponent in (OPEN_GROUND, NORMAL_PROFILE)]
    return min(ends), max(ends)


def against_limits(aircraft: Aircraft, day: fitted.Day, on: Context) -> Air:
    """The day's wind against the aircraft's limits. Ends the rule as unproven where either is not recorded."""
    limits, plan = aircraft.limits, aircraft.plan
    share = on.limit(SHARE)
    own = limits.wind_m_s
    by_speed = []
    if isinstance(limits.airspeed_m_s, Known):
        words = f"{share:g} of its airspeed"
        by_speed = [Most(share * limits.airspeed_m_s.value, limits.airspeed_m_s.place, words)]
    by_wind = [Most(own.value, own.place, "its limit")] if isinstance(own, Known) else []
    by_gust = by_wind
    if isinstance(limits.gust_m_s, Known):
        by_gust = [Most(limits.gust_m_s.value, limits.gust_m_s.place, "its limit for gusts")]
    if not (by_speed or by_wind or by_gust):
        need(own)
    wind = need(day.wind_m_s)
    at = measured_at_m(day)
    height = plan.height_m.value if isinstance(plan.height_m, Known) else None
    low, high = wind_between(day, at if height is None else height)
    evidence = f"{wind.value:g} m/s at {at:g} m"
    related = [Related(wind.place, evidence)]
    if height is not None and height != at:
        evidence += f", so {low:.1f} to {high:.1f} m/s at {height:g} m (exponent 1/7 to 0.2)"
    blows = [Blow("wind", low, high, _least(by_speed + by_wind))] if by_speed + by_wind else []
    excess = 0.0
    if isinstance(day.gust_m_s, Known) and by_speed + by_gust:
        excess = max(0.0, day.gust_m_s.value - wind.value)
        blows.append(Blow("gusts", low + excess, high + excess, _least(by_speed + by_gust)))
        evidence += f"; gusts {excess:g} m/s more"
        related.append(Related(day.gust_m_s.place, f"gusts of {day.gust_m_s.value:g} m/s"))
    room = min(one.most.value - (excess if one.what == "gusts" else 0.0) for one in blows)
    evidence += "".join(f"; {one.most.words} {one.most.value:g} m/s" for one in blows)
    return Air(tuple(blows), height, _lower(wind.value, at, room), evidence, tuple(related), _missing(aircraft, day))


def _least(mosts: list[Most]) -> Most:
    return min(mosts, key=lambda one: one.value)


def _lower(wind_m_s: float, at_m: float, most_m_s: float) -> float | None:
    """Whole metres below which the wind stays within, by either profile; None where that is not worth flying."""
    if most_m_s <= 0:
        return None
    heights = (height_of_wind_m(wind_m_s, at_m, most_m_s, exponent) for exponent in (OPEN_GROUND, NORMAL_PROFILE))
    lowest = min(heights)
    return float(math.floor(lowest)) if _LOWEST_M <= lowest < math.inf else None


def _missing(aircraft: Aircraft, day: fitted.Day) -> Unproven | None:
    """What is asked for where no height is planned, since the wind grows with it, or nobody noted the gusts."""
    for asked in (aircraft.plan.height_m, day.gust_m_s):
        if isinstance(asked, Absent):
            return not_recorded(asked)
    return None
