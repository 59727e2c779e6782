"""Does a pack resist more than it once did?"""

import math

from preflint.api import (
    ANY_LOADED_RUN,
    CAUTION,
    PACK_UNPLUGGED,
    Clear,
    Context,
    Finding,
    Job,
    Known,
    NotApplicable,
    NotFitted,
    Outcome,
    Related,
    Tolerance,
    Unproven,
    fitted,
    need,
    records,
    rule,
    touches,
)
from preflint.compute.decision import decide, effective_dof, t_factor

from ..power.sag.fit import HOW, Sag, fitted_sag
from ..shared.loaded_run import again

RISE = Tolerance(
    "pack_resistance_rise_percent",
    "%",
    50.0,
    "lower",
    "common practice, no source",
    "how much more a pack may resist than in its first sag run",
)
_ALIKE_K = 3.0  # two runs as warm as that are compared; common practice, no source
_ALIKE_DWELL = 1.5  # a pack sags further the longer a current is held; common practice, no source
_OF_THE_PACK = ("stored", "crashed", "hard-landing", "tipped-over")  # what ages a pack, and changes no lead or sensor


@rule(
    "packs/resistance",
    each="pack",
    severity=CAUTION,
    job=Job.LOAD,
    precaution=ANY_LOADED_RUN,
    source="guard bands on both sides after JCGM 106:2012; the limit is common practice, no source",
    tolerances=(RISE,),
)
def resistance(pack: fitted.Pack, on: Context) -> Outcome:
    """Does the pack resist hardly more than it once did?

    A pack grows old by resisting more: it sags further, warms more, and ends earlier, long before it holds less. The
    rise from run to run tells it in time.

    Reasoning: R of V = V₀ - R·I - a·Q of the latest sag run of this pack over that of the first one since lead, plug,
    sensor or settings were last changed. Found where the rise is more than ``pack_resistance_rise_percent`` by more
    than U, clear where it is less by as much. U comes of the scatter of both runs, by Student's t with the effective
    degrees of freedom; the display's scale is in both and cancels. Runs are compared only where the pack was as warm
    within 3 K (`temperature_c`) and each current was held about as long (within a factor of 1.5). Where there are no
    two runs it is not asked.

    Fails:

        packs: [{label: A1, chemistry: lipo, cells: 4}]
        records:
          sag_run:
            - {date: 2025-09-16, pack: A1, dwell_s: 10, temperature_c: 19, columns: [current_a, voltage_v, used_mah],
               rows: [[0, 16.02, 0], [25, 15.63, 70], [50, 15.23, 210], [25, 15.57, 280], [1, 15.91, 290]]}
            - {date: 2026-05-16, pack: A1, dwell_s: 10, temperature_c: 18, columns: [current_a, voltage_v, used_mah],
               rows: [[0, 16.02, 0], [25, 15.25, 70], [50, 14.43, 210], [25, 15.18, 280], [1, 15.90, 290]]}

    Passes: the same with

        records:
          sag_run:
            - {date: 2025-09-16, pack: A1, dwell_s: 10, temperature_c: 19, columns: [current_a, voltage_v, used_mah],
               rows: [[0, 16.02, 0], [25, 15.63, 70], [50, 15.23, 210], [25, 15.57, 280], [1, 15.91, 290]]}
            - {date: 2026-05-16, pack: A1, dwell_s: 10, temperature_c: 18, columns: [current_a, voltage_v, used_mah],
               rows: [[0, 16.02, 0], [25, 15.61, 70], [50, 15.19, 210], [25, 15.55, 280], [1, 15.91, 290]]}

    It does not check single cells, nor what the pack still holds.
    """
    if isinstance(on.aircraft.power_sensing, NotFitted):
        return NotApplicable("no power sensing is fitted")
    label = need(pack.label).value
    runs = on.so_far(
        run for run in on.aircraft.records.sag_run if isinstance(run.pack, Known) and run.pack.value == label
    )
    if len(runs) < 2:
        return NotApplicable("there are no two sag runs of this pack")
    later = runs[-1]
    earlier = next((run for run in runs[:-1] if not _changed_between(run, later, on)), None)
    if earlier is None:
        return NotApplicable("lead, sensor or settings were changed between its sag runs")
    fits = [on.once(fitted_sag, run) for run in (earlier, later)]
    usable = [fit for fit in fits if fit is not None and fit.covariance is not None and fit.ohm > 0]
    if len(usable) < 2:
        return NotApplicable("one of its sag runs tells no resistance: see pack-resistance")
    if apart := _not_comparable(earlier, later):
        return apart
    return _judged(earlier, later, usable[0], usable[1], on)


