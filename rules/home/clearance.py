"""How far above the highest obstacle it comes home."""

from collections.abc import Iterator

from preflint.api import Aircraft, Context, Figure, Known, Tolerance, figure, need
from preflint.compute.atmosphere import SEA_LEVEL_KG_M3, metres_per_hpa
from preflint.compute.decision import u_rectangular
from preflint.frozen import dataclass

from ..power.lift import air_density
from .does import not_home

DRIFT = Tolerance(
    "return_pressure_drift",
    "hPa",
    0.5,
    "higher",
    "common practice, no source (half an hour of a pressure that falls quickly, by 1 hPa an hour)",
    "how far the pressure, or what the barometer makes of it, may change between take-off and coming home",
)
# Height by satellite, 95 %: GPS SPS Performance Standard, 5th edition, 2020, global average (from memory).
_BY_SATELLITE_M = 13.0


@dataclass(frozen=True, slots=True)
class Above:
    """``within_m``: what the height at which it comes home may be wrong by, in m, by what ``by`` says."""

    height: Known[float]
    obstacle: Known[float]
    within_m: float
    by: str

    @property
    def metres(self) -> float:
        """Above the highest obstacle; below its top where it is less than zero."""
        return self.height.value - self.obstacle.value


def above(aircraft: Aircraft, drift_hpa: float) -> Above:
    """Ends the rule as unproven where a height is missing."""
    height, obstacle = need(aircraft.home.height_m), need(aircraft.site.highest_obstacle_m)
    if aircraft.relies_on("barometer") is False:
        return Above(height, obstacle, _BY_SATELLITE_M, "height by satellite")
    site = aircraft.site
    knows = any(isinstance(one, Known) for one in (site.station_pressure_hpa, site.elevation_m))
    step = metres_per_hpa(air_density(site).value if knows else SEA_LEVEL_KG_M3)
    return Above(height, obstacle, drift_hpa * step, f"{drift_hpa:g} hPa of drift at {step:.2f} m/hPa")


@figure("return-height")
def height_figures(on: Context) -> Iterator[Figure]:
    """How far above the highest obstacle it comes home, with what the height may be wrong by as a bound: a/√3."""
    if not_home(on.aircraft) is None:
        found = on.once(above, on.aircraft, on.limit(DRIFT))
        u = u_rectangular(found.within_m)
        yield Figure("return_clearance_m", None, found.metres, u, "m", None, found.height.place)
