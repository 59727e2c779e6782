"""Does a pack resist more than its leads?"""

from __future__ import annotations

from collections.abc import Iterator

from preflint.api import (
    ANY_LOADED_RUN,
    CAUTION,
    PACK_UNPLUGGED,
    Clear,
    Context,
    Figure,
    Finding,
    Job,
    Known,
    NotApplicable,
    Outcome,
    Related,
    Unproven,
    figure,
    fitted,
    need,
    records,
    rule,
    together,
)
from preflint.arrays import np
from preflint.compute.wire import wire_resistance_ohm

from ...shared.loaded_run import again
from .fit import HOW, fitted_sag, in_words, latest_sag
from .scales import u_resistance

_COLD_C = -20.0  # copper conducts best when cold: the least that a lead can have


@figure("pack-resistance")
def resistance_figures(on: Context) -> Iterator[Figure]:
    """Resistance of pack and leads by V = V₀ - R·I - a·Q, of each sag run that still speaks.

    The case names the dwell at each current, since a pack sags further the longer it is loaded. The standard
    uncertainty is that of the rows and of both scales of the display, with the errors that the comparisons
    found, which are not taken off. None without a row to spare, or where a scale was not compared since the
    display last changed.
    """
    latest: dict[str | None, records.SagRun] = {}
    for run in on.so_far(on.aircraft.records.sag_run):
        if on.speaks("sag_run", run):
            latest[run.pack.value if isinstance(run.pack, Known) else None] = run
    for label, run in latest.items():
        sag = on.once(fitted_sag, run)
        if sag is None:
            continue
        case = f"dwell-{run.dwell_s.value:g}-s" if isinstance(run.dwell_s, Known) else None
        u, dof = u_resistance(on, sag) or (None, None)
        yield Figure("pack_resistance_ohm", case, sag.ohm, u, "Ω", label, run.place, dof)


@rule(
    "power_sensing/pack-resistance",
    each="pack",
    severity=CAUTION,
    job=Job.LOAD,
    precaution=ANY_LOADED_RUN,
    source="derived: a pack with its leads resists more than the leads alone (ASTM B258, IEC 60028)",
)
def pack_resistance(pack: fitted.Pack, on: Context) -> Outcome:
    """Does the pack resist more than its leads alone?

    A sag that is smaller than the drop in the copper is impossible: volts or amperes of the run are wrong, and
    so is every warning and every count that comes from the same display.

    Reasoning: R of V = V₀ - R·I - a·Q, fitted to the latest sag run of this pack, against both wires of its lead at
    -20 °C, where copper conducts best. U = t·u as for sag. Found if R + U is below the lead's resistance, clear if
    R - U is not, otherwise too uncertain to tell. Where the volts rise with the current it is unproven: such a run
    tells nothing. Where no sag run is recorded it is not asked.

    Fails:

        packs: [{label: A1, chemistry: lipo, cells: 4, lead: {gauge_awg: 16, one_way_length_mm: 200}}]
        records:
          sag_run:
            - {date: 2026-05-16, pack: A1, dwell_s: 10, columns: [current_a, voltage_v, used_mah],
               rows: [[0, 16.02, 0], [15, 15.98, 45], [30, 15.92, 130], [15, 15.91, 180], [1, 15.94, 190]]}

    Passes: the same with

        records:
          sag_run:
            - {date: 2026-05-16, pack: A1, dwell_s: 10, columns: [current_a, voltage_v, used_mah],
               rows: [[0, 16.02, 0], [15, 15.63, 45], [30, 15.23, 130], [15, 15.57, 180], [1, 15.91, 190]]}

    Not checked: whether the volts are sensed behind the lead (through a balance plug they are not), how well its
    length is known, and the connectors.
    """
    found = on.once(latest_sag, pack, on)
    if isinstance(found, NotApplicable):
        return found
    run, sag = found
    u = sag.expanded(np.array([0.0, 1.0, 0.0]))
    milli = f"{1000 * sag.ohm:.1f} mΩ ± {1000 * u:.1f} mΩ"
    if sag.ohm <= 0:
        message = f"the volts of the sag run of {run.date.value} rise with the current: {milli}"
        how = f"look whether the columns are exchanged; {HOW}"
        return Unproven(cause="uncertain", place=run.place, message=message, do=how, mind=again(run))
    gauge, length = need(pack.lead.gauge_awg), need(pack.lead.one_way_length_mm)
    lead = wire_resistance_ohm(gauge.value, 2 * length.value / 1000, _COLD_C)
    evidence = (
        f"{in_words(run, sag)}, R {milli} (95 %); both wires of the lead, {gauge.value} AWG and {length.value:g} mm, "
        f"{1000 * lead:.1f} mΩ at the least"
    )
    related = (Related(gauge.place, f"the lead alone has {1000 * lead:.1f} mΩ"),)
    if sag.ohm + u < lead:
        return Finding(
            place=run.place,
            message=f"pack and lead come out at {milli}, less than the {1000 * lead:.1f} mΩ of the lead alone",
            evidence=evidence,
            do="compare volts and amperes with a meter under load: volts that stand still or amperes that read high "
            "make a sag too small; measure the lead again",
            related=related,
            mind=together(PACK_UNPLUGGED, again(run)),
        )
    if sag.ohm - u < lead:
        return Unproven(
            cause="uncertain",
            place=run.place,
            message=f"pack and lead come out at {milli}, too near the {1000 * lead:.1f} mΩ of the lead alone to tell",
            do=f"{HOW}, with more current and more readings",
            evidence=evidence,
            related=related,
            mind=again(run),
            record="sag_run",
        )
    return Clear(evidence)
