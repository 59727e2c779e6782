"""The field while the aircraft is turned through all attitudes: its centre, size and shape."""

from __future__ import annotations

from collections.abc import Iterator
from math import sqrt

from preflint.api import SETTINGS, Context, Figure, Known, NotFitted, Open, Unproven, figure, need, records
from preflint.arrays import np
from preflint.compute.decision import t_factor
from preflint.compute.ellipsoid import Ellipsoid, fit_ellipsoid, shape_parameters
from preflint.compute.least_squares import Array, Indeterminate
from preflint.compute.serial import Serial, serial
from preflint.frozen import dataclass

from ..interference.earth import UNIT_HOW, earth_field, is_strong_as_earth, soft_iron_matrix
from ..interference.log import field_digit
from ..interference.run import vector

ROTATION_HOW = (
    "log the field outdoors, away from steel and cables, motors still: turn the aircraft slowly, each of its six "
    "sides down in turn, with a full turn on each"
)
AGAIN = "then log a rotation and repeat the heading check"
NO_ROTATION = "no compass rotation is recorded; the heading check is what flight needs"
_FEWEST_DOF = 3.0  # fewer independent rows beyond the nine parameters tell no scatter
_A_LOG = 30  # rows: from here on they are taken for a log, in which neighbours are not independent
_MOST_ROWS = 4_000  # of a longer log every second, third ... row is taken: its neighbours say the same
_LARGEST_SCATTER = 0.1  # of the radius: readings so far off any ellipsoid are those of something else
_LARGEST_U = 0.1  # of the radius: with a centre known no better, the covariance itself is not to be trusted


@dataclass(frozen=True, slots=True, eq=False)
class Rotation:
    """An ellipsoid through the field as the sensor itself showed it, without any correction.

    ``widened``: standard uncertainties over the fit's own, for rows that are not independent and for the last
    digit; ``dof``: what that leaves of the degrees of freedom.
    """

    record: records.CompassRotation
    fit: Ellipsoid
    widened: float
    dof: float
    rows: int
    kind: str

    @property
    def needed(self) -> Array:
        """The hard_iron_ut that brings the centre to zero, (3,) in µT."""
        return -self.fit.centre

    @property
    def parameters(self) -> Array:
        """Centre and shape xx, yy, zz, xy, xz, yz, (9,), in the order of the fit's covariance."""
        return np.concatenate([self.fit.centre, shape_parameters(self.fit.shape)])

    @property
    def covariance(self) -> Array:
        """Of the centre, (3, 3)."""
        return np.asarray(self.fit.covariance[:3, :3] * self.widened**2)

    @property
    def u_radius(self) -> float:
        return self.fit.u_radius * self.widened

    @property
    def u_axis_ratio(self) -> float:
        return self.fit.u_axis_ratio * self.widened

    @property
    def axis_ratio_at_most(self) -> float:
        """Upper bound at 95 %. The ratio itself reads high: of axes that are alike, scatter makes one the longest."""
        return self.fit.axis_ratio + t_factor(self.dof) * self.u_axis_ratio

    def in_words(self) -> str:
        return f"{self.kind} rotation of {self.record.date.value}, {self.rows} rows"


def fitted_rotation(on: Context) -> Rotation:
    """The rotation that still speaks. Ends the rule as unproven without one, or where it covers too little."""
    kept = on.aircraft.records.compass_rotation
    record = on.freshest("compass_rotation", kept, ROTATION_HOW, mind=SETTINGS)
    compass = on.aircraft.compass
    return on.once(_fitted, record, isinstance(compass, Known) and isinstance(compass.value.soft_iron, Known))


def rotation_or_none(on: Context) -> Rotation | None:
    """The rotation, where there is one that speaks and shows a field as strong as the Earth's."""
    if not on.aircraft.records.compass_rotation:
        return None
    try:
        rotation = fitted_rotation(on)
        must_be_a_field(rotation, earth_field(on).total_ut)
    except Open:
        return None
    return rotation


