"""How fast two successive records of a kind drift apart, and how long the later lasts at that rate."""

from collections.abc import Iterator
from functools import partial

from preflint.api import Context, Figure, figure, records
from preflint.frozen import dataclass

from ..shared.successive import last_two
from .trends import TRENDS, Trend, trends

# Nearer than that, two records tell how well the reading repeats and not how it drifts; common practice, no source.
APART_DAYS = 7
LONGEST_DAYS = 3650.0


@dataclass(frozen=True, slots=True)
class Drift:
    """A trend of so many days, and how long the later record lasts if it goes on: days at best, likely, at worst."""

    trend: Trend
    apart_days: int

    @property
    def told(self) -> bool:
        """A rate inside its own uncertainty is no rate."""
        return self.trend.size > self.trend.expanded

    @property
    def lasts_days(self) -> tuple[float, float, float]:
        wide = self.trend.expanded / self.trend.size
        at_most, likely, at_least = (self._lasts(factor) for factor in (1 - wide, 1.0, 1 + wide))
        return at_most, likely, at_least

    def _lasts(self, factor: float) -> float:
        low, high = 0.0, LONGEST_DAYS
        if self.trend.holds(high * factor / self.apart_days):
            return high
        for _ in range(60):
            middle = (low + high) / 2
            if self.trend.holds(middle * factor / self.apart_days):
                low = middle
            else:
                high = middle
        return low


def last_pair(on: Context, kind: str) -> tuple[records.Dated, records.Dated] | str:
    """The two latest records of a kind that is followed; or why they cannot be compared."""
    return on.once(last_two, on, kind, on.aircraft.records.of_kind(kind), TRENDS[kind].converted)


def pair_apart(on: Context, kind: str) -> tuple[records.Dated, records.Dated] | str:
    """The two latest records of a kind, where they are far enough apart; or why no drift can be told."""
    pair = last_pair(on, kind)
    if isinstance(pair, str):
        return pair
    apart = _apart_days(*pair)
    if apart < APART_DAYS:
        return f"the last two are {apart} days apart, and a drift is told from {APART_DAYS} days on"
    return pair


def _apart_days(earlier: records.Dated, later: records.Dated) -> int:
    return (later.date.value.date - earlier.date.value.date).days


def drifts(on: Context, kind: str, earlier: records.Dated, later: records.Dated) -> list[Drift]:
    return [Drift(trend, _apart_days(earlier, later)) for trend in trends(on, kind, earlier, later)]


def _rates(kind: str, on: Context) -> Iterator[Figure]:
    """How fast the later of the two latest records of a kind moved away from the earlier."""
    pair = pair_apart(on, kind)
    if isinstance(pair, str):
        return
    for one in drifts(on, kind, *pair):
        trend, days = one.trend, one.apart_days
        quantity, unit = _PER_DAY[trend.unit]
        place = pair[1].date.place
        yield Figure(quantity, trend.case, trend.change / days, trend.u / days, unit, None, place, trend.dof)


_PER_DAY = {
    "%": ("drift_percent_per_day", "%/d"),
    "µT/A": ("drift_ut_per_a_per_day", "µT/(A·d)"),
    "°": ("drift_deg_per_day", "deg/d"),
    "hPa": ("drift_hpa_per_day", "hPa/d"),
}

FIGURES = tuple(figure(f"drift-{kind.replace('_', '-')}")(partial(_rates, kind)) for kind in TRENDS)
