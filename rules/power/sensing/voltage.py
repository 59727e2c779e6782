"""Does the display's voltage mean anything?"""

from __future__ import annotations

from collections.abc import Iterator

from preflint.api import (
    NO_GO,
    PACK_IN_PROPS_OFF,
    Aircraft,
    Clear,
    Context,
    Figure,
    Finding,
    Job,
    Known,
    NotApplicable,
    NotFitted,
    Open,
    Outcome,
    Related,
    Unproven,
    figure,
    fitted,
    need,
    records,
    rule,
)
from preflint.arrays import np

from ..draw import latest, not_fitted, pack_window_v, settings
from ..fit import Judged, compared, direction, grounds, worst
from ..limits import VOLTAGE_SCALE, VOLTS_COMPARED
from ..meter import COMPARE_VOLTS, meter_floor
from .alone import VOLTAGES_APART, must_be_two_voltages
from .implausible import beyond_input
from .settling import settling, units_first

# Millivolts a cell for each per cent of charge, where the curve is flattest and where it is steepest between about a
# tenth and full; common practice, no source. Life is left out: its curve is so flat that volts tell little of charge.
MV_PER_PERCENT = {"lipo": (3.5, 10.0), "lipo-hv": (3.5, 10.0), "li-ion": (5.0, 12.0)}


def _record(on: Context) -> tuple[records.VoltageComparison, Open | None]:
    record, left_open = latest(on, "voltage_comparison", on.aircraft.records.voltage_comparison, COMPARE_VOLTS)
    _plausible(on, record)
    return record, left_open


def _plausible(on: Context, record: records.VoltageComparison) -> None:
    """Ends the rule as unproven where the readings cannot be this aircraft's."""
    if beyond := beyond_input(on.aircraft, record):
        raise Open(beyond)


@figure("voltage-scale")
def voltage_figures(on: Context) -> Iterator[Figure]:
    """Gain and zero by three fits, as the settings in force showed it, and the setting that follows."""
    record, _ = on.once(_record, on)
    fits = compared(on, record, "v").fits
    for fit in fits:
        yield Figure("voltage_gain", fit.fit, fit.gain.value, fit.gain.u, "1", None, record.place, fit.gain.dof)
        yield Figure("voltage_zero_v", fit.fit, fit.zero.value, fit.zero.u, "V", None, record.place, fit.zero.dof)
    if isinstance(record.in_force.divider_ratio, Known):
        ratio, gain = record.in_force.divider_ratio.value, fits[0].gain
        right = ratio * gain.value
        yield Figure("corrected_divider_ratio", None, right, ratio * gain.u, "1", None, record.place, gain.dof)


