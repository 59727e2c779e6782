"""The whole error of the compass: what it shows with the motors still, and what the current adds."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from math import asin, degrees, hypot, inf, radians, sin

import numpy as np

from preflint.api import Context, Figure, NotFitted, Open, figure
from preflint.compute.decision import t_factor
from preflint.compute.deviation import deviations
from preflint.compute.ellipsoid import soft_iron_heading_error_deg
from preflint.compute.geomagnetism import Field
from preflint.compute.least_squares import Array

from ..interference.deviation import TILT_DEG, Deviation
from ..interference.deviation import deviations as of_current
from ..interference.earth import earth_field
from ..interference.run import Run, fitted_run, offset
from .checks import Checked, checked
from .curve import Curve, curve_of
from .left_over import EVERY_HEADING, LeftOver, corrected, fitted_compass, left_over
from .rotation import Rotation, fitted_rotation, is_a_field


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

    load: str
    attitude: str
    current_a: float
    value: float
    low: float
    high: float
    u: float
    heading: float
    still: float
    made: float
    parts: dict[str, float]
    by_rotation: bool = False


def still_source(on: Context) -> Still:
    """As :class:`Still`. Ends the rule as unproven where nothing shows it."""
    return on.once(_still_source, on)


def _still_source(on: Context) -> Still:
    """Ends the rule as unproven where neither is recorded, or what is recorded speaks no more."""
    check, rotation, why_not = None, None, None
    try:
        check = checked(on)
    except Open as end:
        why_not = end
    if on.aircraft.records.compass_rotation:
        try:
            rotation = fitted_rotation(on)
            is_a_field(rotation, earth_field(on).total_ut)
        except Open:
            rotation = None
    if check is None and rotation is None:
        assert why_not is not None
        raise why_not
    return Still(check, rotation)


def totals(on: Context) -> tuple[list[Total], Open | None]:
    """All cases that can be computed, and why the others cannot. Ends the rule as :func:`still_source` does."""
    return on.once(_totals, on)


def _totals(on: Context) -> tuple[list[Total], Open | None]:
    still, run, earth = still_source(on), fitted_run(on), earth_field(on)
    cases, missing = of_current(on)
    made = run.left_over(np.array(offset(on.aircraft).value))
    if still.check:
        curve, between = on.once(curve_of, still.check), unseen(on, still)
        found = [_by_check(still.check, curve, between, case, made, run, earth) for case in cases]
        if still.rotation:
            for i, case in enumerate(cases):
                if case.attitude == "tilted":  # a check is level, and does not see the vertical part of hard iron
                    found[i] = _worse(found[i], _by_rotation(on, still.rotation, case, made, run, earth))
        return found, missing
    assert still.rotation is not None
    return [_by_rotation(on, still.rotation, case, made, run, earth) for case in cases], missing


def _worse(one: Total, other: Total) -> Total:
    """What is larger, with bounds that hold what either allows at most and shows at least."""
    larger, wider = max(one, other, key=lambda case: case.value), max(one, other, key=lambda case: case.high)
    return replace(larger, low=max(one.low, other.low), high=wider.high, parts=wider.parts)


def unseen(on: Context, still: Still) -> float:
    """The largest soft-iron error that a rotation allows, which four headings may not show; zero without one.

    It adds to the rest in full. With f = A·sin(ψ - α) and g = B·sin 2(ψ - β) no heading has more than A + B. And half
    a turn changes the sign of f and keeps g, so |f + g| on the two headings adds up to at least 2A where f peaks, and
    to at least 2B where g does: the largest is never below the larger of A and B.
    """
    if still.rotation is None:
        return 0.0
    shown = corrected(on, still.rotation).matrix[:2, :2]
    wider = 1 + t_factor(still.rotation.dof) * still.rotation.u_axis_ratio / still.rotation.fit.axis_ratio
    return soft_iron_heading_error_deg(max(1.0, float(np.linalg.cond(shown)) * wider))


def _by_check(
    check: Checked, curve: Curve, between: float, case: Deviation, made: Array, run: Run, earth: Field
) -> Total:
    """The error checked at each heading and the computed one of the current there, with their signs.

    Between the headings checked the error is that of the curve; its largest residual, or what a rotation says of soft
    iron if that is more, is added there.
    """
    rest = max(curve.residual, between if not curve.two_cycles else 0.0)
    checked_first = len(check.errors_deg)
    beyond = np.concatenate([np.zeros(checked_first), np.full(EVERY_HEADING.size, rest)])[:, None]
    tilt = 0.0 if case.attitude == "level" else TILT_DEG
    # What the curve does not tell may weaken or strengthen the field by the sine of its error.
    change = min(0.95, sin(radians(min(90.0, rest + curve.second))))
    middle, weak, strong = (
        deviations(
            curve.headings,
            np.maximum(curve.field * earth.horizontal_ut * share, 1e-6),
            earth.down_ut,
            disturbance_ut=made * case.current_a,
            tilt_deg=tilt,
        )
        for share in (1.0, 1 - change, 1 + change)
    )
    still = curve.errors[:, None]
    whole = 180 - (180 - (still + middle.error_deg)) % 360
    spread = np.maximum(abs(weak.error_deg - middle.error_deg), abs(strong.error_deg - middle.error_deg))
    by_reference = t_factor(inf) * check.u_deg
    by_run = _by_ball(case, made, run, earth, middle.least_shown_ut)
    both = hypot(by_reference, by_run)
    low = float(np.max((abs(whole) - spread)[:checked_first])) - both
    high = float(np.max(abs(whole) + spread + beyond)) + both
    row, way = np.unravel_index(int(np.argmax(abs(whole))), whole.shape)
    value = float(abs(whole[row, way]))
    return Total(
        case.load,
        case.attitude,
        case.current_a,
        value,
        max(0.0, low),
        min(180.0, high),
        hypot(check.u_deg, by_run / 2.8),
        float(curve.headings[row] % 360),
        float(np.max(abs(still))),
        case.value,
        {"reference": by_reference, "run": by_run, "between": max(0.0, high - both - value)},
    )


def _by_rotation(on: Context, rotation: Rotation, case: Deviation, made: Array, run: Run, earth: Field) -> Total:
    """Hard iron, soft iron and the current's field as vectors, on every heading."""
    compass = fitted_compass(on.aircraft)
    tilt = 0.0 if case.attitude == "level" else TILT_DEG
    still = on.once(_still_left_over, on, rotation, tilt)
    radius, disturbance = run.radius * case.current_a, made * case.current_a
    all_of_it = left_over(compass, rotation, earth, hard=True, disturbance=disturbance, radius=radius, tilt_deg=tilt)
    by_run = _by_ball(case, made, run, earth, earth.horizontal_ut)
    parts = {"rotation": max(0.0, all_of_it.high - all_of_it.value - by_run), "run": by_run}
    return Total(
        case.load,
        case.attitude,
        case.current_a,
        all_of_it.value,
        all_of_it.low,
        all_of_it.high,
        all_of_it.u,
        all_of_it.heading,
        still.value,
        case.value,
        parts,
        by_rotation=True,
    )


