"""How low does full throttle pull a pack?"""

from __future__ import annotations

import math

from preflint.api import (
    ANY_LOADED_RUN,
    CAUTION,
    PACK_UNPLUGGED,
    Clear,
    Context,
    Finding,
    Job,
    NotApplicable,
    Open,
    Outcome,
    Related,
    Tolerance,
    Unproven,
    fitted,
    need,
    records,
    rule,
)
from preflint.arrays import np

from ...shared.loaded_run import again
from ..draw import LOAD_COVERAGE, full_current_a, hover_current_a, pack_window_v
from .fit import HOW, in_words, latest_sag

SAG_DWELL = Tolerance(
    "sag_dwell_s",
    "s",
    5.0,
    "higher",
    "common practice, no source",
    "how long each current must be held before the pack voltage is read",
)
SAG_COVERAGE = Tolerance(
    "sag_coverage_percent",
    "%",
    50.0,
    "higher",
    "common practice, no source",
    "how much of the current asked about the highest current of a sag run must reach",
)
_IDLE = 0.1  # of the highest current: what the electronics draw is often not counted; common practice, no source
_OF_DWELL = 0.8  # of the charge that the dwell takes; the rest is rounding and the scale of the current


@rule(
    "power_sensing/sag",
    each="pack",
    severity=CAUTION,
    job=Job.LOAD,
    precaution=ANY_LOADED_RUN,
    source="guard bands on both sides after JCGM 106:2012; the cell voltages are common practice, no source",
    tolerances=(SAG_DWELL, SAG_COVERAGE, LOAD_COVERAGE),
)
def sag(pack: fitted.Pack, on: Context) -> Outcome:
    """Does the pack hold up under full throttle?

    A pack pulled this low under load has no room left: its warning comes in the middle of a climb, the
    electronics may stop, and a cell that stays there is harmed.

    Reasoning: V = V₀ - R·I - a·Q, fitted to the latest sag run of this pack, at the current of all motors at full
    throttle (else at hover current), and at the most charge that the run used. U = t·u from the rows' scatter, with its
    covariance, and at least q/√12 for the last digit of each; t by the rows to spare. Found if V + U is below cells ×
    end of discharge (3.0 V lipo and lipo-hv, 2.5 V li-ion and life), clear if V - U is not, otherwise too uncertain to
    tell. Each current must have been held for ``sag_dwell_s`` or more, since the first instant sags least; the charge
    used from reading to reading must bear the dwell out, to 80 % and a last digit, but for readings at less than a
    tenth of the highest current; and the highest current must be ``sag_coverage_percent`` of the one asked about, or
    ``load_coverage_percent`` of hover current: the further the line is followed, the wider U. Volts are as displayed;
    voltage-scale asks how right they are. Where no sag run is recorded it is not asked.

    Fails:

        packs: [{label: A1, chemistry: lipo, cells: 4}]
        every_rotor: {motor: {full_throttle_draw_a: 21}}
        records:
          sag_run:
            - {date: 2026-05-16, pack: A1, dwell_s: 10, columns: [current_a, voltage_v, used_mah],
               rows: [[0, 14.90, 0], [25, 13.91, 70], [50, 12.87, 210], [25, 13.78, 280], [1, 14.69, 290]]}

    Passes: the same with

        records:
          sag_run:
            - {date: 2026-05-16, pack: A1, dwell_s: 10, columns: [current_a, voltage_v, used_mah],
               rows: [[0, 16.02, 0], [25, 15.63, 70], [50, 15.23, 210], [25, 15.57, 280], [1, 15.91, 290]]}

    Not checked: a colder, older or emptier pack than that of the run, one that sags by more than in proportion
    beyond the run's currents, and single cells that sag further.
    """
    found = on.once(latest_sag, pack, on)
    if isinstance(found, NotApplicable):
        return found
    run, fit = found
    if fit.ohm <= 0:
        return NotApplicable("the run shows no resistance: see pack-resistance")
    _long_enough(run, on)
    (low_v, _), (amperes, load) = pack_window_v(pack), _most_load(on)
    _covered(run, fit.top_a, amperes, load, on)
    where = np.array([1.0, -amperes, -fit.used_mah])
    volts, u = float(where @ fit.parameters), fit.expanded(where)
    cells, chemistry = need(pack.cells), need(pack.chemistry)
    evidence = (
        f"{in_words(run, fit)}; at {amperes:.0f} A and {fit.used_mah:.0f} mAh used {volts:.2f} V ± {u:.2f} V (95 %), "
        f"{volts / cells.value:.2f} V a cell; an empty {chemistry.value} cell has {low_v / cells.value:.2f} V"
    )
    related = (Related(cells.place, f"{cells.value} cells, {low_v:.1f} V when empty"),)
    if volts + u < low_v:
        return Finding(
            place=run.place,
            message=f"{load} ({amperes:.0f} A) pulls a cell to {volts / cells.value:.2f} V, below the "
            f"{low_v / cells.value:.2f} V of an empty one",
            evidence=evidence,
            do="fly a pack of less resistance (fresher, warmer or larger), or lighter and with less throttle",
            related=related,
            mind=PACK_UNPLUGGED,
        )
    if volts - u < low_v:
        return Unproven(
            cause="uncertain",
            place=run.place,
            message=f"{load} ({amperes:.0f} A) pulls the pack to {volts:.1f} ± {u:.1f} V, too near {low_v:.1f} V "
            "(empty) to tell",
            do=f"{HOW}, nearer to that current",
            evidence=evidence,
            related=related,
            mind=again(run),
            record="sag_run",
        )
    return Clear(evidence)