@rule(
    "power_sensing/voltage-scale",
    each="aircraft",
    severity=NO_GO,
    job=Job.PACK_IN,
    needed_for_flight=True,
    shown_by=records.VoltageComparison,
    precaution=PACK_IN_PROPS_OFF,
    source="guard bands on both sides after JCGM 106:2012; the limit is common practice, no source",
    tolerances=(VOLTAGE_SCALE, *VOLTS_COMPARED, VOLTAGES_APART),
)
def voltage_scale(aircraft: Aircraft, on: Context) -> Outcome:
    """Does the display show the pack voltage that a meter shows?

    Every warning and every landing at low voltage hangs on this number. Where it reads high, the pack is
    emptier than it looks, and the motors stop in the air: the dangerous way. Where it reads low, warnings
    come early. How much charge an error hides is given as a range, since a cell's curve is flat in the
    middle: 3.5 to 10 mV for each per cent of charge (li-ion 5 to 12), so 35 mV a cell are 4 to 10 %.

    Reasoning: reference = zero + gain × indicated, fitted with errors on both axes (York) and with a zero known
    beforehand to be 0 with the standard uncertainty ``voltage_zero_prior_v`` (of packs of less than four cells so much
    less). Error of indication e = (indicated - true) / true, at the lowest and the highest voltage of all packs; what
    lies between errs by no more. The meter's accuracy a (no better than ``voltmeter_accuracy_floor_percent``) is one
    error common to all its readings: it enters once, as a/√3 (the per cent and the fixed part each, apart), and more
    rows do not lessen it; it moves zero and gain together, and that covariance counts. U at 95 % is √((t·u_rows)² +
    (1.96·u_common)²), u_common of meter and prior, both taken as known. Rows are taken to scatter by no more than last
    digits explain, q/√12 each (rows alike count once), until they refute it (beyond the 95 % point of chi-squared);
    then display and meter are each given half of the scatter, and t goes by the rows to spare, at 97.5 % where that is
    only one. Of more than 30 rows, which is a log, only as many count as their autocorrelation leaves. Found if |e| - U
    is above ``voltage_scale_percent``, clear if |e| + U is not, otherwise too uncertain to tell. One reading can show
    an error; clear takes two that lie ``voltages_apart_percent`` apart. The setting to enter is the divider_ratio in
    force × the gain with the zero held at 0, since this setting knows no zero.

    Where divider_ratio was changed since the comparison, the readings are converted by the ratio. That can
    show a correction that was entered the wrong way round; it never shows that all is well.

    Open, whatever the numbers: volts above full scale × divider_ratio, display or meter standing still while
    the other moves, a meter written down as without error, ``none`` beside readings of power sensing.

    Fails:

        packs: [{label: A1, chemistry: lipo, cells: 4}]
        power_sensing: {divider_ratio: 6.2}
        records:
          voltage_comparison:
            - date: 2026-05-16
              in_force: {divider_ratio: 6.2}
              loaded: false
              reference: {instrument: meter, accuracy_percent: 0.5, resolution_v: 0.01}
              columns: [indicated_v, reference_v]
              rows: [[15.12, 15.46]]

    Passes: the same with

        records:
          voltage_comparison:
            - date: 2026-05-16
              in_force: {divider_ratio: 6.2}
              loaded: false
              reference: {instrument: meter, accuracy_percent: 0.5, resolution_v: 0.01}
              columns: [indicated_v, reference_v]
              rows: [[15.45, 15.46], [14.44, 14.45]]

    Not checked: whether the meter is as good as recorded, whether the columns of display and meter are exchanged,
    and the single cells.
    """
    if isinstance(aircraft.power_sensing, NotFitted):
        told = aircraft.records
        with_volts = [hover for hover in told.hover if isinstance(hover.mean_voltage_v, Known)]
        return not_fitted(aircraft, on, [*told.voltage_comparison, *with_volts])
    settings(aircraft)
    failed = on.failed("voltage_comparison", aircraft.records.voltage_comparison, lambda r: _shown_as_set(r, on))
    return failed or _shown(*on.once(_record, on), on)


def _shown_as_set(record: records.VoltageComparison, on: Context) -> Outcome:
    """What one comparison shows by itself, where the setting that was in force is still the one installed."""
    _plausible(on, record)
    installed, in_force = need(settings(on.aircraft).divider_ratio), need(record.in_force.divider_ratio)
    return _shown(record, None, on) if installed.value == in_force.value else NotApplicable("set anew since")


def _shown(record: records.VoltageComparison, left_open: Open | None, on: Context) -> Outcome:
    """What a comparison shows, with the settings installed; ``left_open`` is what work since then leaves open."""
    aircraft = on.aircraft
    _as_sensed(record)
    installed, in_force = need(settings(aircraft).divider_ratio), need(record.in_force.divider_ratio)
    ratio = installed.value / in_force.value
    fits = compared(on, record, "v", ratio)
    limit = on.limit(VOLTAGE_SCALE) / 100
    window = _known_window(aircraft) or (float(np.min(fits.reference)), float(np.max(fits.reference)))
    judged = [fits.judge(at, limit) for at in window if at > 0]
    one = worst(judged)
    converted = "" if ratio == 1 else f", converted to {installed.value:g} as installed"
    evidence = grounds(record, "v", f"divider_ratio {in_force.value:g} in force{converted}", fits, judged)
    if one.decision == "found":
        right, (size, means) = installed.value * fits.fits[0].gain.value, _what_it_means(aircraft, one)
        return Finding(
            place=installed.place,
            message=f"{direction(one)} volts by {size}{'' if ratio == 1 else ', as set now'}: "
            f"the pack is {'emptier' if one.error > 0 else 'fuller'} than shown",
            evidence=f"{means}; {evidence}",
            do=f"{units_first(one, 'v')}set divider_ratio to {right:.5g}, then compare again",
            record="voltage_comparison",
            related=(Related(record.place, f"the readings of {record.date.value}"),),
        )
    if left_open:
        raise left_open
    if ratio != 1:
        return _set_since(record, installed, in_force, evidence)
    if one.decision == "uncertain":
        message = (
            f"{direction(one)} volts by {100 * abs(one.error):.2f} ± {100 * one.expanded:.2f} % at {one.at:.2f} V: "
            f"too near {100 * limit:g} % to tell"
        )
        how = settling(one, limit, fits, "v", meter_floor(on, "v"))
        return Unproven(
            cause="uncertain",
            place=record.place,
            message=message,
            do=how,
            evidence=evidence,
            record="voltage_comparison",
        )
    _window_must_be_known(aircraft)
    must_be_two_voltages(record, fits, on.limit(VOLTAGES_APART))
    return Clear(evidence)