def _still_left_over(on: Context, rotation: Rotation, tilt_deg: float) -> LeftOver:
    """Of hard and soft iron alone: the same at hover as at full throttle."""
    return left_over(fitted_compass(on.aircraft), rotation, earth_field(on), hard=True, tilt_deg=tilt_deg)


def _by_ball(case: Deviation, made: Array, run: Run, earth: Field, weakest_ut: float) -> float:
    """Half-width (degrees, 95 %) of what the run's and the model field's uncertainty can turn the heading by."""
    disturbance = float(np.linalg.norm(made)) * case.current_a
    by_model = 1.96 * earth.u_horizontal_ut * disturbance / earth.horizontal_ut
    away = hypot(run.radius * case.current_a, by_model)
    return degrees(asin(min(1.0, away / max(weakest_ut, 1e-9))))


@figure("total-deviation")
def total_figures(on: Context) -> Iterator[Figure]:
    """The largest error of heading by hard iron, soft iron and interference together."""
    if isinstance(on.aircraft.compass, NotFitted) or not on.aircraft.records.interference_run:
        return
    still = still_source(on)
    if still.check and not still.check.goes_round:
        return
    source = still.check or still.rotation
    assert source is not None
    for one in totals(on)[0]:
        case = f"{one.load}-{one.attitude}"
        yield Figure("total_deviation_deg", case, one.value, one.u, "deg", None, source.record.place)
