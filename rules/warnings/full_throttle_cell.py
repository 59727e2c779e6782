"""How low does full throttle pull a cell at the moment of the warning?"""

import math
from collections.abc import Iterator

from preflint.api import (
    ANY_LOADED_RUN,
    CAUTION,
    PACK_IN_PROPS_OFF,
    SETTINGS,
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
    Place,
    Related,
    Tolerance,
    Unproven,
    figure,
    fitted,
    need,
    records,
    rule,
)
from preflint.compute.decision import t_factor
from preflint.compute.energy import cell_under_load_v
from preflint.frozen import dataclass

from ..endurance.charge import hover
from ..power.draw import CELL_WINDOW_V, full_current_a
from ..power.hover.shown import of_display
from ..power.limits import AMPERES_COMPARED, VOLTS_COMPARED
from ..power.meter import COMPARE_VOLTS
from ..power.sag.fit import HOW, Sag, latest_sag
from ..power.sag.scales import u_resistance
from ..shared.loaded_run import again, compare_again
from .set import BY_VOLTS, cell_v, in_words, name_of, number, warnings_of

CELL_FLOOR = Tolerance(
    "cell_floor_lipo_mv",
    "mV",
    3000.0,
    "higher",
    "common practice, no source",
    "how low full throttle may pull a cell of lipo or lipo-hv at the first warning; li-ion and life: 2.5 V",
)
_SURELY = 0.5  # of a table's full throttle, which a pack at its warning still gives; common practice, no source


@dataclass(frozen=True, slots=True)
class Pulled:
    """A cell of one pack at its first warning: at full throttle, and at what is surely reached of it, in V.

    ``expanded`` is U at 95 % of ``at_full``, ``expanded_surely`` that of ``at_surely``.
    """

    at_full: float
    expanded: float
    at_surely: float
    expanded_surely: float
    warning: fitted.BatteryWarning
    run: records.SagRun
    words: str
    place: Place


@figure("warning-cell")
def pulled_figures(on: Context) -> Iterator[Figure]:
    """Voltage of a cell when full throttle is pulled at the first warning of volts, for each pack."""
    for pack in on.aircraft.packs:
        try:
            found = on.once(pulled, pack, on)
        except Open:
            continue
        if isinstance(found, Pulled):
            label = pack.label.value if isinstance(pack.label, Known) else None
            u = found.expanded / t_factor(math.inf)
            yield Figure("warning_full_throttle_cell_v", None, found.at_full, u, "V", label, found.place)


