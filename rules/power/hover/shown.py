"""What the display showed in a hover, as the settings installed would show it, and how sure that is."""

import math

from preflint.api import Aircraft, Context, Known, Open, fitted, need, records
from preflint.compute.decision import effective_dof
from preflint.compute.least_squares import Indeterminate

from ..draw import as_installed_a
from ..fit import Comparison, compared
from ..meter import Record, Unit, has_accuracy


def shown_v(aircraft: Aircraft, hover: records.Hover) -> float:
    """Mean voltage as the divider_ratio installed would show it; one that is not recorded is taken as unchanged."""
    volts, set_now = need(hover.mean_voltage_v).value, aircraft.power_sensing
    then = hover.in_force.divider_ratio
    if isinstance(set_now, Known) and isinstance(set_now.value.divider_ratio, Known) and isinstance(then, Known):
        return volts * set_now.value.divider_ratio.value / then.value
    return volts


def power_w(on: Context, hover: records.Hover) -> tuple[float, float | None, float]:
    """Mean voltage × mean current with its standard uncertainty, in W, and the degrees of freedom of that.

    Volts and amperes were compared with instruments apart, so that their errors add in squares. None where one
    of the two was not compared since the display last changed: then nobody knows how wrong it is.
    """
    volts, current = shown_v(on.aircraft, hover), as_installed_a(on.aircraft, hover)
    parts = [u_of_display(on, "v", volts), u_of_display(on, "a", current)]
    known = [part for part in parts if part is not None]
    shown = volts * current
    if len(known) < len(parts):
        return shown, None, math.inf
    return shown, shown * math.hypot(*(u for u, _ in known)), effective_dof(known)


def u_of_display(on: Context, unit: Unit, at: float) -> tuple[float, float] | None:
    """Relative standard uncertainty of what the display shows near ``at``, and its degrees of freedom.

    None where no comparison speaks for it.

    The error that the comparison found is not taken off what is shown, so it is part of the uncertainty
    (GUM F.2.4.5), beside the uncertainty of that error.
    """
    comparison = of_display(on, unit)
    if comparison is None:
        return None
    try:
        error = comparison.judging.error_of_indication(at)
    except Indeterminate:
        return None
    return math.hypot(error.value, error.u), effective_dof([(error.value, math.inf), (error.u, error.dof)])


def of_display(on: Context, unit: Unit) -> Comparison | None:
    """The latest comparison, where it still speaks, was taken with the settings installed, and tells a scale."""
    return on.once(_of_display, on, unit)


def _of_display(on: Context, unit: Unit) -> Comparison | None:
    told, set_now = on.aircraft.records, on.aircraft.power_sensing
    try:
        record: Record
        if unit == "v":
            record = on.freshest("voltage_comparison", told.voltage_comparison, "")
            if not _at_the_sensed_terminals(record):
                return None
        else:
            record = on.freshest("current_comparison", told.current_comparison, "")
        if not isinstance(set_now, Known) or not _as_installed(set_now.value, record.in_force, unit):
            return None
        if not isinstance(record.table, Known) or not has_accuracy(record.reference, unit):
            return None
        return compared(on, record, unit)
    except (Open, Indeterminate):
        return None


def _at_the_sensed_terminals(record: records.VoltageComparison) -> bool:
    """Whether no drop in the leads is in the readings."""
    still = isinstance(record.loaded, Known) and not record.loaded.value
    return still or (isinstance(record.same_terminals, Known) and record.same_terminals.value)


def _as_installed(now: fitted.PowerSensing, then: records.InForce, unit: Unit) -> bool:
    pairs = [(now.divider_ratio, then.divider_ratio)]
    if unit == "a":
        pairs = [(now.sensor_mv_per_a, then.sensor_mv_per_a), (now.zero_mv, then.zero_mv)]
    return all(isinstance(one, Known) and isinstance(two, Known) and one.value == two.value for one, two in pairs)
