"""Packs: their cells against the whole, charge counted against charge put back, and what they sag."""

import math
from collections.abc import Iterator

import numpy as np

from preflint.api import (
    CAUTION,
    PACK_UNPLUGGED,
    Aircraft,
    Clear,
    Context,
    Figure,
    Finding,
    Job,
    Known,
    NotApplicable,
    NotFitted,
    Outcome,
    Related,
    Tolerance,
    Unproven,
    figure,
    fitted,
    need,
    records,
    rule,
)
from preflint.compute.decision import decide, t_factor, u_rectangular
from preflint.compute.least_squares import Indeterminate, solve

from .power_sensing_draw import ANY_LOADED_RUN
from .power_sensing_fit import last_digit

RECHARGE = Tolerance(
    "recharge_percent",
    "%",
    3.0,
    "lower",
    "common practice, no source",
    "relative error of the charge counted, against the charge put back",
)


@figure("pack-resistance")
def resistance_figures(on: Context) -> Iterator[Figure]:
    """Resistance of pack and leads by V = V₀ - R·I - a·Q, of each sag run that still speaks.

    The case names the dwell at each current, since a pack sags further the longer it is loaded.
    """
    latest: dict[str | None, records.SagRun] = {}
    for run in sorted(on.aircraft.records.sag_run, key=lambda run: run.date.value.latest):
        if run.date.value.date <= on.judged_on and on.outdated("sag_run", run) is None:
            latest[run.pack.value if isinstance(run.pack, Known) else None] = run
    for label, run in latest.items():
        found = pack_resistance(run)
        if found is None:
            continue
        case = f"dwell-{run.dwell_s.value:g}-s" if isinstance(run.dwell_s, Known) else None
        yield Figure("pack_resistance_ohm", case, *found, "Ω", label, run.place)


def pack_resistance(run: records.SagRun) -> tuple[float, float | None] | None:
    """R in ohms and its standard uncertainty, None without a row to spare; None if the rows do not tell R.

    Rows all alike; their scatter about the fit, but at least the last digit of the volts (q/√12).
    """
    table = need(run.table).value
    current, used = table.column("current_a"), table.column("used_mah")
    volts = table.column("voltage_v")
    ones = np.ones_like(volts)
    # Where no charge was used between the rows there is nothing that it could have changed.
    columns = [ones, -current] if np.ptp(used) == 0 else [ones, -current, -used]
    try:
        fit = solve(columns, volts, ones, "the rows do not tell a resistance")
    except Indeterminate:
        return None
    spare = volts.size - len(columns)
    if spare < 1:
        return float(fit.parameters[1]), None
    row_sd = max(math.sqrt(fit.chi_square / spare), last_digit(volts) / math.sqrt(12))
    return float(fit.parameters[1]), row_sd * math.sqrt(float(fit.inverse[1, 1]))


