"""What changed between two records of a kind with nothing done in between, and if the limit holds when it goes on."""

from __future__ import annotations

import cmath
import math
from collections.abc import Callable, Iterator, Mapping
from contextlib import suppress
from typing import Any

from preflint.api import Context, NotFitted, Open, need, records
from preflint.arrays import np
from preflint.compute.decision import effective_dof, t_factor, u_rectangular
from preflint.compute.geomagnetism import deviation_deg
from preflint.frozen import dataclass

from ..barometer.pressure import INDICATION, pressure_of_the_place
from ..compass.checks import DEVIATION, errors_of, short_way
from ..interference.change import changed
from ..interference.deviation import most_across_ut
from ..interference.earth import earth_field
from ..interference.limits import HEADING_LIMIT
from ..interference.run import not_asked, offset
from ..power.draw import hover_current_a, pack_window_v, settings
from ..power.fit import Comparison, Judged, compared
from ..power.hover_bounds import hover_bounds_a
from ..power.limits import CURRENT_SCALE, VOLTAGE_SCALE
from ..power.meter import Record, Unit
from ..power.sensing.agreement import alike
from ..shared.successive import ANEW

_KNOWN = t_factor(math.inf)


@dataclass(frozen=True, slots=True)
class Trend:
    """How far ``what`` moved from the earlier record to the later, in ``unit``, with its u of ``dof``, and U at 95 %;
    ``shown`` is the format of both numbers.

    ``size`` is zero or more. ``holds(share)`` tells whether the limit still holds, with the uncertainty of the
    later record, after so many times the change on top of what that record showed.
    """

    case: str
    what: str
    change: float
    u: float
    dof: float
    expanded: float
    unit: str
    shown: str
    limit: str
    holds: Callable[[float], bool]

    @property
    def size(self) -> float:
        return abs(self.change)

    def in_words(self) -> str:
        """What moved, by how much."""
        unit = self.unit if self.unit == "°" else f" {self.unit}"
        size = f"{self.expanded:{self.shown.lstrip('+')}}"
        return f"{self.what} moved by {self.change:{self.shown}} ± {size}{unit}"


def _within(later: float, expanded: float, change: float, limit: float) -> Callable[[float], bool]:
    """Whether one number keeps to its limit after so many times the change, with the U of the later record."""

    def holds(share: float) -> bool:
        return abs(later + share * change) + expanded <= limit

    return holds


def volts(on: Context, earlier: records.VoltageComparison, later: records.VoltageComparison) -> Iterator[Trend]:
    """Errors of indication at the full and the lowest voltage of every pack, by the setting of now."""
    if isinstance(on.aircraft.power_sensing, NotFitted):
        return
    now = need(settings(on.aircraft).divider_ratio).value
    fits = [compared(on, r, "v", now / need(r.in_force.divider_ratio).value) for r in (earlier, later)]
    windows = [pack_window_v(pack) for pack in on.aircraft.packs]
    full = max((high for _, high in windows), default=float(np.max(fits[1].reference)))
    lowest = min((low for low, _ in windows), default=float(np.min(fits[1].reference)))
    for case, at in (("full", full), ("lowest", lowest)):
        if at > 0:
            yield _indicated(f"volts-{case}", "v", at, (earlier, later), fits, on.limit(VOLTAGE_SCALE))


def amperes(on: Context, earlier: records.CurrentComparison, later: records.CurrentComparison) -> Iterator[Trend]:
    """Errors of indication at the highest reading and, where it is known, at hover current, by the settings of now."""
    if isinstance(on.aircraft.power_sensing, NotFitted):
        return
    set_now = settings(on.aircraft)
    sensor, zero = need(set_now.sensor_mv_per_a).value, need(set_now.zero_mv).value
    fits = []
    for record in (earlier, later):
        scale = need(record.in_force.sensor_mv_per_a).value / sensor
        shift = (need(record.in_force.zero_mv).value - zero) / sensor
        fits.append(compared(on, record, "a", scale, shift))
    cases = [("top", float(np.max(fits[1].reference)))]
    with suppress(Open):  # the highest reading is judged all the same
        cases.append(("hover", hover_current_a(on)[0]))
    for case, at in cases:
        yield _indicated(f"amperes-{case}", "a", at, (earlier, later), fits, on.limit(CURRENT_SCALE))


def _indicated(
    case: str, unit: Unit, at: float, pair: tuple[Record, Record], fits: list[Comparison], limit: float
) -> Trend:
    """Per cent. One instrument is wrong alike both times, and so is the zero: they mostly leave the change alone."""
    one, other = (fit.judge(at, limit / 100) for fit in fits)
    moved, zero = other.error - one.error, _of_zero(fits[1], other) - _of_zero(fits[0], one)
    common = [one.of_meter, other.of_meter, zero]
    if alike([record.reference.instrument for record in pair]):
        common = [ANEW * one.of_meter, ANEW * other.of_meter, other.of_meter - one.of_meter, zero]
    return Trend(
        case,
        f"the error of indication at {at:.{2 if unit == 'v' else 1}f} {unit.upper()}",
        100 * moved,
        100 * math.hypot(one.of_rows, other.of_rows, *common),
        effective_dof(
            [
                *((judged.of_rows, fit.judging.dof_rows) for judged, fit in zip((one, other), fits, strict=True)),
                (math.hypot(*common), math.inf),
            ]
        ),
        100 * math.hypot(one.factor * one.of_rows, other.factor * other.of_rows, *(_KNOWN * u for u in common)),
        "%",
        "+.2f",
        f"{limit:g} %",
        _within(100 * other.error, 100 * other.expanded, 100 * moved, limit),
    )