def _fitted(record: records.CompassRotation, multiplied: bool) -> Rotation:
    """``multiplied``: a soft_iron matrix is installed, so a compensated log must say which one it holds."""
    day, kind, table = record.date.value, need(record.field_is).value, need(record.table).value
    columns = [table.column(f"field_{axis}_ut") for axis in "xyz"]
    points = np.column_stack(columns)[:: -(-table.values.shape[0] // _MOST_ROWS)]
    if kind == "compensated":
        points = _as_measured(record, points, multiplied)
    try:
        fit = fit_ellipsoid(points)
    except Indeterminate as why:
        raise _open(record, f"the rotation of {day} does not show the compass's errors", str(why)) from why
    if fit.residual_sd > _LARGEST_SCATTER * fit.radius:
        message = f"the readings of the rotation of {day} lie ± {2 * fit.residual_sd:.0f} µT off any ellipsoid"
        raise _open(record, message, "motors ran, steel was near, or it is another log")
    rows = Serial(0.0, 1.0, fit.dof)
    if len(points) >= _A_LOG:
        rows = serial(fit.residuals, fit.slopes)
    if rows.dof < _FEWEST_DOF:
        raise _open(record, f"the rows of the rotation of {day} follow too closely to tell their scatter")
    scatter = fit.residual_sd * rows.widening
    widened = rows.widening * max(1.0, field_digit(table) / sqrt(12) / scatter) if scatter > 0 else 1.0
    found = Rotation(record, fit, widened, rows.dof, table.rows_read, kind)
    u = sqrt(max(0.0, float(np.linalg.eigvalsh(found.covariance)[-1])))
    if u > _LARGEST_U * fit.radius:
        raise _open(record, f"the rotation of {day} covers too little: it shows the centre to ± {2 * u:.0f} µT")
    return found


def microtesla(values: Array | tuple[float, ...]) -> str:
    """Three numbers as they are written in a manifest, to a tenth."""
    return f"[{', '.join(f'{round(float(value), 1) + 0.0:.1f}' for value in values)}]"


def matrix_needed(rotation: Rotation) -> str:
    """The matrix that makes a sphere of the ellipsoid, as it is written in a manifest."""
    return f"[{', '.join(vector(row) for row in rotation.fit.radius * rotation.fit.shape)}]"


def must_be_a_field(rotation: Rotation, total_ut: float) -> None:
    """Ends the rule as unproven where the log can be no field in µT; field-strength says so."""
    shown = rotation.fit.radius
    if not is_strong_as_earth(shown, total_ut):
        message = f"the rotation shows {shown:.3g} µT, the Earth has {total_ut:.1f} µT"
        raise Open(
            Unproven(cause="uncertain", place=rotation.record.place, message=message, do=UNIT_HOW, mind=SETTINGS)
        )


def _as_measured(record: records.CompassRotation, points: Array, multiplied: bool) -> Array:
    """Takes the corrections out again that a compensated log holds: they were added first, then multiplied."""
    added, by = need(record.in_force.hard_iron_ut).value, record.in_force.soft_iron
    inverse = np.linalg.inv(soft_iron_matrix(need(by) if multiplied else by))
    return np.asarray(points @ inverse.T - np.array(added))


def _open(record: records.CompassRotation, message: str, evidence: str = "") -> Open:
    return Open(
        Unproven(
            cause="uncertain",
            place=record.place,
            message=message,
            evidence=evidence,
            do=ROTATION_HOW,
            mind=SETTINGS,
            record="compass_rotation",
        )
    )


@figure("compass-rotation")
def rotation_figures(on: Context) -> Iterator[Figure]:
    """What the rotation asks for and shows, of the sensor by itself."""
    if isinstance(on.aircraft.compass, NotFitted):
        return  # a rotation from before the compass was taken off
    rotation = fitted_rotation(on)
    place = rotation.record.place
    for axis, case in enumerate("xyz"):
        u = sqrt(rotation.covariance[axis, axis])
        yield Figure("hard_iron_needed_ut", case, float(rotation.needed[axis]), u, "µT", None, place, rotation.dof)
    yield Figure("field_radius_ut", None, rotation.fit.radius, rotation.u_radius, "µT", None, place, rotation.dof)
    ratio, u_ratio = rotation.fit.axis_ratio, rotation.u_axis_ratio
    yield Figure("soft_iron_axis_ratio", None, ratio, u_ratio, "1", None, place, rotation.dof)
