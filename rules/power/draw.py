"""How much current flows at hover and at full throttle, and between which voltages a pack lives."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TypeVar

from preflint.api import (
    DESK,
    HOVER_LOG,
    SETTINGS,
    THRUST_STAND,
    Absent,
    Aircraft,
    Context,
    Known,
    NotApplicable,
    NotFitted,
    Open,
    Related,
    Tolerance,
    Unproven,
    events,
    fitted,
    logbook,
    need,
    not_recorded,
    records,
    together,
    touches,
)
from preflint.compute.rows import median

from .stand import stand_power_w

D = TypeVar("D", bound=records.Dated)
V = TypeVar("V")

# V a cell: end of discharge, full charge. LiPo: common practice; the others: common practice, from memory.
CELL_WINDOW_V = {"lipo": (3.0, 4.20), "lipo-hv": (3.0, 4.35), "li-ion": (2.5, 4.20), "life": (2.5, 3.65)}

WINDOW_WITHIN = 0.05  # of the voltage: packs are charged and emptied a little beyond it; common practice, no source
OVER_FULL = 1.2  # as far as a full-throttle draw may be understated; common practice, no source
LOAD_COVERAGE = Tolerance(
    "load_coverage_percent",
    "%",
    90.0,
    "higher",
    "common practice, no source",
    "how much of the hover current the highest reading under load must reach",
)

_HOVER_OR_STAND = together(THRUST_STAND, HOVER_LOG)

# Work on the sensor or the flight controller that changes what is shown, and not what flows.
_OF_THE_DISPLAY = frozenset({"settings-changed", "reset", "firmware"})
_SAME_MASS = 0.005  # change of the current, below which no word is lost on another mass
_QUIET_WORK = frozenset({"settings-changed", "flown", "stored"})


def pack_window_v(pack: fitted.Pack) -> tuple[float, float]:
    """Lowest and full voltage of a pack. Ends the rule as unproven where cells or chemistry are missing."""
    cells = need(pack.cells).value
    low, full = CELL_WINDOW_V[need(pack.chemistry).value]
    return cells * low, cells * full


def flown(packs: Iterable[fitted.Pack], label: object) -> tuple[fitted.Pack, ...]:
    """The packs that a record with this label may be of."""
    return tuple(
        pack
        for pack in packs
        if not isinstance(label, Known) or not isinstance(pack.label, Known) or pack.label.value == label.value
    )


def is_a_cells(volts: float, pack: fitted.Pack) -> bool:
    """Whether it is the voltage of one cell of the pack, and cannot be that of the whole."""
    if not isinstance(pack.cells, Known) or not isinstance(pack.chemistry, Known) or pack.cells.value == 1:
        return False
    low, full = CELL_WINDOW_V[pack.chemistry.value]
    return low * (1 - WINDOW_WITHIN) <= volts <= full * (1 + WINDOW_WITHIN) < pack.cells.value * low


def hover_current_a(on: Context) -> tuple[float, str]:
    """Current at hover at the take-off mass, as the settings installed show it, and in words where it is from.

    The latest hover record that speaks, or after which nothing but settings and firmware changed, where it notes
    its own settings: what flows at hover is no matter of what shows it. A hover at another mass is converted by
    ``for_the_mass``. Else the thrust stand at each rotor's share of the take-off mass.
    """
    return on.once(_hover_current, on)


def _hover_current(on: Context) -> tuple[float, str]:
    aircraft = on.aircraft
    how = "hover steadily and note the mean current, or measure thrust and current of one motor on a stand"
    try:
        hover = on.freshest(
            "hover",
            aircraft.records.hover,
            how,
            covers=lambda r: isinstance(r.mean_current_a, Known),
            mind=_HOVER_OR_STAND,
        )
    except Open as end:
        if converted := _set_anew_since(on):
            return _at_takeoff_mass(aircraft, converted, f"hover of {converted.date.value}, converted")
        if not aircraft.records.thrust_stand:
            if end.unproven.cause == "absent":
                message = "the hover current is not known: neither a hover nor a thrust stand is recorded"
                raise Open(
                    Unproven(
                        place=aircraft.records.place, message=message, do=how, mind=_HOVER_OR_STAND, record="hover"
                    )
                ) from None
            raise
        return _by_thrust_stand(on, how)
    return _at_takeoff_mass(aircraft, hover, f"hover of {hover.date.value}")


def _at_takeoff_mass(aircraft: Aircraft, hover: records.Hover, words: str) -> tuple[float, str]:
    """Its current, as the settings installed show it, and the words with the mass where that was another."""
    factor = for_the_mass(aircraft, hover)
    if abs(factor - 1) > _SAME_MASS:
        words += f" at {need(hover.takeoff_mass_g).value:g} g, for {need(aircraft.about.takeoff_mass_g).value:g} g"
    return as_installed_a(aircraft, hover) * factor, words


def for_the_mass(aircraft: Aircraft, hover: records.Hover) -> float:
    """Current at the take-off mass over that of the hover: masses to the power of 1.5; 1 where one is not recorded.

    Source: momentum theory of the actuator disc, P = T^1.5/√(2·density·A), as in J. G. Leishman, Principles of
    Helicopter Aerodynamics, chapter 2.
    """
    flown, now = hover.takeoff_mass_g, aircraft.about.takeoff_mass_g
    if not (isinstance(flown, Known) and isinstance(now, Known)):
        return 1.0
    return float((now.value / flown.value) ** 1.5)


def _set_anew_since(on: Context) -> records.Hover | None:
    """The latest hover, where it notes its settings and nothing but settings and firmware ended it."""
    past = on.so_far(on.aircraft.records.hover)
    hover = on.latest(past)
    if hover is None or any(hover is not one and hover.date.value.after(one.date.value) is None for one in past):
        return None
    noted = (hover.mean_current_a, hover.in_force.sensor_mv_per_a, hover.in_force.zero_mv)
    if not all(isinstance(one, Known) for one in noted):
        return None
    rows = on.ended_by("hover")
    ended = [
        event
        for event in events(on.aircraft)
        if event.date.value.after(hover.date.value) is not False and any(touches(event, row, None) for row in rows)
    ]
    soft = all(isinstance(one, logbook.LogEntry) and one.kind.value in _OF_THE_DISPLAY for one in ended)
    return hover if soft and ended and not on.too_old("hover", hover) else None


def as_installed_a(aircraft: Aircraft, hover: records.Hover) -> float:
    """Mean current as the settings installed would show the same millivolts of the sensor.

    A setting that the record does not note is taken as unchanged. Ends the rule as unproven where nothing is
    left of the current.
    """
    current, set_now, then = need(hover.mean_current_a), aircraft.power_sensing, hover.in_force
    if not isinstance(set_now, Known) or not isinstance(set_now.value.sensor_mv_per_a, Known):
        return current.value
    scale = set_now.value.sensor_mv_per_a
    scale_then = then.sensor_mv_per_a if isinstance(then.sensor_mv_per_a, Known) else scale
    shift_mv = 0.0
    if isinstance(set_now.value.zero_mv, Known) and isinstance(then.zero_mv, Known):
        shift_mv = then.zero_mv.value - set_now.value.zero_mv.value
    shown = (current.value * scale_then.value + shift_mv) / scale.value
    if shown <= 0 < current.value:
        message = f"with the settings installed the hover of {hover.date.value} would have shown {shown:.1f} A"
        how = "look whether zero_mv and sensor_mv_per_a are written as they are set, then and now"
        raise Open(Unproven(cause="uncertain", place=current.place, message=message, do=how, mind=SETTINGS))
    return shown


def _by_thrust_stand(on: Context, how: str) -> tuple[float, str]:
    """At the middle of the lowest pack's window; where no pack says its own, at the voltage of the stand."""
    aircraft = on.aircraft
    stands, minded = aircraft.records.thrust_stand, _HOVER_OR_STAND
    stand = on.freshest("thrust_stand", stands, how, mind=minded, says=lambda s: None)  # any stand will do
    lifted_g = need(aircraft.about.takeoff_mass_g).value
    watts = on.once(stand_power_w, on, stand, lifted_g).value
    volts = min(
        (
            sum(pack_window_v(pack)) / 2
            for pack in aircraft.packs
            if isinstance(pack.cells, Known) and isinstance(pack.chemistry, Known)
        ),
        default=float(median(need(stand.table).value.column("voltage_v"))),
    )
    each_g = lifted_g / len(aircraft.rotors)
    return watts / volts, f"thrust stand of {stand.date.value} at {each_g:.0f} g a rotor and {volts:.1f} V"