def _most_load(on: Context) -> tuple[float, str]:
    """The current at full throttle where every draw is recorded, else at hover, and its name."""
    try:
        return full_current_a(on.aircraft), "full throttle"
    except Open:
        return hover_current_a(on)[0], "hover"


def _covered(run: records.SagRun, top_a: float, amperes: float, load: str, on: Context) -> None:
    """Ends the rule as unproven where the run reaches neither enough of the current asked about, nor hover."""
    if top_a >= on.limit(SAG_COVERAGE) / 100 * amperes:
        return
    message = f"the sag run goes to {top_a:.0f} A, but {load} draws {amperes:.0f} A"
    try:
        hover_a, _ = hover_current_a(on)
    except Open:
        hover_a = math.inf
    if top_a < on.limit(LOAD_COVERAGE) / 100 * hover_a:
        more = "" if math.isinf(hover_a) else f" and hover {hover_a:.0f} A"
        raise Open(Unproven(place=run.place, message=message + more, do=HOW, mind=again(run), record="sag_run"))


def _long_enough(run: records.SagRun, on: Context) -> None:
    """Ends the rule as unproven where the dwell is too short, or the charge used says that it was.

    Where less was used up to a reading than its current takes in the dwell, by more than the last digit of the
    charge, it was not held so long. A reading with hardly any current uses next to nothing.
    """
    dwell = need(run.dwell_s)
    if dwell.value < on.limit(SAG_DWELL):
        message = f"each current was held for {dwell.value:g} s, too short for the pack to sag as in flight"
        how = f"{HOW}; {on.limit(SAG_DWELL):g} s at the least"
        raise Open(Unproven(place=dwell.place, message=message, do=how, mind=again(run), record="sag_run"))
    table = need(run.table).value
    current, used = table.column("current_a"), table.column("used_mah")
    if np.ptp(used) == 0:  # nothing counted at all: the dwell cannot be looked at
        return
    took, needed = np.diff(used), current[1:] * dwell.value / 3.6
    driven = current[1:] > _IDLE * np.max(current)
    short = np.flatnonzero(driven & (took + table.last_digit("used_mah") < _OF_DWELL * needed))
    if short.size == 0:
        return
    row = int(short[0])
    message = (
        f"{took[row]:.0f} mAh used up to the reading at {current[row + 1]:g} A, but {dwell.value:g} s there take "
        f"{needed[row]:.0f} mAh"
    )
    raise Open(
        Unproven(
            cause="uncertain",
            place=table.row_place(row + 1),
            message=message,
            do=HOW,
            mind=again(run),
            record="sag_run",
        )
    )
