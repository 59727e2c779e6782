"""The heading error that the interference left over makes at hover and full throttle, level and tilted."""

from __future__ import annotations

from collections.abc import Iterator

from preflint.api import SETTINGS, Context, Figure, NotFitted, Open, Unproven, figure
from preflint.arrays import np
from preflint.compute.geomagnetism import Field, deviation_deg, horizontal_disturbance_ut
from preflint.compute.least_squares import Array
from preflint.frozen import dataclass

from ..power.draw import full_current_a, hover_current_a
from .earth import UNIT_HOW, earth_field, is_strong_as_earth
from .held_up import fitted_run
from .limits import TILTS_DEG
from .run import Run, offset


@dataclass(frozen=True, slots=True)
class Case:
    """A state of flight: so much current, none with the motors still, and so far from level."""

    at_full_throttle: bool
    current_a: float
    tilt_deg: float

    @property
    def load(self) -> str:
        return "full" if self.at_full_throttle else "hover" if self.current_a else "still"

    @property
    def attitude(self) -> str:
        return "tilted" if self.tilt_deg else "level"

    @property
    def in_words(self) -> str:
        tilted = f"tilted {self.tilt_deg:.0f}°" if self.tilt_deg else "level"
        if self.load == "still":
            return f"with the motors still, {tilted}"
        throttle = "full throttle" if self.at_full_throttle else "hover"
        return f"at {throttle} ({self.current_a:.0f} A), {tilted}"


@dataclass(frozen=True, slots=True)
class Deviation:
    """Largest error of heading (degrees) in one case, with bounds at 95 %; 180 is a meaningless heading."""

    case: Case
    value: float
    low: float
    high: float
    u: float | None

    @property
    def in_words(self) -> str:
        return in_figures(self.case, self.value, self.low, self.high)


def in_figures(case: Case, value: float, low: float, high: float) -> str:
    """A case and its error, short, as they stand in the evidence."""
    return f"{case.load} {case.current_a:.0f} A {case.attitude} {value:.1f}° ({low:.1f} to {high:.1f}°)"


def deviations(on: Context) -> tuple[list[Deviation], Open | None]:
    """All cases that can be computed with the offset installed, and why the others cannot.

    Hover draws less than full throttle, and the error grows with the current: where full throttle is known, nothing
    is missing without hover.
    """
    return on.once(_deviations, on)


def _deviations(on: Context) -> tuple[list[Deviation], Open | None]:
    installed, run = offset(on.aircraft), fitted_run(on)
    field, left = earth_field(on), run.left_over(np.array(installed.value))
    _must_be_a_field(run, field)
    found: list[Deviation] = []
    missing: Open | None = None
    for at_full_throttle in (False, True):
        try:
            current = full_current_a(on.aircraft) if at_full_throttle else hover_current_a(on)[0]
        except Open as end:
            missing = end  # that of full throttle where both are missing
            continue
        if at_full_throttle:
            missing = None
        found += [_deviation(Case(at_full_throttle, current, tilt), left, run, field) for tilt in TILTS_DEG]
    if not found and missing:
        raise missing
    return found, missing


def _must_be_a_field(run: Run, earth: Field) -> None:
    """Ends the rule as unproven where the log can be no field in µT, whatever iron the aircraft has."""
    shown = run.steps.least_field_ut
    if not is_strong_as_earth(shown, earth.total_ut):
        message = (
            f"the run of {run.record.date.value} shows {shown:.3g} µT at the least current; the Earth has "
            f"{earth.total_ut:.1f} µT"
        )
        raise Open(
            Unproven(cause="uncertain", place=run.record.place, message=message, do=UNIT_HOW, mind=SETTINGS)
        )


def most_across_ut(disturbance_ut: Array) -> float:
    """The most of a field (3,) fixed to the aircraft that lies level, the aircraft level or tilted."""
    return max(horizontal_disturbance_ut(disturbance_ut, tilt) for tilt in TILTS_DEG)


def _deviation(case: Case, left: Array, run: Run, field: Field) -> Deviation:
    across = horizontal_disturbance_ut(left * case.current_a, case.tilt_deg)
    radius, reach = run.radius * case.current_a, run.reach * case.current_a
    horizontal, u_horizontal = field.horizontal_ut, field.u_horizontal_ut
    value = deviation_deg(across, horizontal)
    low = deviation_deg(max(0.0, across - radius), horizontal + 1.96 * u_horizontal)
    weakest = horizontal - 1.96 * u_horizontal
    high = deviation_deg(across + reach, weakest) if weakest > 0 else 180.0
    u = None
    if value < 90:
        u_across = case.current_a * run.u
        slope = horizontal * np.cos(np.radians(value))
        u = float(np.degrees(np.hypot(u_across, across / horizontal * u_horizontal) / slope))
    return Deviation(case, value, low, high, u)


@figure("heading-error")
def heading_figures(on: Context) -> Iterator[Figure]:
    """The largest error of heading that the interference left over makes."""
    if isinstance(on.aircraft.compass, NotFitted):
        return  # a run from before the compass was taken off
    run = fitted_run(on)
    for one in deviations(on)[0]:
        case = f"{run.kind}-{one.case.load}-{one.case.attitude}"
        yield Figure("heading_error_deg", case, one.value, one.u, "deg", None, run.record.place, run.dof)