@rule(
    "warnings/full-throttle-cell",
    each="pack",
    severity=CAUTION,
    job=Job.PACK_IN,
    precaution=SETTINGS,
    source="Ohm's law; guard bands on both sides after JCGM 106:2012",
    tolerances=(CELL_FLOOR, *VOLTS_COMPARED, *AMPERES_COMPARED),
)
def full_throttle_cell(pack: fitted.Pack, on: Context) -> Outcome:
    """Does the first warning come early enough for one pull of full throttle?

    A warning comes at hover. Whoever then climbs away from a hedge pulls the volts down once more; below its floor a
    cell falls within seconds, and the motors with it.

    Reasoning: the first warning of volts, in true volts by the voltage comparison (zero + gain × what is set; of
    `lowest-cell` as it is set), is where hover stands. Full throttle takes the sum of `full_throttle_draw_a` less
    hover current more, and pulls a cell down by R of the sag run times that, over the cells. U joins what the rows and
    both scales leave of R (t by the rows to spare), hover current and the voltage. Found if the cell plus U is below
    `cell_floor_lipo_mv` (li-ion and life: 2.5 V), clear if less U it is not, otherwise too uncertain to tell. A
    table's full throttle is of a full pack, which this one no longer is: where the sag run does not go to half of it,
    it is found at half of it only, and otherwise open.

    Fails:

        packs: [{label: A1, chemistry: lipo, cells: 4}]
        every_rotor: {motor: {full_throttle_draw_a: 17}}
        power_sensing: {divider_ratio: 6.2, sensor_mv_per_a: 20, zero_mv: 330}
        battery_warnings: [{watches: pack-voltage, at_v: 12.0, does: tells}]
        records:
          voltage_comparison:
            - date: 2026-05-16
              in_force: {divider_ratio: 6.2}
              loaded: true
              same_terminals: true
              reference: {instrument: meter, accuracy_percent: 0.2, resolution_v: 0.01}
              columns: [indicated_v, reference_v]
              rows: [[16.45, 16.46], [14.44, 14.45]]
          current_comparison:
            - date: 2026-05-16
              route: restrained
              in_force: {sensor_mv_per_a: 20, zero_mv: 330}
              reference: {instrument: clamp meter, accuracy_percent: 1.0, resolution_a: 0.1}
              columns: [indicated_a, reference_a]
              rows: [[0, 0], [10, 10], [20, 20], [35, 35]]
          hover: [{date: 2026-05-17, mean_current_a: 15.4,
                   in_force: {sensor_mv_per_a: 20, zero_mv: 330}}]
          sag_run:
            - {date: 2026-05-16, pack: A1, dwell_s: 10, columns: [current_a, voltage_v, used_mah],
               rows: [[0.2, 16.50, 1], [10, 16.37, 28], [20, 16.23, 84], [35, 16.03, 181], [20, 16.20, 236],
                      [10, 16.32, 264], [0.2, 16.45, 265]]}

    Passes: the same with

        battery_warnings: [{watches: pack-voltage, at_v: 14.0, does: tells}]

    It does not check a colder or older pack than that of the sag run, a cell that sags more than the others, nor what
    the warning leaves of the charge (warnings/charge-left).
    """
    found = on.once(pulled, pack, on)
    if isinstance(found, NotApplicable):
        return found
    floor = _floor_v(pack, on)
    evidence = f"{found.words}; floor {floor:.2f} V"
    related = (Related(found.run.place, "the sag run that tells the resistance"),)
    covered = _is_covered(found, on)
    at_risk = found.at_full if covered else found.at_surely
    expanded = found.expanded if covered else found.expanded_surely
    if at_risk + expanded < floor:
        more = floor + expanded - at_risk
        amperes = "full throttle" if covered else "half of full throttle"
        return Finding(
            place=found.place,
            message=f"at the warning {amperes} pulls a cell to {at_risk:.2f} V, below {floor:.2f} V",
            evidence=evidence,
            do=f"set the warning to {math.ceil(100 * (cell_v(found.warning, pack) + more)) / 100:.2f} V a cell or more",
            related=related,
        )
    if found.at_full - found.expanded >= floor:
        return Clear(evidence)
    return Unproven(
        cause="uncertain",
        place=found.place,
        message=f"at the warning full throttle pulls a cell to {found.at_full:.2f} ± {found.expanded:.2f} V: too near "
        f"{floor:.2f} V to tell",
        do=f"set the warning higher, or {HOW}, up to more current",
        evidence=evidence,
        related=related,
        mind=again(found.run),
    )