def _changed_between(earlier: records.SagRun, later: records.SagRun, on: Context) -> bool:
    """Whether work lies, or may lie, between them that ends a sag run by more than the pack's own age."""
    rows = on.ended_by("sag_run")
    return any(
        entry.kind.value not in _OF_THE_PACK
        and entry.date.value.after(earlier.date.value) is not False
        and later.date.value.after(entry.date.value) is not False
        and any(touches(entry, row, None) for row in rows)
        for entry in on.aircraft.logbook
    )


def _not_comparable(earlier: records.SagRun, later: records.SagRun) -> Unproven | None:
    """Where the pack was not as warm, or not loaded as long. Ends the rule where nobody wrote it."""
    dwells = [need(run.dwell_s).value for run in (earlier, later)]
    warmth = [need(run.temperature_c).value for run in (earlier, later)]
    if abs(warmth[1] - warmth[0]) > _ALIKE_K:
        why = f"the pack had {warmth[0]:g} °C in the sag run of {earlier.date.value} and {warmth[1]:g} °C now"
        do = f"{HOW}, with the pack at about {warmth[0]:g} °C"
    elif max(dwells) > _ALIKE_DWELL * min(dwells):
        why = f"each current was held for {dwells[0]:g} s in the run of {earlier.date.value}, {dwells[1]:g} s now"
        do = f"{HOW}, holding each for {dwells[0]:g} s"
    else:
        return None
    return Unproven(
        cause="uncertain",
        place=later.place,
        message=f"{why}: no resistances to compare",
        do=do,
        related=(Related(earlier.date.place, "the first sag run of this pack"),),
        mind=again(later),
        record="sag_run",
    )


def _judged(earlier: records.SagRun, later: records.SagRun, first: Sag, now: Sag, on: Context) -> Outcome:
    limit, rise = on.limit(RISE), 100 * (now.ohm / first.ohm - 1)
    parts = [(100 * now.ohm / first.ohm * _u_ohm(fit) / fit.ohm, fit.dof) for fit in (first, now)]
    u, dof = math.hypot(*(part for part, _ in parts)), effective_dof(parts)
    evidence = (
        f"R {1000 * first.ohm:.1f} mΩ on {earlier.date.value}, {1000 * now.ohm:.1f} mΩ on {later.date.value}: "
        f"{rise:+.0f} % ± {t_factor(dof) * u:.0f} % (95 %), at most {limit:g} %"
    )
    decision = decide(max(0.0, rise), u, dof, limit)
    related = (Related(earlier.date.place, "the first sag run of this pack"),)
    if decision == "clear":
        return Clear(evidence)
    if decision == "found":
        return Finding(
            place=later.place,
            message=f"the pack resists {now.ohm / first.ohm:.1f} times what it did on {earlier.date.value.date}",
            evidence=evidence,
            do="look at plug and solder joints for one that warms; if they are sound, the pack has aged: land earlier, "
            "keep to gentle throttle, and replace it",
            related=related,
            mind=PACK_UNPLUGGED,
        )
    return Unproven(
        cause="uncertain",
        place=later.place,
        message="the sag runs scatter too much to tell how far the pack has aged",
        do=f"{HOW}, with more current and more readings",
        evidence=evidence,
        related=related,
        mind=again(later),
        record="sag_run",
    )


def _u_ohm(fit: Sag) -> float:
    assert fit.covariance is not None
    return math.sqrt(max(0.0, float(fit.covariance[1, 1])))
