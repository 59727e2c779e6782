"""Does anything warn of an empty pack?"""

import math

from preflint.api import (
    NO_GO,
    SETTINGS,
    Absent,
    Aircraft,
    Clear,
    Context,
    Finding,
    Job,
    NotFitted,
    Open,
    Outcome,
    Related,
    fitted,
    not_recorded,
    rule,
)
from preflint.compute.decision import t_factor
from preflint.compute.energy import endurance_min

from ..endurance.charge import capacity, hover
from ..power.draw import pack_window_v
from ..power.limits import AMPERES_COMPARED
from .set import in_words, name_of, no_pack, works

_HOW = (
    "set a battery warning, by volts, by charge used or by a timer; write it under battery_warnings; until then land "
    "by the clock"
)


@rule(
    "warnings/none",
    each="aircraft",
    severity=NO_GO,
    job=Job.PACK_IN,
    precaution=SETTINGS,
    source="common practice, no source (a warning of a low battery is set before flight)",
    needed_for_flight=True,
    shown_by=fitted.BatteryWarning,
    tolerances=AMPERES_COMPARED,
)
def none(aircraft: Aircraft, on: Context) -> Outcome:
    """Does anything warn before the pack is empty?

    A multirotor with an empty pack does not glide. Nothing in the sound of the motors tells it in time; somebody or
    something has to watch the volts, the charge or the clock.

    At least one of `battery_warnings` must come before each pack is empty, by its number alone: volts between the
    pack's lowest and its full voltage (lipo and lipo-hv 3.0 V a cell, li-ion and life 2.5 V, when empty), charge used
    below its capacity, or a timer that rings before hover has taken all that the pack can give. A timer is held against
    hover current less its U at 95 %; where that or the capacity is not known it counts. A warning left at another
    number of cells is none. `battery_warnings: none` says that nothing warns; where a timer limits the flight, write
    it: {watches: flight-time, at_min: 6, does: tells}.

    Fails:

        packs: [{label: A1, chemistry: lipo, cells: 4, capacity_mah: 6000}]
        battery_warnings: [{watches: pack-voltage, at_v: 10.5, does: tells}]

    Passes: the same with

        battery_warnings: [{watches: pack-voltage, at_v: 14.0, does: tells}]

    It does not check whether the warning comes in time (warnings/full-throttle-cell, warnings/charge-left), nor
    whether it is heard (warnings/heard).
    """
    told = aircraft.battery_warnings
    if isinstance(told, Absent):
        raise Open(not_recorded(told))
    if isinstance(told, NotFitted):
        return Finding(
            place=told.place,
            message="nothing warns of an empty pack, and nothing limits the flight",
            evidence="battery_warnings: none",
            do=_HOW,
        )
    said = "; ".join(map(in_words, told.value))
    by_the_clock = all(one.watches.value == "flight-time" for one in told.value)
    if not aircraft.packs and not by_the_clock:
        raise no_pack(aircraft)
    for pack in aircraft.packs:
        if not _any_works(told.value, pack, on):
            return Finding(
                place=told.place,
                message=f"no battery warning comes between full and empty for {name_of(pack)}",
                evidence=f"{said}; {_in_words(told.value, pack, on)}",
                do=_HOW,
                related=(Related(pack.place, name_of(pack)),),
            )
    return Clear(f"the flight ends by the clock: {said}" if by_the_clock else said)


def _any_works(told: tuple[fitted.BatteryWarning, ...], pack: fitted.Pack, on: Context) -> bool:
    """Ends the rule as unproven where none is known to work and one may."""
    left_open: Open | None = None
    for one in told:
        try:
            lasts = _lasts_min(pack, on) if one.watches.value == "flight-time" else math.inf
            if works(one, pack, lasts):
                return True
        except Open as end:
            left_open = left_open or end
    if left_open:
        raise left_open
    return False


def _lasts_min(pack: fitted.Pack, on: Context) -> float:
    """Minutes of hover until the pack is surely empty; infinite where nobody knows its charge, or hover current."""
    try:
        (current, _), gives = hover(on), capacity(pack, on)
    except Open:
        return math.inf
    least_a = current.value - t_factor(math.inf) * current.u
    return endurance_min(gives.most / 1000, 0.0, least_a) if least_a > 0 else math.inf


def _in_words(told: tuple[fitted.BatteryWarning, ...], pack: fitted.Pack, on: Context) -> str:
    lasts = _lasts_min(pack, on)
    if all(one.watches.value == "flight-time" for one in told):
        return f"{name_of(pack)} is empty after {lasts:.0f} min of hover"
    low, full = pack_window_v(pack)
    clock = f", after {lasts:.0f} min of hover" if any(one.watches.value == "flight-time" for one in told) else ""
    return f"{name_of(pack)} is empty at {low:.1f} V{clock} and full at {full:.1f} V"