def _set_since(
    record: records.VoltageComparison, installed: Known[float], in_force: Known[float], evidence: str
) -> Unproven:
    """Converted readings never show that all is well."""
    return Unproven(
        cause="stale",
        place=installed.place,
        message=f"divider_ratio is {installed.value:g}, but the readings were taken with {in_force.value:g}",
        do=f"compare again with the setting installed: {COMPARE_VOLTS}",
        record="voltage_comparison",
        evidence=evidence,
        related=(Related(record.place, f"the readings of {record.date.value}"),),
    )


def _as_sensed(record: records.VoltageComparison) -> None:
    """Ends the rule as unproven where the drop in the leads is in the readings."""
    if need(record.loaded).value and not need(record.same_terminals).value:
        message = "motors ran with the meter off the sensed terminals: the leads' drop is read too"
        how = f"{COMPARE_VOLTS}, or with the meter at the same terminals"
        raise Open(Unproven(place=record.place, message=message, do=how))


def _window_must_be_known(aircraft: Aircraft) -> None:
    """Ends the rule as unproven where it is not known between which voltages the packs live."""
    if not aircraft.packs:
        raise Open(
            Unproven(
                place=aircraft.place,
                message="no pack is recorded, so full and lowest voltage are not known",
                do="write down cells and chemistry of each pack",
                on_paper=True,
            )
        )
    for pack in aircraft.packs:
        pack_window_v(pack)


def _known_window(aircraft: Aircraft) -> tuple[float, float] | None:
    """Lowest and full voltage over all packs; None where a pack does not say."""
    packs = aircraft.packs
    if not packs or not all(isinstance(p.cells, Known) and isinstance(p.chemistry, Known) for p in packs):
        return None
    windows = [pack_window_v(pack) for pack in packs]
    return min(low for low, _ in windows), max(full for _, full in windows)


def _what_it_means(aircraft: Aircraft, one: Judged) -> tuple[str, str]:
    """The error with its unit, and what it hides of the charge."""
    size = f"{100 * abs(one.error):.2f} ± {100 * one.expanded:.2f} % at {one.at:.2f} V"
    pack = _pack_at(aircraft, one.at)
    charge = ""
    if pack:
        mv_a_cell = 1000 * abs(one.error) * one.at / need(pack.cells).value
        size += f" ({mv_a_cell:.0f} mV a cell)"
        charge = _charge_range(mv_a_cell, need(pack.chemistry).value)
    if one.error > 0:
        means = f"dangerous, the pack holds {charge} less charge than shown"
    else:
        means = f"the pack holds {charge} more charge than shown, and warnings come early"
    return size, means.replace("  ", " ")


def _pack_at(aircraft: Aircraft, volts: float) -> fitted.Pack | None:
    """The pack whose lowest or full voltage this is."""
    if _known_window(aircraft) is None:
        return None
    return next((pack for pack in aircraft.packs if volts in pack_window_v(pack)), None)


def _charge_range(mv_a_cell: float, chemistry: str) -> str:
    """How much of the charge an error of this size hides, from where the curve is steep to where it is flat."""
    if chemistry not in MV_PER_PERCENT:
        return ""
    least, most = (mv_a_cell / slope for slope in reversed(MV_PER_PERCENT[chemistry]))
    return f"{least:.0f} to {most:.0f} %" if most < 100 else f"at least {least:.0f} %" if least < 100 else "far"
