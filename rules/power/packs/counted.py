"""What a recharge says of the charge counted."""

import math

from preflint.api import (
    DESK,
    HOVER_LOG,
    Aircraft,
    Context,
    Field,
    Known,
    NotApplicable,
    NotFitted,
    Open,
    Tolerance,
    Unproven,
    need,
    records,
)
from preflint.compute.decision import t_factor, u_rectangular
from preflint.frozen import dataclass

from ..draw import settings
from ..limits import AMMETER_FLOOR

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
_NO_FLIGHT_MAH = 20.0  # less than any flight takes, of the smallest aircraft
_MISCOUNTED = 1.5  # of the capacity: more than that is not counted, even by a wrong scale
_HARDLY_ANY = 0.02  # of the capacity: nobody flies and recharges for less
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
    """The latest recharge, once for an aircraft. Ends the rule as unproven where it cannot be judged."""
    return on.once(_recharged, on)


def _recharged(on: Context) -> Counted | NotApplicable:
    """The latest recharge. Ends the rule as unproven where it cannot be judged."""
    aircraft = on.aircraft
    if isinstance(aircraft.power_sensing, NotFitted):
        return NotApplicable("no power sensing is fitted")
    if not on.so_far(aircraft.records.recharge):
        return NotApplicable("no recharge is recorded")
    return counted_in(on.freshest("recharge", aircraft.records.recharge, HOW, mind=HOVER_LOG), on)


def counted_in(record: records.Recharge, on: Context) -> Counted | NotApplicable:
    """One recharge, whether or not it still speaks. Ends the rule as unproven where it cannot be judged."""
    aircraft = on.aircraft
    counted, put_back, capacity = record.counted_mah, record.put_back_mah, capacity_of(aircraft, record)
    if in_ampere_hours(counted.value, capacity) or in_ampere_hours(put_back.value, capacity):
        return NotApplicable("a charge is written down in Ah: see recharge-unit")
    accuracy, put_into = _may_speak(aircraft, record)
    set_now, then = settings(aircraft), record.in_force.sensor_mv_per_a
    _same_zero(set_now.zero_mv, record.in_force.zero_mv)
    installed = need(set_now.sensor_mv_per_a)
    ratio = then.value / installed.value if isinstance(then, Known) else 1.0
    error = ratio * counted.value / put_back.value - 1
    whole = put_back.value / _FLIGHT_TAKES_AT_LEAST if put_into is None else max(put_into, put_back.value)
    believed = max(accuracy.value, on.limit(AMMETER_FLOOR))
    within = _FULL_WITHIN * whole / put_back.value
    u = (1 + error) * math.hypot(*(u_rectangular(half) for half in (believed / 100, within, _LOST_WITHIN)))
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


def _may_speak(aircraft: Aircraft, record: records.Recharge) -> tuple[Known[float], float | None]:
    """The charger's accuracy and the capacity of the pack charged, if recorded.

    Ends the rule as unproven where the recharge tells nothing of the charge counted.
    """
    full, accuracy = need(record.full_before), need(record.reference.accuracy_percent)
    if not full.value:
        message = "the pack was not full before: more was put back than the flight took"
        raise Open(Unproven(place=full.place, message=message, do=HOW, mind=HOVER_LOG, record="recharge"))
    if accuracy.value == 0:
        message = "the charger's accuracy is written as 0, but none is without error"
        how = "read the accuracy of the charge put back in the charger's manual"
        raise Open(Unproven(place=accuracy.place, message=message, do=how, mind=DESK))
    put_back = record.put_back_mah
    if put_back.value == 0:
        raise Open(
            Unproven(place=put_back.place, message="nothing was put back", do=HOW, mind=HOVER_LOG, record="recharge")
        )
    put_into = capacity_of(aircraft, record)
    if put_into is not None and put_back.value > _OVER_FULL * put_into:
        message = f"{put_back.value:g} mAh are said to be put back into a pack of {put_into:g}"
        how = "look at the charge put back, the pack's label and its capacity"
        raise Open(Unproven(place=put_back.place, message=message, do=how, mind=DESK))
    return accuracy, put_into


def _same_zero(now: Field[float], then: Field[float]) -> None:
    """Ends the rule as unproven where the zero was changed: how much charge it made is not recorded."""
    if isinstance(now, Known) and isinstance(then, Known) and now.value != then.value:
        message = f"zero_mv is {now.value:g}, but the charge was counted with {then.value:g}"
        raise Open(Unproven(cause="stale", place=now.place, message=message, do=HOW, mind=HOVER_LOG, record="recharge"))


def in_ampere_hours(charge: float, capacity_mah: float | None) -> bool:
    """Whether a charge that should be in mAh is a number of Ah."""
    if capacity_mah is None:
        return 0 < charge < _NO_FLIGHT_MAH
    return 0 < charge < _HARDLY_ANY * capacity_mah and 1000 * charge <= _MISCOUNTED * capacity_mah


def capacity_of(aircraft: Aircraft, record: records.Recharge) -> float | None:
    """Of the pack charged, else the largest where the record names none; None where it is not recorded."""
    packs = [
        pack
        for pack in aircraft.packs
        if not isinstance(record.pack, Known)
        or (isinstance(pack.label, Known) and pack.label.value == record.pack.value)
    ]
    known = [pack.capacity_mah.value for pack in packs if isinstance(pack.capacity_mah, Known)]
    return max(known) if known and len(known) == len(packs) else None