@rule(
    "power_sensing/cell-sum",
    each="pack",
    severity=CAUTION,
    job=Job.RECORD,
    precaution=PACK_UNPLUGGED,
    source="series cells: their voltages add up; the instrument's accuracy as recorded, after GUM 4.3.7",
)
def cell_sum(pack: fitted.Pack, on: Context) -> Outcome:
    """Do the cells add up to the pack?

    Cells in series add up. Where they do not, a contact of the balance plug is poor or a reading is wrong,
    and a charger that trusts the plug overcharges a cell.

    Reasoning: the latest record of this pack's cells, with ``pack_v`` of the same minute. Cells and pack are
    read in different ranges of the instrument, so that its accuracy a counts for each, once for all cells
    together: a/√3 each, and q/√12 for the last digit of every reading. Found if the difference is larger than
    1.96 times these together. Where no cells and pack voltage are recorded it is not asked.

    Fails:

        packs: [{label: A1, chemistry: lipo, cells: 3}]
        records:
          cell_voltages:
            - {date: 2026-04-18, pack: A1, cells_v: [3.85, 3.84, 3.62], pack_v: 11.55,
               reference: {instrument: meter, accuracy_percent: 0.5, resolution_v: 0.01}}

    Passes:

        packs: [{label: A1, chemistry: lipo, cells: 3}]
        records:
          cell_voltages:
            - {date: 2026-04-18, pack: A1, cells_v: [3.85, 3.84, 3.85], pack_v: 11.55,
               reference: {instrument: meter, accuracy_percent: 0.5, resolution_v: 0.01}}

    Not checked: the spread between the cells, and whether the pack had rested.
    """
    of_pack = [
        record
        for record in on.aircraft.records.cell_voltages
        if isinstance(record.pack, Known)
        and isinstance(pack.label, Known)
        and record.pack.value == pack.label.value
        and isinstance(record.pack_v, Known)
    ]
    if not any(record.date.value.date <= on.judged_on for record in of_pack):
        return NotApplicable("no voltages of its cells and of the whole pack are recorded together")
    how = "read every cell and the whole pack again, with one instrument"
    record = on.freshest("cell_voltages", of_pack, how, precaution=PACK_UNPLUGGED)
    whole, cells = need(record.pack_v), record.cells_v.value
    if isinstance(pack.cells, Known) and len(cells) != pack.cells.value:
        return NotApplicable(f"{len(cells)} cells are recorded, not {pack.cells.value}: see cell-count")
    percent, fixed = record.reference.accuracy_percent, record.reference.accuracy_v
    if not isinstance(fixed, Known):
        need(percent)
    share = percent.value / 100 if isinstance(percent, Known) else 0.0
    at_least = fixed.value if isinstance(fixed, Known) else 0.0
    digit = record.reference.resolution_v
    last = digit.value if isinstance(digit, Known) else last_digit(np.array([*cells, whole.value]))
    total = math.fsum(cells)
    u = math.hypot(
        u_rectangular(share * total),
        u_rectangular(share * whole.value),
        u_rectangular(at_least * len(cells)),
        u_rectangular(at_least),
        last / math.sqrt(12) * math.sqrt(len(cells) + 1),
    )
    expanded, difference = t_factor(math.inf) * u, total - whole.value
    evidence = (
        f"{' + '.join(f'{volts:.2f}' for volts in cells)} = {total:.2f} V, the whole pack {whole.value:.2f} V "
        f"on {record.date.value}: difference {difference:+.2f} V, of which the instrument explains "
        f"{expanded:.2f} V (95 %)"
    )
    if abs(difference) <= expanded:
        return Clear(evidence)
    message = (
        f"the cells add up to {total:.2f} V, {abs(difference):.2f} V {'more' if difference > 0 else 'less'} "
        "than the whole pack"
    )
    return Finding(
        whole.place,
        message,
        evidence,
        "read every cell and the whole pack again; if it stays, look at the contacts of the balance plug",
        (Related(record.cells_v.place, f"{len(cells)} cells, {total:.2f} V together"),),
    )


