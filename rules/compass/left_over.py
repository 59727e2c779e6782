"""The compass after its corrections: what is left over of hard and soft iron, on every heading."""

from __future__ import annotations

from functools import cache
from math import asin, degrees, hypot, sqrt

from preflint.api import Absent, Aircraft, Context, NotFitted, Open, fitted, need, not_recorded
from preflint.arrays import np
from preflint.compute.decision import expanded_radius_2d
from preflint.compute.deviation import Deviations, deviations
from preflint.compute.ellipsoid import shape_matrix
from preflint.compute.geomagnetism import Field, deviation_deg
from preflint.compute.least_squares import Array
from preflint.frozen import dataclass

from ..interference.earth import earth_field, soft_iron_matrix
from .rotation import Rotation

_CENTRE = 3  # of the nine parameters of an ellipsoid


@cache
def every_heading() -> Array:
    """Degrees, two apart."""
    return np.arange(0.0, 360.0, 2.0)


@dataclass(frozen=True, slots=True, eq=False)
class Corrected:
    """A compass that shows ``matrix·b + centre`` in a field b: 1 and 0 would be right.

    ``centre``: (3,) in µT with ``covariance``; ``scale``: its field over the Earth's.
    """

    centre: Array
    covariance: Array
    matrix: Array
    scale: float


@dataclass(frozen=True, slots=True)
class HardIron:
    """Largest error of heading (degrees) that the centre left over makes level, with bounds at 95 %."""

    value: float
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class LeftOver:
    """Largest error of heading (degrees) with bounds at 95 % and standard uncertainty; ``heading`` where it is."""

    value: float
    low: float
    high: float
    u: float
    heading: float
    axis_ratio: float


def fitted_compass(aircraft: Aircraft) -> fitted.Compass:
    """What is set. Ends the rule as unproven where nobody says what is fitted."""
    assert not isinstance(aircraft.compass, NotFitted)
    if isinstance(aircraft.compass, Absent):
        raise Open(not_recorded(aircraft.compass))
    return aircraft.compass.value


def corrected(on: Context, rotation: Rotation) -> Corrected:
    """The compass of this aircraft after its corrections. Ends the rule as unproven where none are recorded."""
    return on.once(after_corrections, fitted_compass(on.aircraft), rotation, earth_field(on))


def hard_iron_left(on: Context, rotation: Rotation) -> HardIron:
    """What hard iron is left over on this aircraft. Ends the rule as unproven as :func:`corrected` does."""
    return on.once(hard_iron_error, rotation, corrected(on, rotation), earth_field(on))


def after_corrections(compass: fitted.Compass, rotation: Rotation, earth: Field) -> Corrected:
    """With the corrections installed: hard iron is added first. Ends the rule as unproven without one."""
    multiplied, added = soft_iron_matrix(compass.soft_iron), np.array(need(compass.hard_iron_ut).value)
    shown = multiplied @ np.linalg.inv(rotation.fit.shape) / earth.total_ut
    return Corrected(
        multiplied @ (rotation.fit.centre + added),
        multiplied @ rotation.covariance @ multiplied.T,
        shown,
        float(np.linalg.det(shown) ** (1 / 3)),
    )


def hard_iron_error(rotation: Rotation, left: Corrected, earth: Field) -> HardIron:
    """From the centre that the corrections leave."""
    across, scale = float(np.hypot(left.centre[0], left.centre[1])), left.scale
    radius = expanded_radius_2d(left.covariance[:2, :2], rotation.dof)
    strong, weak = (scale * (earth.horizontal_ut + sign * 1.96 * earth.u_horizontal_ut) for sign in (1, -1))
    return HardIron(
        deviation_deg(across, scale * earth.horizontal_ut),
        deviation_deg(max(0.0, across - radius), strong),
        deviation_deg(across + radius, weak) if weak > 0 else 180.0,
    )


def left_over(
    compass: fitted.Compass,
    rotation: Rotation,
    earth: Field,
    *,
    hard: bool,
    disturbance: Array | None = None,
    doubt: tuple[float, float, float] = (0.0, 0.0, 0.0),
    tilt_deg: float = 0.0,
) -> LeftOver:
    """On every heading, of soft iron and, if ``hard``, of hard iron together with another disturbance (µT).

    ``doubt`` of the disturbance, as the sensor shows it: its u, the radius and the reach at 95 % as a run has them.
    All nine parameters of the ellipsoid count with their covariance: slopes by differences at the worst heading.
    """
    multiplied = soft_iron_matrix(compass.soft_iron)
    added = np.array(need(compass.hard_iron_ut).value) if hard else None
    more = np.zeros(3) if disturbance is None else disturbance

    def at(parameters: Array, headings: Array) -> tuple[Deviations, Array]:
        shown = multiplied @ np.linalg.inv(shape_matrix(parameters[..., 3:])) / earth.total_ut
        fixed = (more if added is None else more + parameters[..., :3] + added) @ multiplied.T
        field = earth.horizontal_ut, earth.down_ut
        return deviations(headings, *field, disturbance_ut=fixed, matrix=shown, tilt_deg=tilt_deg), shown

    best = rotation.parameters
    found, shown = at(best, every_heading())
    row, way = np.unravel_index(int(np.argmax(np.abs(found.error_deg))), found.error_deg.shape)
    steps = np.sqrt(np.diag(rotation.fit.covariance)) * 0.01
    counts = steps > 0
    if not hard:  # of soft iron by itself the centre tells nothing
        counts[:_CENTRE] = False
    moved = np.diag(steps)[counts]
    either = at(best + np.concatenate([moved, -moved]), every_heading()[[row]])[0].error_deg[:, 0, way]
    ahead, behind = np.split(either, 2)
    slopes = np.zeros(best.size)
    slopes[counts] = (180.0 - (180.0 - (ahead - behind)) % 360.0) / (2 * steps[counts])  # the short way round
    u = rotation.widened * sqrt(max(0.0, float(slopes @ rotation.fit.covariance @ slopes)))
    # The worst heading is chosen among all, so the factor is that of a vector with two parts.
    expanded = expanded_radius_2d(np.eye(2) * u**2, rotation.dof)
    field = 1.96 * earth.u_horizontal_ut / earth.horizontal_ut * float(np.max(np.abs(found.error_deg)))
    stretched, weakest = float(np.linalg.norm(multiplied, 2)), max(found.least_shown_ut, 1e-9)
    u_more, by_ball, by_reach = (degrees(asin(min(1.0, stretched * part / weakest))) for part in doubt)
    value = found.worst_deg
    return LeftOver(
        value,
        max(0.0, value - hypot(expanded, field, by_ball)),
        min(180.0, value + hypot(expanded, field, by_reach)),
        hypot(u, field / 1.96, u_more),
        float(every_heading()[row]),
        float(np.linalg.cond(shown)),
    )
