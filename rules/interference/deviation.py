"""The heading error that the interference left over makes, and the Earth's field it is measured by."""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from preflint.api import (
    PACK_UNPLUGGED,
    Context,
    Figure,
    NotFitted,
    Open,
    Unproven,
    figure,
    need,
)
from preflint.compute.geomagnetism import (
    Field,
    decimal_year,
    deviation_deg,
    geomagnetic_field,
    horizontal_disturbance_ut,
)
from preflint.compute.least_squares import Array

from ..power.draw import full_current_a, hover_current_a
from ..shared.loaded_run import again
from .log import UNIT_HOW
from .run import Run, fitted_run, latest_run, logged, offset

ANY_IRON = 4.0  # more than iron on board bends the field, less than any mistaken unit; common practice, no source
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


def earth_field(on: Context) -> Field:
    """The model field at the site on the day judged at. Ends the rule as unproven without a site."""
    site = on.aircraft.site
    latitude, longitude = need(site.latitude_deg).value, need(site.longitude_deg).value
    elevation = need(site.elevation_m).value
    try:
        return geomagnetic_field(latitude, longitude, elevation, decimal_year(on.judged_on))
    except ValueError as why:
        raise Open(
            Unproven(
                place=site.place,
                message=f"no field is known at the site: {why}",
                do="judge at a date that the model covers",
                mind=PACK_UNPLUGGED,
            )
        ) from why


@figure("earth-field")
def field_figures(on: Context) -> Iterator[Figure]:
    """The Earth's field at the site on the day judged at, by the World Magnetic Model."""
    field, place = earth_field(on), on.aircraft.site.place
    yield Figure("field_total_ut", None, field.total_ut, field.u_total_ut, "µT", None, place)
    yield Figure("field_horizontal_ut", None, field.horizontal_ut, field.u_horizontal_ut, "µT", None, place)
    yield Figure("field_inclination_deg", None, field.inclination_deg, field.u_inclination_deg, "deg", None, place)
    yield Figure("field_declination_deg", None, field.declination_deg, field.u_declination_deg, "deg", None, place)


@figure("interference")
def run_figures(on: Context) -> Iterator[Figure]:
    """Field for each ampere shown during the run, as logged: with the offset in it if compensated."""
    record = latest_run(on)
    _, slope, covariance, _ = logged(record)
    for axis, case in enumerate("xyz"):
        u = float(np.sqrt(covariance[axis, axis]))
        yield Figure("interference_ut_per_a", case, float(slope[axis]), u, "µT/A", None, record.place)


@figure("heading-error")
def heading_figures(on: Context) -> Iterator[Figure]:
    """The largest error of heading that the interference left over makes."""
    if isinstance(on.aircraft.compass, NotFitted):
        return  # a run from before the compass was taken off
    run = fitted_run(on)
    for one in deviations(on, run, np.array(offset(on.aircraft).value))[0]:
        case = f"{run.kind}-{one.load}-{one.attitude}"
        yield Figure("heading_error_deg", case, one.value, one.u, "deg", None, run.record.place)


def deviations(on: Context, run: Run, installed: Array) -> tuple[list[Deviation], Open | None]:
    """All cases that can be computed, and why the others cannot."""
    field, left = earth_field(on), run.left_over(installed)
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
