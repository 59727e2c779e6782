"""The whole error of the compass: what it shows with the motors still, and what the current adds."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import suppress
from dataclasses import replace
from math import asin, degrees, hypot, inf, radians, sin

from preflint.api import Context, Figure, NotFitted, Open, figure, fitted, records
from preflint.arrays import np
from preflint.compute.decision import expanded_radius_2d, t_factor
from preflint.compute.deviation import Deviations, deviations
from preflint.compute.ellipsoid import soft_iron_heading_error_deg
from preflint.compute.geomagnetism import Field
from preflint.compute.least_squares import Array
from preflint.frozen import dataclass

from ..inertial.positions import Positions, latest_positions
from ..inertial.positions import fitted as positions_of
from ..interference.deviation import Case, Deviation, in_figures
from ..interference.deviation import deviations as of_current
from ..interference.earth import earth_field, soft_iron_matrix
from ..interference.held_up import fitted_run
from ..interference.limits import TILTS_DEG
from ..interference.run import offset
from .checks import Checked, checked
from .curve import Curve, curve_of
from .left_over import corrected, fitted_compass, left_over
from .rotation import Rotation, rotation_or_none


@dataclass(frozen=True, slots=True)
class Still:
    """What shows the compass with the motors still: a heading check, else a rotation, or both."""

    check: Checked | None
    rotation: Rotation | None


@dataclass(frozen=True, slots=True)
class Total:
    """Largest error of heading (degrees) in one case, all causes together, with bounds at 95 %.

    ``still``: with the motors still; ``made``: what the current makes by itself; each at its own worst heading.
    ``parts``: half-widths of the bounds (degrees) by what they come from. ``by_rotation``: a rotation tells it.
    """

    case: Case
    value: float
    low: float
    high: float
    u: float
    heading: float
    still: float
    made: float
    parts: dict[str, float]
    by_rotation: bool = False

    @property
    def in_words(self) -> str:
        return in_figures(self.case, self.value, self.low, self.high)


@dataclass(frozen=True, slots=True, eq=False)
class Made:
    """What the current makes in one case: ``disturbance`` (3,), its u, and its ``radius`` and ``reach`` at 95 % as a
    run has them, in µT.
    """

    by_itself: Deviation
    disturbance: Array
    u: float
    radius: float
    reach: float
    earth: Field

    def half_width_deg(self, of_run_ut: float, weakest_ut: float, model_times: float = 1.96) -> float:
        """What so much doubt of the run's, and so many u of the model field's, can turn the heading by."""
        size = float(np.linalg.norm(self.disturbance))
        by_model = model_times * self.earth.u_horizontal_ut * size / self.earth.horizontal_ut
        return degrees(asin(min(1.0, hypot(of_run_ut, by_model) / max(weakest_ut, 1e-9))))


def still_source(on: Context) -> Still:
    """Ends the rule as unproven where neither is recorded, or what is recorded speaks no more."""
    return on.once(_still_source, on)


def _still_source(on: Context) -> Still:
    check, why_not = None, None
    try:
        check = checked(on)
    except Open as end:
        why_not = end
    rotation = rotation_or_none(on)
    if check is None and rotation is None:
        assert why_not is not None
        raise why_not
    return Still(check, rotation)


def totals(on: Context) -> tuple[list[Total], Open | None]:
    """All cases that can be computed, and why the others cannot. Ends the rule as :func:`still_source` does."""
    return on.once(_totals, on)


def _totals(on: Context) -> tuple[list[Total], Open | None]:
    still = still_source(on)
    run, installed, earth = fitted_run(on), np.array(offset(on.aircraft).value), earth_field(on)
    cases, missing = of_current(on)
    found: list[Total] = []
    if all(one.case.at_full_throttle for one in cases):
        # Between no current and full throttle the error lies between the errors there, whatever hover draws.
        cases = [Deviation(Case(False, 0.0, tilt), 0.0, 0.0, 0.0, 0.0) for tilt in TILTS_DEG] + cases
    for alone in cases:
        current = alone.case.current_a
        made = Made(
            alone,
            run.left_over(installed) * current,
            run.u * current,
            run.radius * current,
            run.reach * current,
            earth,
        )
        total = _by_check(on, still, still.check, made) if still.check else None
        # A check is level, and does not see the vertical part of hard iron.
        if still.rotation and (total is None or alone.case.tilt_deg):
            by_rotation = _by_rotation(on, still.rotation, made)
            total = by_rotation if total is None else _worse(total, by_rotation)
        assert total is not None
        found.append(total)
    return found, missing


def _worse(one: Total, other: Total) -> Total:
    """What is larger, with bounds that hold what either allows at most and shows at least."""
    larger, wider = max(one, other, key=lambda case: case.value), max(one, other, key=lambda case: case.high)
    return replace(larger, low=max(one.low, other.low), high=wider.high, parts=wider.parts)


def unseen(on: Context, still: Still) -> float:
    """The largest soft-iron error that a rotation allows, which few headings may not show; zero without one.

    It adds to the rest in full. With f = A·sin(ψ - α) and g = B·sin 2(ψ - β) no heading has more than A + B. And half
    a turn changes the sign of f and keeps g, so |f + g| on the two headings adds up to at least 2A where f peaks, and
    to at least 2B where g does: the largest is never below the larger of A and B.
    """
    if still.rotation is None:
        return 0.0
    shown = corrected(on, still.rotation).matrix[:2, :2]
    wider = still.rotation.axis_ratio_at_most / still.rotation.fit.axis_ratio
    return soft_iron_heading_error_deg(max(1.0, float(np.linalg.cond(shown)) * wider))


def _by_check(on: Context, still: Still, check: Checked, made: Made) -> Total:
    """The error checked at each heading and the computed one of the current there, with their signs.

    Between the headings checked the error is that of the curve; its largest residual, or what a rotation says of soft
    iron if that is more, is added there.
    """
    curve = on.once(curve_of, check)
    rest = max(curve.residual, 0.0 if check.shows_soft_iron else on.once(unseen, on, still))
    of_made, spread = _along(curve, rest, made)
    errors = curve.errors[:, None]
    whole = 180 - (180 - (errors + of_made.error_deg)) % 360
    by_reference, weakest = t_factor(inf) * check.u_deg, of_made.least_shown_ut
    by_ball, by_run = (made.half_width_deg(doubt, weakest) for doubt in (made.radius, made.reach))
    both = hypot(by_reference, by_run)
    checked_first = len(check.errors_deg)
    beyond = np.where(np.arange(curve.headings.size) < checked_first, 0.0, rest)[:, None]
    high = float(np.max(abs(whole) + spread + beyond)) + both
    row, way = np.unravel_index(int(np.argmax(abs(whole))), whole.shape)
    value = float(abs(whole[row, way]))
    return Total(
        made.by_itself.case,
        value,
        max(0.0, float(np.max((abs(whole) - spread)[:checked_first])) - hypot(by_reference, by_ball)),
        min(180.0, high),
        hypot(check.u_deg, made.half_width_deg(made.u, weakest, 1.0)),
        float(curve.headings[row] % 360),
        float(np.max(abs(errors))),
        made.by_itself.value,
        {"reference": by_reference, "run": by_run, "between": max(0.0, high - both - value)},
    )


def _along(curve: Curve, rest: float, made: Made) -> tuple[Deviations, Array]:
    """What the current does on each heading of the curve, and how far that may be off for what the curve leaves out.

    That may weaken or strengthen the field by the sine of its error.
    """
    change = min(0.95, sin(radians(min(90.0, rest + curve.second))))
    every = deviations(
        np.tile(curve.headings, 3),
        np.maximum(np.outer((1.0, 1 - change, 1 + change), curve.field * made.earth.horizontal_ut).ravel(), 1e-6),
        made.earth.down_ut,
        disturbance_ut=made.disturbance,
        tilt_deg=made.by_itself.case.tilt_deg,
    )
    middle, weak, strong = np.split(every.error_deg, 3)
    as_it_is = Deviations(middle, every.shown_ut[: len(middle)])
    return as_it_is, np.maximum(abs(weak - middle), abs(strong - middle))


@dataclass(frozen=True, slots=True, eq=False)
class Lean:
    """What an aircraft that trusts wrong zeros of its accelerometer makes of the Earth's downward field: as if so much,
    fixed to the aircraft, were added to what the compass shows, corrected: ``vector`` (3,) in µT, with its u;
    ``most_deg``: what it turns the heading by, level, by itself. Where six positions no longer count there is none, and
    ``outdated`` is the latest of them, ``was_deg`` what it told.
    """

    vector: Array
    u: float
    most_deg: float
    outdated: records.SixPositions | None = None
    was_deg: float = 0.0

    def before(self, compass: fitted.Compass) -> Array:
        """The same as the sensor has it (3,), in µT: the soft-iron matrix comes after."""
        found: Array = np.linalg.inv(soft_iron_matrix(compass.soft_iron)) @ self.vector
        return found


def lean(on: Context) -> Lean:
    """Nothing where no six positions speak."""
    return on.once(_lean, on)


def _lean(on: Context) -> Lean:
    nothing, latest = Lean(np.zeros(3), 0.0, 0.0), on.latest(on.aircraft.records.six_positions)
    if latest is None:
        return nothing
    try:
        return _lean_of(latest_positions(on), on)
    except Open:
        with suppress(Open):
            return replace(nothing, outdated=latest, was_deg=_lean_of(positions_of(latest, on), on).most_deg)
    return nothing


def _lean_of(found: Positions, on: Context) -> Lean:
    # Down is taken to lie against what is shown at rest, so it is off by -zero/gravity; what is left of the field when
    # its part along that down is taken away is off by the downward field times as much, the other way.
    earth = earth_field(on)
    per_zero = earth.down_ut / found.gravity
    vector = per_zero * found.fit.zero
    across = hypot(vector[0], vector[1]) / earth.horizontal_ut
    return Lean(vector, abs(per_zero) * found.u_zero, degrees(asin(min(1.0, across))))


def _by_rotation(on: Context, rotation: Rotation, made: Made) -> Total:
    """Hard iron, soft iron, a lean and the current's field as vectors, on every heading."""
    compass, case, earth, leaning = fitted_compass(on.aircraft), made.by_itself.case, made.earth, lean(on)
    of_lean = expanded_radius_2d(np.eye(2) * leaning.u**2)
    before = on.once(leaning.before, compass)
    still = on.once(left_over, compass, rotation, earth, hard=True, disturbance=before, tilt_deg=case.tilt_deg)
    all_of_it = left_over(
        compass,
        rotation,
        earth,
        hard=True,
        disturbance=made.disturbance + before,
        doubt=(hypot(made.u, leaning.u), hypot(made.radius, of_lean), hypot(made.reach, of_lean)),
        tilt_deg=case.tilt_deg,
    )
    by_run = made.half_width_deg(made.reach, earth.horizontal_ut)
    return Total(
        case,
        all_of_it.value,
        all_of_it.low,
        all_of_it.high,
        all_of_it.u,
        all_of_it.heading,
        still.value,
        made.by_itself.value,
        {"rotation": max(0.0, all_of_it.high - all_of_it.value - by_run), "run": by_run},
        by_rotation=True,
    )


@figure("total-deviation")
def total_figures(on: Context) -> Iterator[Figure]:
    """The largest error of heading by hard iron, soft iron and interference together."""
    if isinstance(on.aircraft.compass, NotFitted) or not on.aircraft.records.interference_run:
        return
    still = still_source(on)
    if still.check and not (still.check.goes_round and (still.check.shows_soft_iron or still.rotation)):
        return
    source = still.check or still.rotation
    assert source is not None
    # Of all that makes u, the least: directions and model field are known by their bounds alone.
    dof = min([fitted_run(on).dof, *([still.rotation.dof] if still.rotation else [])])
    for one in totals(on)[0]:
        case = f"{one.case.load}-{one.case.attitude}"
        yield Figure("total_deviation_deg", case, one.value, one.u, "deg", None, source.record.place, dof)
