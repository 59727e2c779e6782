"""Charge counted against charge put back: an end-to-end check of the current scale."""

import math
from dataclasses import dataclass
from typing import TypeVar

from preflint.api import (
    ANY_LOADED_RUN,
    CAUTION,
    HOVER_LOG,
    PACK_UNPLUGGED,
    Absent,
    Aircraft,
    Clear,
    Context,
    Field,
    Finding,
    Job,
    Known,
    NotApplicable,
    NotFitted,
    Open,
    Outcome,
    Related,
    Tolerance,
    Unproven,
    need,
    not_recorded,
    records,
    rule,
    together,
)
from preflint.compute.decision import decide, t_factor, u_rectangular

from ...shared.loaded_run import again, last
from ..draw import settings
from ..sensing.current import COUNTED_SHARE

V = TypeVar("V")

RECHARGE = Tolerance(
    "recharge_percent",
    "%",
    3.0,
    "lower",
    "common practice, no source",
    "relative error of the charge counted, against the charge put back",
)
HOW = "fly from a full pack, charge it full again, and note what was counted and what was put back"
# Half-widths. Common practice, no source.
_FULL_WITHIN = 0.005  # of the capacity: where a charger calls a pack full, and what balancing turns into heat
_LOST_WITHIN = 0.005  # of the charge put back: what no lithium cell gives back
_OVER_FULL = 1.1  # of the capacity: more than that does not go in
_FLIGHT_TAKES_AT_LEAST = 0.2  # of the capacity, where that is not recorded


@dataclass(frozen=True, slots=True)
class Counted:
    """A recharge as the settings installed would count it: (counted - put back) / put back, and its u."""

    record: records.Recharge
    ratio: float
    error: float
    u: float
    capacity_mah: float | None
    evidence: str

    @property
    def in_words(self) -> str:
        """Which way and how far."""
        size = f"{100 * abs(self.error):.1f} % ± {100 * t_factor(math.inf) * self.u:.1f} %"
        return f"{'under' if self.error < 0 else 'over'}-counted by {size}"


def recharged(on: Context) -> Counted | NotApplicable:
    """The latest recharge. Ends the rule as unproven where it cannot be judged."""
    aircraft = on.aircraft
    if isinstance(aircraft.power_sensing, NotFitted):
        return NotApplicable("no power sensing is fitted")
    if not any(record.date.value.date <= on.judged_on for record in aircraft.records.recharge):
        return NotApplicable("no recharge is recorded")
    record = on.freshest("recharge", aircraft.records.recharge, HOW, mind=HOVER_LOG)
    full, accuracy = _told(record.full_before), _told(record.reference.accuracy_percent)
    if not full.value:
        message = "the pack was not full before the flight, so that more was put back than the flight took"
        raise Open(Unproven(place=full.place, message=message, do=HOW, mind=HOVER_LOG))
    if accuracy.value == 0:
        message = "the charger's accuracy is written as 0, but none is without error"
        how = "read the accuracy of the charge put back in the charger's manual"
        raise Open(Unproven(place=accuracy.place, message=message, do=how, mind=PACK_UNPLUGGED))
    counted, put_back = record.counted_mah, record.put_back_mah
    if put_back.value == 0:
        raise Open(Unproven(place=put_back.place, message="nothing was put back", do=HOW, mind=HOVER_LOG))
    put_into = _capacity_mah(aircraft, record)
    if put_into is not None and put_back.value > _OVER_FULL * put_into:
        message = f"{put_back.value:g} mAh are said to be put back into a pack of {put_into:g}"
        how = "look at the charge put back, the pack's label and its capacity"
        raise Open(Unproven(place=put_back.place, message=message, do=how, mind=PACK_UNPLUGGED))
    set_now, then = settings(aircraft), record.in_force.sensor_mv_per_a
    _same_zero(set_now.zero_mv, record.in_force.zero_mv)
    installed = _told(set_now.sensor_mv_per_a)
    ratio = then.value / installed.value if isinstance(then, Known) else 1.0
    error = ratio * counted.value / put_back.value - 1
    whole = put_back.value / _FLIGHT_TAKES_AT_LEAST if put_into is None else max(put_into, put_back.value)
    within = _FULL_WITHIN * whole / put_back.value
    u = (1 + error) * math.hypot(*(u_rectangular(half) for half in (accuracy.value / 100, within, _LOST_WITHIN)))
    evidence = (
        f"{counted.value:g} mAh counted, {put_back.value:g} mAh put back on {record.date.value} by a charger good to "
        f"{accuracy.value:g} %, full again within {within * put_back.value:.0f} mAh, "
        + (
            f"sensor_mv_per_a {then.value:g} in force"
            if isinstance(then, Known)
            else f"taken as counted with sensor_mv_per_a {installed.value:g} as installed"
        )
        + ("" if ratio == 1 else f", converted to {installed.value:g} as installed")
    )
    return Counted(record, ratio, error, u, put_into, evidence)