@rule(
    "power_sensing/recharge",
    each="aircraft",
    severity=CAUTION,
    job=Job.POWER_SENSING,
    precaution=ANY_LOADED_RUN,
    source="guard bands on both sides after JCGM 106:2012; the limit is common practice, no source",
    tolerances=(RECHARGE,),
)
def recharge(aircraft: Aircraft, on: Context) -> Outcome:
    """Was as much charge counted as the charger put back?

    From full to full, a pack takes back what it gave. Charge counted too low means that the pack is emptier
    at every landing than the display says.

    Reasoning: error = counted / put back - 1, an end-to-end check of the current scale over a whole flight.
    The charger's accuracy a enters as a/√3, U = 1.96·a/√3: found if |error| - U is above ``recharge_percent``,
    clear if |error| + U is not, otherwise too uncertain to tell. Only where the pack was full before. Amperes
    go against sensor_mv_per_a, so the scale to expect is that in force × counted / put back; where it was
    changed since, the charge is converted, which can show an error, never that all is well. Where no recharge
    is recorded it is not asked.

    Fails:

        power_sensing: {sensor_mv_per_a: 26.4}
        records:
          recharge:
            - {date: 2026-04-18, counted_mah: 3870, put_back_mah: 4300, full_before: true,
               in_force: {sensor_mv_per_a: 26.4}, reference: {instrument: charger, accuracy_percent: 1.0}}

    Passes:

        power_sensing: {sensor_mv_per_a: 26.4}
        records:
          recharge:
            - {date: 2026-04-18, counted_mah: 4280, put_back_mah: 4300, full_before: true,
               in_force: {sensor_mv_per_a: 26.4}, reference: {instrument: charger, accuracy_percent: 1.0}}

    Not checked: what balancing turns into heat, and a wrong zero of the current, which adds up over the flight.
    """
    if isinstance(aircraft.power_sensing, NotFitted):
        return NotApplicable("no power sensing is fitted")
    if not any(record.date.value.date <= on.judged_on for record in aircraft.records.recharge):
        return NotApplicable("no recharge is recorded")
    how = "fly from a full pack, charge it full again, and note what was counted and what was put back"
    record = on.freshest("recharge", aircraft.records.recharge, how)
    full, accuracy = need(record.full_before), need(record.reference.accuracy_percent)
    if not full.value:
        message = "the pack was not full before the flight, so that more was put back than the flight took"
        return Unproven("absent", full.place, message, how)
    counted, put_back = record.counted_mah, record.put_back_mah
    if put_back.value == 0:
        return Unproven("absent", put_back.place, "nothing was put back", how)
    installed, then = need(need(aircraft.power_sensing).value.sensor_mv_per_a), record.in_force.sensor_mv_per_a
    ratio = then.value / installed.value if isinstance(then, Known) else 1.0
    error, limit = ratio * counted.value / put_back.value - 1, on.limit(RECHARGE) / 100
    u = (1 + error) * u_rectangular(accuracy.value / 100)
    decision = decide(error, u, math.inf, limit)
    size = f"{100 * abs(error):.1f} % ± {100 * t_factor(math.inf) * u:.1f} %"
    evidence = (
        f"{counted.value:g} mAh counted, {put_back.value:g} mAh put back on {record.date.value}, "
        f"sensor_mv_per_a {then.value if isinstance(then, Known) else installed.value:g} in force"
        + ("" if ratio == 1 else f", converted to {installed.value:g} as installed")
        + f": {'under' if error < 0 else 'over'}-counted by {size}, at most {100 * limit:g} %"
    )
    related = (Related(counted.place, f"{counted.value:g} mAh counted"),)
    if decision == "found" and error == -1:
        remedy = "look at the sensor's plug and wires, then compare the current with a meter"
        return Finding(installed.place, "no charge was counted", evidence, remedy, related)
    if decision == "found":
        message = (
            f"charge is {'under' if error < 0 else 'over'}-counted by {size}: "
            f"when 1000 mAh are counted, {1000 / (1 + error):.0f} are used"
        )
        expect = installed.value * (1 + error)
        remedy = f"compare the current with a meter, and expect sensor_mv_per_a near {expect:.3g}"
        return Finding(installed.place, message, evidence, remedy, related)
    if ratio != 1:
        message = f"sensor_mv_per_a is {installed.value:g}, but the charge was counted with another setting"
        return Unproven("stale", installed.place, message, how, evidence, related)
    if decision == "uncertain":
        message = f"charge {'under' if error < 0 else 'over'}-counted by {size}: too uncertain to tell"
        better = "recharge with a charger or an inline meter of better accuracy, after a longer flight"
        return Unproven("uncertain", counted.place, message, better, evidence)
    return Clear(evidence)


RULES = (cell_sum, recharge)
FIGURES = (resistance_figures,)
