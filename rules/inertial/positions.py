"""Six positions: zero and scale of the accelerometer, against gravity at the site."""

from __future__ import annotations

import math
from collections.abc import Iterator

from preflint.api import Context, Figure, Known, Open, Unproven, figure, need, records
from preflint.arrays import np
from preflint.compute.accelerometer import Axes, fit_axes, tilt_of_zero_deg
from preflint.compute.decision import t_factor
from preflint.compute.gravity import normal_gravity_m_s2
from preflint.compute.least_squares import Array, Indeterminate
from preflint.frozen import dataclass

HOW = "rest the aircraft on each of its six sides, motors still, and write the accelerations of each in six_positions"
# Standard uncertainty of a reading at rest: it wanders by that much with warmth; common practice, no source.
_U_READING = 0.05
# Anywhere on the ground: least at the equator on a mountain, most at the poles.
_ANYWHERE = (9.76, 9.84)
KNOWN = t_factor(math.inf)


@dataclass(frozen=True, slots=True, eq=False)
class Positions:
    """One record of six positions, fitted: ``gravity`` in m/s² is that of the site, or of anywhere."""

    record: records.SixPositions
    fit: Axes
    gravity: float
    u_gravity: float

    @property
    def off(self) -> Array:
        """Of each axis, forward, right, down: its scale less one, (3,)."""
        return self.fit.scale - 1

    @property
    def u_off(self) -> Array:
        """Standard uncertainties of these, (3,)."""
        return np.hypot(np.sqrt(np.diag(self.fit.covariance)[3:]), self.fit.scale * self.u_gravity / self.gravity)

    @property
    def tilt_deg(self) -> float:
        """How far from level it holds itself, by the zeros."""
        return tilt_of_zero_deg(float(self.fit.zero[0]), float(self.fit.zero[1]), self.gravity)

    @property
    def u_zero(self) -> float:
        """Of the zeros forward and right, along the direction that is known least, in m/s²."""
        return math.sqrt(float(np.linalg.eigvalsh(self.fit.covariance[:2, :2])[-1]))

    @property
    def u_tilt_deg(self) -> float:
        """As of the zeros."""
        return math.degrees(self.u_zero / self.gravity)

    def in_words(self) -> str:
        """For the evidence."""
        zero, scale = self.fit.zero, self.fit.scale
        return (
            f"six positions of {self.record.date.value}, forward, right, down: scale {scale[0]:.3f}, {scale[1]:.3f}, "
            f"{scale[2]:.3f}; zero {zero[0]:+.2f}, {zero[1]:+.2f}, {zero[2]:+.2f} m/s²; gravity {self.gravity:.3f} m/s²"
        )


def fitted(record: records.SixPositions, on: Context) -> Positions:
    """Ends the rule as unproven where the record tells no zero and scale."""
    return on.once(_fitted, record, on)


def _fitted(record: records.SixPositions, on: Context) -> Positions:
    table = need(record.table).value
    readings = np.column_stack([table.column(f"accel_{axis}_m_s2") for axis in "xyz"])
    gravity, u_gravity = _gravity(on)
    try:
        fit = fit_axes(readings, gravity, _U_READING)
    except Indeterminate as why:
        message = f"the six positions of {record.date.value} do not show zero and scale of each axis"
        raise Open(
            Unproven(
                cause="uncertain",
                place=record.place,
                message=message,
                do=HOW,
                evidence=str(why),
                record="six_positions",
            )
        ) from why
    return Positions(record, fit, gravity, u_gravity)


def _gravity(on: Context) -> tuple[float, float]:
    site = on.aircraft.site
    if not isinstance(site.latitude_deg, Known):
        low, high = _ANYWHERE
        return (low + high) / 2, (high - low) / math.sqrt(12)
    elevation = site.elevation_m.value if isinstance(site.elevation_m, Known) else 0.0
    return normal_gravity_m_s2(site.latitude_deg.value, elevation), 0.001


def latest_positions(on: Context) -> Positions:
    """Of the record that still speaks. Ends the rule as unproven without one."""
    return fitted(on.freshest("six_positions", on.aircraft.records.six_positions, HOW), on)


@figure("six-positions")
def inertial_figures(on: Context) -> Iterator[Figure]:
    """Scale of each axis, and how far from level the aircraft holds itself."""
    if not on.aircraft.records.six_positions:
        return
    found = latest_positions(on)
    place = found.record.place
    for case, scale, u in zip("xyz", found.fit.scale, found.u_off, strict=True):
        yield Figure("accelerometer_scale", case, float(scale), float(u), "1", None, place)
    yield Figure("level_error_deg", None, found.tilt_deg, found.u_tilt_deg, "deg", None, place)