def _same_zero(now: Field[float], then: Field[float]) -> None:
    """Ends the rule as unproven where the zero was changed: how much charge it made is not recorded."""
    if isinstance(now, Known) and isinstance(then, Known) and now.value != then.value:
        message = f"zero_mv is {now.value:g}, but the charge was counted with {then.value:g}"
        raise Open(Unproven(cause="stale", place=now.place, message=message, do=HOW, mind=HOVER_LOG))


def _told(field: Field[V]) -> Known[V]:
    """What is recorded. As ``need``, but ends in an Open, which callers may catch."""
    if isinstance(field, Absent):
        raise Open(not_recorded(field))
    return field


def _capacity_mah(aircraft: Aircraft, record: records.Recharge) -> float | None:
    """Of the pack charged, else the largest where the record names none; None where it is not recorded."""
    packs = [
        pack
        for pack in aircraft.packs
        if not isinstance(record.pack, Known)
        or (isinstance(pack.label, Known) and pack.label.value == record.pack.value)
    ]
    known = [pack.capacity_mah.value for pack in packs if isinstance(pack.capacity_mah, Known)]
    return max(known) if known and len(known) == len(packs) else None


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
    Where a charger calls a pack full, and what balancing turns into heat, stand as f = 0.5 % of the capacity,
    so that a short flight tells little; where the capacity is not recorded the flight is taken to have used a
    fifth of it. What lithium cells do not give back stands as 0.5 % of the charge. With these as half-widths
    beside the charger's accuracy a, U = 1.96·√(a² + f² + 0.5²)/√3 % × counted / put back: found if |error| - U
    is above ``recharge_percent``, clear if |error| + U is not, otherwise too uncertain to tell. Only where the
    pack was full before, and only the latest recharge: earlier ones speak for a sensor of earlier days. Amperes
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

    Passes:

        packs: [{label: A1, chemistry: lipo, cells: 4, capacity_mah: 5000}]
        power_sensing: {sensor_mv_per_a: 26.4}
        records:
          recharge:
            - {date: 2026-04-18, pack: A1, counted_mah: 4280, put_back_mah: 4300, full_before: true,
               in_force: {sensor_mv_per_a: 26.4}, reference: {instrument: charger, accuracy_percent: 1.0}}

    Not checked: a wrong zero of the current, which adds up over the flight, apart from a wrong scale.
    """
    seen = recharged(on)
    if isinstance(seen, NotApplicable):
        return seen
    record, installed = seen.record, need(settings(aircraft).sensor_mv_per_a)
    limit = on.limit(RECHARGE) / 100
    decision = decide(seen.error, seen.u, math.inf, limit)
    evidence = f"{seen.evidence}: {seen.in_words}, at most {100 * limit:g} %"
    related = (Related(record.counted_mah.place, f"{record.counted_mah.value:g} mAh counted"),)
    meter = again(last(aircraft.records.current_comparison, on))
    if decision == "found" and seen.error == -1:
        remedy = "look at the sensor's plug and wires, then compare the current with a meter"
        return Finding(
            place=installed.place,
            message="no charge was counted",
            evidence=evidence,
            do=remedy,
            related=related,
            mind=together(PACK_UNPLUGGED, meter),
        )
    if decision == "found":
        message = f"charge is {seen.in_words}: {_used(seen)}"
        expect = installed.value * (1 + seen.error)
        remedy = f"compare the current with a meter, and expect sensor_mv_per_a near {expect:.3g}"
        return Finding(
            place=installed.place, message=message, evidence=evidence, do=remedy, related=related, mind=meter
        )
    _told(record.in_force.sensor_mv_per_a)
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
        )
    if decision == "uncertain":
        message = f"charge {seen.in_words}: too uncertain to tell"
        better = (
            "recharge with a charger or an inline meter of better accuracy after a longer flight, and write down the "
            "pack and its capacity"
        )
        return Unproven(
            cause="uncertain",
            place=record.counted_mah.place,
            message=message,
            do=better,
            evidence=evidence,
            mind=HOVER_LOG,
        )
    return Clear(evidence)


def _used(seen: Counted) -> str:
    """What is used when the display has counted most of the pack: counting too little is the dangerous way."""
    dangerous = "dangerous, " if seen.error < 0 else ""
    counted = 1000.0 if seen.capacity_mah is None else COUNTED_SHARE * seen.capacity_mah
    of_pack = "" if seen.capacity_mah is None else f" of {seen.capacity_mah:.0f}"
    return f"{dangerous}when {counted:.0f}{of_pack} mAh are counted, {counted / (1 + seen.error):.0f} are used"