def pulled(pack: fitted.Pack, on: Context) -> Pulled | NotApplicable:
    """At the first warning of volts. Ends the rule as unproven where something of it is not recorded."""
    told = warnings_of(on.aircraft)
    if isinstance(told, NotApplicable):
        return told
    by_volts = [one for one in told if one.watches.value in BY_VOLTS]
    if not by_volts:
        return NotApplicable("no warning watches volts")
    if isinstance(on.aircraft.power_sensing, NotFitted):
        return NotApplicable("no power sensing is fitted, so that no resistance is known")
    cells, first = need(pack.cells).value, max(by_volts, key=lambda one: cell_v(one, pack))
    run, sag = _sag(pack, on)
    (current, _), full = hover(on), full_current_a(on.aircraft)
    u_ohm, dof = _u_ohm(on, sag, run)
    volts, u_volts = _true_volts(first, pack, on)
    more = max(0.0, full - current.value)
    surely = max(0.0, min(max(sag.top_a, _SURELY * full), full) - current.value)
    k, known = t_factor(dof), t_factor(math.inf)

    def expanded(amperes: float) -> float:
        return math.hypot(k * amperes * u_ohm, known * sag.ohm * current.u, known * u_volts) / cells

    at_full = cell_under_load_v(volts, sag.ohm, more, cells)
    words = (
        f"{in_words(first)}, {volts / cells:.3f} V a cell in truth; {full:.0f} A at full throttle less "
        f"{current.value:.1f} A at hover; R {1000 * sag.ohm:.1f} ± {1000 * k * u_ohm:.1f} mΩ by the run of "
        f"{run.date.value} up to {sag.top_a:.0f} A; {at_full:.3f} ± {expanded(more):.3f} V a cell of {name_of(pack)}"
    )
    return Pulled(
        at_full, expanded(more), cell_under_load_v(volts, sag.ohm, surely, cells), expanded(surely), first, run,
        words, number(first).place,
    )  # fmt: skip


def _is_covered(found: Pulled, on: Context) -> bool:
    """Whether the sag run goes to half of full throttle or more."""
    top = float(max(need(found.run.table).value.column("current_a")))
    return top >= _SURELY * full_current_a(on.aircraft)


def _sag(pack: fitted.Pack, on: Context) -> tuple[records.SagRun, Sag]:
    found = on.once(latest_sag, pack, on)
    if isinstance(found, NotApplicable):
        message = f"no resistance of {name_of(pack)} is known: {found.because}"
        raise Open(
            Unproven(place=on.aircraft.records.place, message=message, do=HOW, mind=ANY_LOADED_RUN, record="sag_run")
        )
    run, sag = found
    if sag.ohm <= 0:
        message = f"the volts of the sag run of {run.date.value} do not fall with the current: see pack-resistance"
        raise Open(Unproven(cause="uncertain", place=run.place, message=message, do=HOW, mind=again(run)))
    return run, sag


def _u_ohm(on: Context, sag: Sag, run: records.SagRun) -> tuple[float, float]:
    told = u_resistance(on, sag)
    if told is not None:
        return told
    if of_display(on, "v") is None:
        raise _volts_unknown(run.place)
    before = on.latest(on.aircraft.records.current_comparison)
    message = f"how right the amperes of the sag run of {run.date.value} are is not known"
    how, mind = compare_again(before), again(before)
    raise Open(Unproven(place=run.place, message=message, do=how, mind=mind, record="current_comparison"))


def _true_volts(warning: fitted.BatteryWarning, pack: fitted.Pack, on: Context) -> tuple[float, float]:
    """Of the whole pack where the warning comes, with its standard uncertainty.

    A warning of the lowest cell reads the balance plug, which no comparison speaks for: as it is set.
    """
    cells = need(pack.cells).value
    shown = cell_v(warning, pack) * cells
    if warning.watches.value == "lowest-cell":
        return shown, 0.0
    display = of_display(on, "v")
    assert display is not None  # or the resistance would have ended the rule
    true = display.judging.zero.value + display.judging.gain.value * shown
    return true, display.judge(true, 0.0).expanded / t_factor(math.inf) * true


def _volts_unknown(place: Place) -> Open:
    message = "what the display's volts are in truth is not known"
    return Open(
        Unproven(place=place, message=message, do=COMPARE_VOLTS, mind=PACK_IN_PROPS_OFF, record="voltage_comparison")
    )


def _floor_v(pack: fitted.Pack, on: Context) -> float:
    chemistry = need(pack.chemistry).value
    limit = on.limit(CELL_FLOOR) / 1000
    return limit if chemistry in ("lipo", "lipo-hv") else CELL_WINDOW_V[chemistry][0]
