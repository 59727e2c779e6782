"""Does anything warn of an empty pack?"""

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

from ..power.draw import pack_window_v
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
)
def none(aircraft: Aircraft, on: Context) -> Outcome:
    """Does anything warn before the pack is empty?

    A multirotor with an empty pack does not glide. Nothing in the sound of the motors tells it in time; somebody or
    something has to watch the volts, the charge or the clock.

    At least one of `battery_warnings` must come before each pack is empty, by its number alone: volts between the
    pack's lowest and its full voltage (lipo and lipo-hv 3.0 V a cell, li-ion and life 2.5 V, when empty), charge used
    below its capacity, or a timer. A warning left at another number of cells is none. `battery_warnings: none` says
    that nothing warns; where a timer limits the flight, write it: {watches: flight-time, at_min: 6, does: tells}.

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
    if all(one.watches.value == "flight-time" for one in told.value):
        return Clear(f"the flight ends by the clock: {said}")
    if not aircraft.packs:
        raise no_pack(aircraft)
    for pack in aircraft.packs:
        if not _any_works(told.value, pack):
            return Finding(
                place=told.place,
                message=f"no battery warning comes between full and empty for {name_of(pack)}",
                evidence=f"{said}; {_in_words(pack)}",
                do=_HOW,
                related=(Related(pack.place, name_of(pack)),),
            )
    return Clear(said)


def _any_works(told: tuple[fitted.BatteryWarning, ...], pack: fitted.Pack) -> bool:
    """Ends the rule as unproven where none is known to work and one may."""
    left_open: Open | None = None
    for one in told:
        try:
            if works(one, pack):
                return True
        except Open as end:
            left_open = left_open or end
    if left_open:
        raise left_open
    return False


def _in_words(pack: fitted.Pack) -> str:
    low, full = pack_window_v(pack)
    return f"{name_of(pack)} is empty at {low:.1f} V and full at {full:.1f} V"
