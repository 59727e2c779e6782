"""A hover that may be compared with theory or with a thrust stand: steady, high enough, in little wind."""

import math

from preflint.api import (
    HOVER_LOG,
    PACK_IN_PROPS_OFF,
    Aircraft,
    Context,
    Known,
    NotApplicable,
    NotFitted,
    Open,
    Place,
    Related,
    Tolerance,
    Unproven,
    need,
    records,
    together,
)
from preflint.compute.decision import t_factor
from preflint.frozen import dataclass

from ...shared.loaded_run import again, only_for
from ..draw import WINDOW_WITHIN, as_installed_a, flown, is_a_cells, pack_window_v
from ..lift import (
    ANOTHER_DAY,
    HOW,
    Uncertain,
    air_density,
    eased,
    interference,
    is_ducted,
    largest_diameter_m,
    latest_hover,
    least_power_w,
)
from ..range import beyond_sensor
from .shown import shown_v

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
_VOLTS = only_for("the voltage", PACK_IN_PROPS_OFF)
CONDITIONS = (HOVER_WIND, HOVER_HEIGHT, HOVER_STEADY)


@dataclass(frozen=True, slots=True)
class Steady:
    """A hover under the right conditions. ``easier`` is what its wind and its height save, as a factor."""

    hover: records.Hover
    place: Place  # of the mean current
    volts: float
    current: float
    mass_g: float
    mass_place: Place
    easier: Uncertain
    evidence: str


def steady_hover(on: Context) -> Steady | NotApplicable:
    """The latest hover. Ends the rule as unproven where a condition is not kept, or nobody says."""
    aircraft = on.aircraft
    if isinstance(aircraft.power_sensing, NotFitted):
        return NotApplicable("no power sensing is fitted")
    if not on.so_far(aircraft.records.hover):
        return NotApplicable("no hover is recorded")
    hover = latest_hover(on)
    current, volts = need(hover.mean_current_a), need(hover.mean_voltage_v)
    packs = flown(aircraft.packs, hover.pack)
    if packs and all(is_a_cells(volts.value, pack) for pack in packs):
        return NotApplicable("the hover's voltage is that of one cell: see hover-volts")
    height, wind, lasted = need(hover.height_m), need(hover.wind_m_s), need(hover.duration_s)
    mass_g, mass_place = mass(aircraft, hover)
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
    if beyond := beyond_sensor(on, hover, current.value, current.place):
        raise Open(beyond)
    now_v, now_a = shown_v(aircraft, hover), as_installed_a(aircraft, hover)
    converted = abs(now_v * now_a / (volts.value * current.value) - 1) > 1e-9
    evidence = (
        f"hover of {hover.date.value}: {volts.value:g} V × {current.value:g} A"
        + (" converted to the settings installed" if converted else "")
        + f" = {now_v * now_a:.0f} W"
    )
    easier = eased(aircraft, mass_g, wind.value, height.value)
    return Steady(hover, current.place, now_v, now_a, mass_g, mass_place, easier, evidence)


def must_be_a_packs(aircraft: Aircraft, seen: Steady) -> None:
    """Ends the rule as unproven where the volts are no pack's, and so may hide as wrong a current.

    Asked before a hover is called clear: what is found without it stays found. A pack whose cells or chemistry
    are not recorded may have any voltage.
    """
    label, packs = seen.hover.pack, aircraft.packs
    if isinstance(label, Known):
        packs = tuple(p for p in packs if isinstance(p.label, Known) and p.label.value == label.value)
    if not packs or not all(isinstance(p.cells, Known) and isinstance(p.chemistry, Known) for p in packs):
        return
    windows = [pack_window_v(pack) for pack in packs]
    if any(low * (1 - WINDOW_WITHIN) <= seen.volts <= full * (1 + WINDOW_WITHIN) for low, full in windows):
        return
    low, full = min(low for low, _ in windows), max(full for _, full in windows)
    message = f"the hover's {seen.volts:.1f} V do not lie between {low:.1f} V and {full:.1f} V, where its pack lives"
    how = "look at the mean voltage, the pack flown and its cells, then compare the voltage with a meter"
    raise Open(
        Unproven(
            cause="uncertain",
            place=need(seen.hover.mean_voltage_v).place,
            message=message,
            do=how,
            evidence=seen.evidence,
            related=(),
            mind=PACK_IN_PROPS_OFF,
        )
    )


@dataclass(frozen=True, slots=True)
class Compared:
    """The power shown, the least that lifts the aircraft, and what theory expects of ideal drives, in W."""

    hover: Steady
    place: Place
    shown_w: float
    least: Uncertain
    ideal: Uncertain
    evidence: str
    related: tuple[Related, ...]

    @property
    def too_little(self) -> bool:
        """Whether less is shown than anything hovers on, beyond the bound's own uncertainty."""
        return self.shown_w < self.least.value - t_factor(math.inf) * self.least.u


def against_theory(on: Context) -> Compared | NotApplicable:
    """The latest hover against momentum theory. Ends the rule as unproven where an input is missing."""
    return on.once(_against_theory, on)


def _against_theory(on: Context) -> Compared | NotApplicable:
    aircraft, seen = on.aircraft, on.once(steady_hover, on)
    if isinstance(seen, NotApplicable):
        return seen
    least = on.once(least_power_w, aircraft, seen.mass_g, ANOTHER_DAY).times(seen.easier)
    air = air_density(aircraft.site)
    wind = need(seen.hover.wind_m_s).value
    evidence = (
        f"{seen.evidence}; least power for {seen.mass_g:g} g at {air.value:.3f} kg/m³ and {wind:g} m/s of wind "
        f"{least.value:.0f} W ± {t_factor(math.inf) * least.u:.0f} W (95 %), {_ducts_in_words(aircraft)}"
    )
    related = (Related(seen.mass_place, f"{seen.mass_g:g} g lifted"),)
    ideal = least.times(on.once(interference, aircraft))
    return Compared(seen, seen.place, seen.volts * seen.current, least, ideal, evidence, related)


def compared_again(on: Context) -> str:
    """What to mind while current and voltage are compared with a meter."""
    return together(again(on.latest(on.aircraft.records.current_comparison)), _VOLTS)


def mass(aircraft: Aircraft, hover: records.Hover) -> tuple[float, Place]:
    """As flown, else as recorded for take-off, in g."""
    found = hover.takeoff_mass_g
    if not isinstance(found, Known):
        found = need(aircraft.about.takeoff_mass_g)
    return found.value, found.place


def ducts_open(aircraft: Aircraft) -> bool:
    """Whether nobody says of some rotor if it turns in a duct."""
    return not all(isinstance(one.ducted, Known) for one in aircraft.rotors)


def kind_of_rotors(aircraft: Aircraft) -> str:
    """Open, ducted, or some of either."""
    ducted = [is_ducted(one) for one in aircraft.rotors]
    return "ducted rotors" if all(ducted) else "rotors of which some are ducted" if any(ducted) else "open rotors"


def _ducts_in_words(aircraft: Aircraft) -> str:
    if not ducts_open(aircraft):
        return kind_of_rotors(aircraft)
    if any(is_ducted(one) for one in aircraft.rotors):
        return "the rotors of which no duct is recorded taken as open"
    return "taken as open rotors, since no duct is recorded"


def _not_comparable(place: Place, message: str, how: str) -> Open:
    return Open(Unproven(place=place, message=message, do=f"{how}; {HOW}", mind=HOVER_LOG, record="hover"))
