"""What the planned flight takes: the way home against the wind, and the charge for all of it."""

import math
from collections.abc import Iterator

from preflint.api import DESK, Aircraft, Context, Known, Open, Unproven, fitted, need
from preflint.compute.decision import t_factor, u_rectangular
from preflint.compute.energy import charge_mah, way_home_s
from preflint.frozen import dataclass

from ..power.lift import Uncertain
from .charge import Capacity, capacity, hover

# Half-width, relative, of the speed through the air at which it flies home; common practice, no source.
_AIRSPEED_WITHIN = 0.1
LESS_WIND = "fly on a day with less wind, or upwind of yourself only"
K = t_factor(math.inf)


@dataclass(frozen=True, slots=True)
class Way:
    """Seconds from the farthest place to the ground at home: as planned, and between which bounds (95 %)."""

    seconds: float
    least: float
    most: float
    words: str


@dataclass(frozen=True, slots=True)
class Need:
    """mAh that flight and way home take, with the bounds (95 %) that they and the pack's charge leave.

    ``usable`` is what the pack gives down to the reserve.
    """

    flight: float
    home: float
    usable: float
    below: float
    above: float
    evidence: str

    @property
    def whole(self) -> float:
        """Flight and way home."""
        return self.flight + self.home


def airspeed(aircraft: Aircraft) -> tuple[Known[float], float]:
    """The speed through the air, as planned and no more than the aircraft reaches, and its U at 95 %; m/s."""
    told, reached = need(aircraft.plan.airspeed_m_s), aircraft.limits.airspeed_m_s
    if isinstance(reached, Known) and reached.value < told.value:
        told = reached
    return told, K * u_rectangular(_AIRSPEED_WITHIN * told.value)


def at_speed(aircraft: Aircraft) -> str:
    """``10 ± 1.1 m/s``, and where the plan has more than the aircraft reaches, that it does."""
    (speed, u), planned = airspeed(aircraft), need(aircraft.plan.airspeed_m_s)
    more = "" if speed.place == planned.place else f" (all that it reaches; the plan has {planned.value:g})"
    return f"{speed.value:g} ± {u:.1f} m/s{more}"


def way_home(aircraft: Aircraft) -> Way:
    """Back against the wind, then down. Ends the rule as unproven where the plan does not tell."""
    plan = aircraft.plan
    far = need(plan.farthest_m).value
    down, words = 0.0, f"{far:g} m home"
    seconds = least = most = 0.0
    if far > 0:
        (speed, u), wind = airspeed(aircraft), need(plan.wind_m_s).value
        seconds, least, most = (
            way_home_s(far, through_air, wind) for through_air in (speed.value, speed.value + u, speed.value - u)
        )
        words += f" at {at_speed(aircraft)} against {wind:g} m/s"
    height = need(plan.height_m).value
    if height > 0:
        descent = need(plan.descent_m_s).value
        down = height / descent
        words += f", {height:g} m down at {descent:g} m/s"
    if math.isfinite(seconds):
        words += f": {seconds + down:.0f} s"
    return Way(seconds + down, least + down, most + down, words)


def needed(pack: fitted.Pack, on: Context) -> Need:
    """Of one pack. Ends the rule as unproven where plan, hover current or capacity are not recorded."""
    aircraft = on.aircraft
    minutes, reserve = need(aircraft.plan.flight_min).value, need(aircraft.plan.reserve_percent).value / 100
    way, (current, whence) = on.once(way_home, aircraft), hover(on)
    if math.isinf(way.seconds):
        raise Open(Unproven(
            cause="uncertain", place=airspeed(aircraft)[0].place,
            message="the plan has no way home against the wind", do=LESS_WIND, mind=DESK,
        ))  # fmt: skip
    gives = capacity(pack, on)
    flight, home = charge_mah(current.value, 60 * minutes), charge_mah(current.value, way.seconds)
    of_current = K * current.u / current.value * (flight + home)
    of_pack = K * gives.middle.u * (1 - reserve)
    above = math.hypot(of_current, charge_mah(current.value, way.most - way.seconds), of_pack)
    below = math.hypot(of_current, charge_mah(current.value, way.seconds - way.least), of_pack)
    usable = (1 - reserve) * gives.middle.value
    evidence = (
        f"{minutes:g} min at {in_words(current)} ({whence}): {flight:.0f} mAh; {way.words}: {home:.0f} mAh; "
        f"{usable:.0f} mAh to {100 * reserve:g} % of {gives.least:.0f} to {gives.most:.0f} mAh ({gives.words}); "
        "forward flight at moderate speed takes less than hover"
    )
    return Need(flight, home, usable, below, above, evidence)


def in_words(current: Uncertain) -> str:
    """``15.4 ± 0.9 A``."""
    return f"{current.value:.1f} ± {K * current.u:.1f} A"


def tight_first(on: Context) -> Iterator[tuple[fitted.Pack, Need]]:
    """What each pack has to give for the plan, the tightest first. Ends the rule where one does not tell."""
    packs = on.aircraft.packs
    if not packs:
        message = "no pack is recorded, so that its charge is not known"
        how = "write down label and capacity_mah of each pack"
        raise Open(Unproven(place=on.aircraft.place, message=message, do=how, mind=DESK, on_paper=True))
    every = [(pack, on.once(needed, pack, on)) for pack in packs]
    return iter(sorted(every, key=lambda one: one[1].usable - one[1].whole))


def capacity_of(pack: fitted.Pack, on: Context) -> Capacity | None:
    """For figures: None where nothing tells it."""
    try:
        return capacity(pack, on)
    except Open:
        return None