def settings(aircraft: Aircraft) -> fitted.PowerSensing:
    """What is set, where power sensing is fitted. Ends the rule as unproven where nobody says."""
    found = aircraft.power_sensing
    assert not isinstance(found, NotFitted)
    if isinstance(found, Absent):
        raise Open(not_recorded(found))
    return found.value


def not_fitted(aircraft: Aircraft, on: Context, shown: Iterable[records.Dated]) -> NotApplicable | Unproven:
    """What to answer where the manifest says ``power_sensing: none``.

    ``shown``: records of what only power sensing can show. One of them means that sensing was fitted when it
    was taken; unless the logbook says that it was removed since, one of the two entries is wrong, and a scale
    that nobody judged must not pass as one that is not there.
    """
    none = aircraft.power_sensing
    assert isinstance(none, NotFitted)
    removed = [
        entry.date.value
        for entry in aircraft.logbook
        if entry.kind.value == "removed" and isinstance(entry.part, Known) and entry.part.value == "power-sensor"
    ]
    for record in sorted(on.so_far(shown), key=lambda one: one.date.value.latest, reverse=True):
        taken = record.date.value
        if not any(day.after(taken) is not False for day in removed):
            return Unproven(
                place=none.place,
                message=f"power_sensing is none, but its readings of {taken} are recorded",
                do="write down the power sensing that is fitted, or its removal in the logbook",
                related=(Related(record.place, f"read from power sensing on {taken}"),),
                mind=DESK,
                on_paper=True,
            )
    return NotApplicable("no power sensing is fitted")


def full_current_a(aircraft: Aircraft) -> float:
    """The draw of all motors together at full throttle. Ends the rule as unproven where one is missing."""
    return sum(need(rotor.motor.full_throttle_draw_a).value for rotor in aircraft.rotors)


def latest(
    on: Context, kind: str, of_kind: Iterable[D], how: str, precaution: str | None = None
) -> tuple[D, Open | None]:
    """The freshest record; where only settings were changed since, it comes with what that leaves open.

    Settings can be converted by their ratio, so such a record can still show that something is wrong,
    never that it is right.
    """
    of_kind = tuple(of_kind)
    try:
        return on.freshest(kind, of_kind, how, mind=precaution), None
    except Open as end:
        last = on.latest(of_kind)
        if last is None:
            raise
        work_since = {
            entry.kind.value for entry in on.aircraft.logbook if entry.date.value.after(last.date.value) is not False
        }
        if not work_since or not work_since <= _QUIET_WORK:
            raise
        return last, end
