"""The heading error that the interference left over makes."""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from preflint.api import PACK_UNPLUGGED, Context, Figure, NotFitted, Open, Tolerance, Unproven, figure
from preflint.compute.geomagnetism import Field, deviation_deg, horizontal_disturbance_ut
from preflint.compute.least_squares import Array

from ..power.draw import full_current_a, hover_current_a
from ..shared.loaded_run import again
from .earth import ANY_IRON, UNIT_HOW, earth_field
from .run import Run, fitted_run, offset

HEADING_LIMIT = Tolerance(
    "heading_error_limit_deg",
    "deg",
    10.0,
    "lower",
    "14 CFR 27.1327(a)(2), former 23.1327(a)(2)",
    "deviation of the compass under load beyond which nobody flies who relies on it",
)
HEADING_AIM = Tolerance(
    "heading_error_aim_deg",
    "deg",
    5.0,
    "lower",
    "common practice, no source",
    "deviation of the compass under load that is aimed at",
)
TILT_DEG = 25.0  # common practice, no source: leaning into wind or hurrying along


@dataclass(frozen=True, slots=True)
class Deviation:
    """Largest error of heading (degrees) in one case, with bounds at 95 %; 180 is a meaningless heading."""

    load: str
    attitude: str
    current_a: float
    value: float
    low: float
    high: float
    u: float | None


@figure("heading-error")
def heading_figures(on: Context) -> Iterator[Figure]:
    """The largest error of heading that the interference left over makes."""
    if isinstance(on.aircraft.compass, NotFitted):
        return  # a run from before the compass was taken off
    run = fitted_run(on)
    for one in deviations(on)[0]:
        case = f"{run.kind}-{one.load}-{one.attitude}"
        yield Figure("heading_error_deg", case, one.value, one.u, "deg", None, run.record.place)


def deviations(on: Context) -> tuple[list[Deviation], Open | None]:
    """All cases that can be computed with the offset installed, and why the others cannot."""
    return on.once(_deviations, on)


def _deviations(on: Context) -> tuple[list[Deviation], Open | None]:
    run, field = fitted_run(on), earth_field(on)
    left = run.left_over(np.array(offset(on.aircraft).value))
    _is_a_field(run, field)
    found: list[Deviation] = []
    missing: Open | None = None
    for load in ("hover", "full"):
        try:
            current = hover_current_a(on)[0] if load == "hover" else full_current_a(on.aircraft)
        except Open as end:
            missing = missing or end
            continue
        for attitude, tilt in (("level", 0.0), ("tilted", TILT_DEG)):
            found.append(_deviation(load, attitude, tilt, current, left, run, field))
    if not found and missing:
        raise missing
    return found, missing


def _is_a_field(run: Run, earth: Field) -> None:
    """Ends the rule as unproven where the log can be no field in µT, whatever iron the aircraft has."""
    still = run.steps.field[int(np.argmin(np.abs(run.steps.current)))]
    shown = float(np.linalg.norm(still))
    if not earth.total_ut / ANY_IRON <= shown <= earth.total_ut * ANY_IRON:
        message = (
            f"at the least current the run of {run.record.date.value} shows a field of {shown:.3g} µT, where the "
            f"Earth's has {earth.total_ut:.1f} µT"
        )
        raise Open(
            Unproven(cause="uncertain", place=run.record.place, message=message, do=UNIT_HOW, mind=PACK_UNPLUGGED)
        )


def must_be_alive(run: Run) -> None:
    """Ends the rule as unproven where the log shows a sensor that stands still."""
    if not np.any(np.ptp(run.steps.field, axis=0)):
        day = run.record.date.value
        message = f"the run of {day} shows one field to the last digit at every current: no sensor is that still"
        how = "look whether the logger took what the sensor showed; log the run again"
        raise Open(Unproven(cause="uncertain", place=run.record.place, message=message, do=how, mind=again(run.record)))


def _deviation(load: str, attitude: str, tilt: float, current: float, left: Array, run: Run, field: Field) -> Deviation:
    across = horizontal_disturbance_ut(left * current, tilt)
    radius = run.radius * current
    horizontal, u_horizontal = field.horizontal_ut, field.u_horizontal_ut
    value = deviation_deg(across, horizontal)
    low = deviation_deg(max(0.0, across - radius), horizontal + 1.96 * u_horizontal)
    weakest = horizontal - 1.96 * u_horizontal
    high = deviation_deg(across + radius, weakest) if weakest > 0 else 180.0
    u = None
    if value < 90:
        u_across = current * float(np.sqrt(max(0.0, np.linalg.eigvalsh(run.covariance)[-1])))
        slope = horizontal * np.cos(np.radians(value))
        u = float(np.degrees(np.hypot(u_across, across / horizontal * u_horizontal) / slope))
    return Deviation(load, attitude, current, value, low, high, u)