def _of_zero(fit: Comparison, one: Judged) -> float:
    """What the display's zero, one and the same both times, may do to the error, with its sign."""
    shown = (one.at - fit.judging.zero.value) / fit.judging.gain.value
    return math.copysign(one.of_zero, float(np.array([1.0, shown]) @ fit.judging.covariance_prior[:, 0]))


def interference(on: Context, earlier: records.InterferenceRun, later: records.InterferenceRun) -> Iterator[Trend]:
    """What the current makes at the compass, and the heading error left over at hover, level and tilted."""
    if not_asked(on.aircraft):
        return
    found = changed(on, earlier)
    left = found.later.left_over(np.array(offset(on.aircraft).value))
    current, field, limit = hover_bounds_a(on)[1], earth_field(on), on.limit(HEADING_LIMIT)
    weakest = field.horizontal_ut - _KNOWN * field.u_horizontal_ut

    def holds(share: float) -> bool:
        across = most_across_ut((left + share * found.made) * current)
        return weakest > 0 and deviation_deg(across + found.later.reach * current, weakest) <= limit

    what, stays = "what each ampere makes at the compass", f"{limit:g}° at hover"
    u = math.sqrt(max(0.0, float(np.linalg.eigvalsh(found.covariance)[-1])))
    yield Trend("interference", what, found.size, u, found.dof, found.radius, "µT/A", ".4f", stays, holds)


def pressure(on: Context, earlier: records.BarometerCheck, later: records.BarometerCheck) -> Iterator[Trend]:
    """The error of the indicated pressure; two days' references count as two, whatever their name."""
    limit, errors, us = on.limit(INDICATION), [], []
    for check in (earlier, later):
        at_place, reduction, _ = on.once(pressure_of_the_place, check, on.aircraft)
        errors.append(check.indicated_hpa.value - at_place)
        us.append(math.hypot(u_rectangular(need(check.reference.accuracy_hpa).value), u_rectangular(reduction)))
    moved, u = errors[1] - errors[0], math.hypot(*us)
    what, holds = "the error of the indicated pressure", _within(errors[1], _KNOWN * us[1], moved, limit)
    yield Trend("barometer", what, moved, u, math.inf, _KNOWN * u, "hPa", "+.1f", f"{limit:g} hPa", holds)


def heading(on: Context, earlier: records.HeadingCheck, later: records.HeadingCheck) -> Iterator[Trend]:
    """The mean error of heading over checks that go round; each time the directions are pointed in anew."""
    checks = [on.once(errors_of, record, on) for record in (earlier, later)]
    if not all(check.goes_round for check in checks):
        return
    limit, (before, after) = on.limit(DEVIATION), [_mean_deg(check.errors_deg) for check in checks]
    moved, u = short_way(after - before), math.hypot(*(check.u_mean_deg for check in checks))
    one, expanded = checks[1], _KNOWN * checks[1].u_mean_deg

    def holds(share: float) -> bool:
        return all(abs(error + share * moved) + expanded <= limit for error in one.errors_deg)

    what = "the mean error of heading"
    yield Trend("heading", what, moved, u, math.inf, _KNOWN * u, "°", "+.1f", f"{limit:g}°", holds)


def _mean_deg(errors_deg: list[float]) -> float:
    """Of angles, round the circle."""
    return math.degrees(cmath.phase(sum(cmath.rect(1.0, math.radians(error)) for error in errors_deg)))


@dataclass(frozen=True, slots=True)
class Followed:
    """How records of a kind are followed; ``converted`` names kinds of work in between that ``follow`` converts."""

    follow: Callable[[Context, Any, Any], Iterator[Trend]]
    converted: frozenset[str] = frozenset()


TRENDS: Mapping[str, Followed] = {
    "voltage_comparison": Followed(volts, frozenset({"settings-changed"})),
    "current_comparison": Followed(amperes, frozenset({"settings-changed"})),
    "interference_run": Followed(interference),
    "heading_check": Followed(heading),
    "barometer_check": Followed(pressure),
}


def trends(on: Context, kind: str, earlier: records.Dated, later: records.Dated) -> tuple[Trend, ...]:
    """What is followed from the earlier record to the later. Ends the rule as unproven where one of them tells nothing.

    None where the kind is not followed, or nothing of it can be.
    """
    return on.once(_followed, on, kind, earlier, later)


def _followed(on: Context, kind: str, earlier: records.Dated, later: records.Dated) -> tuple[Trend, ...]:
    return tuple(TRENDS[kind].follow(on, earlier, later))
