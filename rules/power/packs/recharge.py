"""Charge counted against charge put back: an end-to-end check of the current scale."""

import math

from preflint.api import (
    ANY_LOADED_RUN,
    CAUTION,
    HOVER_LOG,
    PACK_UNPLUGGED,
    Aircraft,
    Clear,
    Context,
    Finding,
    Job,
    Known,
    NotApplicable,
    NotFitted,
    Outcome,
    Related,
    Unproven,
    need,
    rule,
    together,
)
from preflint.compute.decision import decide

from ...shared.loaded_run import again
from ..draw import settings
from ..limits import AMMETER_FLOOR, COUNTED_SHARE
from .counted import HOW, RECHARGE, Counted, counted_in, recharged


@rule(
    "power_sensing/recharge",
    each="aircraft",
    severity=CAUTION,
    job=Job.LOAD,
    precaution=ANY_LOADED_RUN,
    source="guard bands on both sides after JCGM 106:2012; the limit is common practice, no source",
    tolerances=(RECHARGE, AMMETER_FLOOR),
)
def recharge(aircraft: Aircraft, on: Context) -> Outcome:
    """Was as much charge counted as the charger put back?

    From full to full, a pack takes back what it gave. Charge counted too low means that the pack is emptier
    at every landing than the display says.

    Reasoning: error = counted / put back - 1, an end-to-end check of the current scale over a whole flight.
    Where a charger calls a pack full, and what balancing turns into heat, stand as f = 0.5 % of the capacity,
    so that a short flight tells little; where the capacity is not recorded the flight is taken to have used a
    fifth of it. What lithium cells do not give back stands as 0.5 % of the charge. With these as half-widths
    beside the charger's accuracy a, U = 1.96·√(a² + f² + 0.5²)/√3 % × counted / put back: found if |error| - U
    is above ``recharge_percent``, clear if |error| + U is not, otherwise too uncertain to tell. Only where the
    pack was full before, and only the latest recharge, or one that failed and none passed since. Amperes
    go against sensor_mv_per_a, so the scale to expect is that in force × counted / put back; where it was
    changed since, or nobody wrote down what it was, the charge is converted, or taken as counted with that
    installed: that can show an error, never that all is well. A changed zero_mv cannot be converted and leaves it
    open, and so does more than 1.1 times the capacity put back. Where no recharge is recorded it is not asked.

    Fails:

        packs: [{label: A1, chemistry: lipo, cells: 4, capacity_mah: 5000}]
        power_sensing: {sensor_mv_per_a: 26.4}
        records:
          recharge:
            - {date: 2026-04-18, pack: A1, counted_mah: 3870, put_back_mah: 4300, full_before: true,
               in_force: {sensor_mv_per_a: 26.4}, reference: {instrument: charger, accuracy_percent: 1.0}}

    Passes: the same with

        records:
          recharge:
            - {date: 2026-04-18, pack: A1, counted_mah: 4280, put_back_mah: 4300, full_before: true,
               in_force: {sensor_mv_per_a: 26.4}, reference: {instrument: charger, accuracy_percent: 1.0}}

    Not checked: a wrong zero of the current, which adds up over the flight, apart from a wrong scale.
    """
    if isinstance(aircraft.power_sensing, NotFitted):
        return NotApplicable("no power sensing is fitted")
    failed = on.failed("recharge", aircraft.records.recharge, lambda record: _as_set(counted_in(record, on), on))
    if failed:
        return failed
    seen = recharged(on)
    return seen if isinstance(seen, NotApplicable) else _judged(seen, on)


def _as_set(seen: Counted | NotApplicable, on: Context) -> Outcome:
    """What one recharge shows by itself, where the scale that was in force is still the one installed."""
    if isinstance(seen, NotApplicable):
        return seen
    return _judged(seen, on) if seen.ratio == 1 else NotApplicable("set anew since")


def _judged(seen: Counted, on: Context) -> Outcome:
    record, installed = seen.record, need(settings(on.aircraft).sensor_mv_per_a)
    limit = on.limit(RECHARGE) / 100
    decision = decide(seen.error, seen.u, math.inf, limit)
    evidence = f"{seen.evidence}: {seen.in_words}, at most {100 * limit:g} %"
    related = (Related(record.counted_mah.place, f"{record.counted_mah.value:g} mAh counted"),)
    if decision == "found":
        return _miscounted(on, seen, installed, evidence, related)
    need(record.in_force.sensor_mv_per_a)
    if seen.ratio != 1:
        message = f"sensor_mv_per_a is {installed.value:g}, but the charge was counted with another setting"
        return Unproven(
            cause="stale",
            place=installed.place,
            message=message,
            do=HOW,
            evidence=evidence,
            related=related,
            mind=HOVER_LOG,
            record="recharge",
        )
    if decision == "uncertain":
        message = f"charge {seen.in_words}: too uncertain to tell"
        better = (
            "recharge with a better charger or inline meter after a longer flight; write down the pack and "
            "its capacity"
        )
        return Unproven(
            cause="uncertain",
            place=record.counted_mah.place,
            message=message,
            do=better,
            evidence=evidence,
            mind=HOVER_LOG,
            record="recharge",
        )
    return Clear(evidence)


def _miscounted(
    on: Context, seen: Counted, installed: Known[float], evidence: str, related: tuple[Related, ...]
) -> Finding:
    """With the setting to expect, where any charge was counted."""
    meter = again(on.latest(on.aircraft.records.current_comparison))
    if seen.error == -1:
        return Finding(
            place=installed.place,
            message="no charge was counted",
            evidence=evidence,
            do="look at the sensor's plug and wires, then compare the current with a meter",
            related=related,
            mind=together(PACK_UNPLUGGED, meter),
            record="current_comparison",
        )
    expect = installed.value * (1 + seen.error)
    return Finding(
        place=installed.place,
        message=f"charge is {seen.in_words}: {_used(seen)}",
        evidence=evidence,
        do=f"compare the current with a meter, and expect sensor_mv_per_a near {expect:.3g}",
        related=related,
        mind=meter,
        record="current_comparison",
    )


def _used(seen: Counted) -> str:
    """What is used when the display has counted most of the pack: counting too little is the dangerous way."""
    dangerous = "dangerous, " if seen.error < 0 else ""
    counted = 1000.0 if seen.capacity_mah is None else COUNTED_SHARE * seen.capacity_mah
    of_pack = "" if seen.capacity_mah is None else f" of {seen.capacity_mah:.0f}"
    return f"{dangerous}when {counted:.0f}{of_pack} mAh are counted, {counted / (1 + seen.error):.0f} are used"
