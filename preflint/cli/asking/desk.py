"""What is no record and flight needs all the same: what is fitted, how props are held and sit, settings, the site."""

import datetime as dt
from collections.abc import Callable, Sequence
from dataclasses import replace

from preflint.aircraft.field import Absent, Known, NotFitted
from preflint.aircraft.fitted import (
    Airframe,
    BatteryWarning,
    Compass,
    Home,
    Pack,
    PowerSensing,
    SatelliteReceiver,
    Site,
)
from preflint.aircraft.model import Aircraft, name
from preflint.aircraft.moment import Moment
from preflint.aircraft.rotor import Fixing, Motor, Prop, Rotor
from preflint.aircraft.rung import Rung
from preflint.frozen import dataclass
from preflint.precautions import DESK
from preflint.writing.draft import FITTED, keys_of_fitted
from preflint.writing.facts import Facts
from preflint.writing.fill import Path
from preflint.writing.questions import Question, field_question
from preflint.writing.shape import Shape

NONE = "none"


@dataclass(frozen=True, slots=True)
class Item:
    """One field: where it stands, the group that declares it, and whether this aircraft still needs it told.

    ``kind``: the record that needs it; "" where every aircraft does. ``each``: it is told at every rotor, below
    ``rotors``. ``or_none``: none may be answered, of all that its path begins with.
    """

    rung: Rung
    path: Path
    group: type
    kind: str
    is_open: Callable[[Aircraft], bool]
    each: bool = False
    or_none: bool = False

    @property
    def name(self) -> str:
        """Its key."""
        return str(self.path[-1])

    def question(self, aircraft: Aircraft) -> Question:
        """What is asked; of what is fitted only the parts that are."""
        facts = Facts.of(aircraft, Moment(dt.date.today()))
        untold = (
            [name(r) for r in aircraft.rotors if isinstance(getattr(r.prop, self.name), Absent)] if self.each else ()
        )
        one = field_question(self.group, self.name, facts, tuple(untold))
        if self.or_none:
            words = (*one.choices, NONE)
            return replace(one, choices=words, shape=replace(one.shape, words=words))
        return _of_fitted(one, aircraft) if self.name == "relies_on" else one


def _of_fitted(one: Question, aircraft: Aircraft) -> Question:
    held = {
        "compass": aircraft.compass, "barometer": aircraft.barometer, "satellite": aircraft.satellite_receiver,
    }  # fmt: skip
    words = tuple(word for word in one.choices if not isinstance(held[word], NotFitted))
    return replace(one, choices=words, shape=replace(one.shape, words=words), offers={"all": list(words)})


_BY_VOLTS = ("pack-voltage", "lowest-cell")
_GRIPPING = ("collet", "set-screw")


def _is_held(rotor: Rotor, *kinds: str) -> bool:
    return isinstance(rotor.fixing.kind, Known) and rotor.fixing.kind.value in kinds


def _unsaid_of(name: str, *kinds: str) -> Callable[[Aircraft], bool]:
    return lambda a: any(_is_held(r, *kinds) and isinstance(getattr(r.fixing, name), Absent) for r in a.rotors)


def _power(name: str) -> Callable[[Aircraft], bool]:
    return lambda a: (
        isinstance(a.power_sensing, Absent)
        or (isinstance(a.power_sensing, Known) and isinstance(getattr(a.power_sensing.value, name), Absent))
    )


def _no_offset(aircraft: Aircraft) -> bool:
    fitted = aircraft.compass
    return isinstance(fitted, Known) and isinstance(fitted.value.interference_offset_ut_per_a, Absent)


def _no_accuracy(aircraft: Aircraft) -> bool:
    fitted = aircraft.satellite_receiver
    return isinstance(fitted, Known) and isinstance(fitted.value.accuracy_m, Absent)


def _thrust_unsaid(aircraft: Aircraft) -> bool:
    """A hover shows that it lifts what it weighs, and a thrust stand what a motor gives."""
    shown = aircraft.records.hover or aircraft.records.thrust_stand
    return not shown and any(isinstance(rotor.motor.max_thrust_g, Absent) for rotor in aircraft.rotors)


def _relied_on_unsaid(aircraft: Aircraft) -> bool:
    parts = (aircraft.compass, aircraft.barometer, aircraft.satellite_receiver)
    return isinstance(aircraft.about.relies_on, Absent) and not all(isinstance(part, NotFitted) for part in parts)


def _warned_by(aircraft: Aircraft, *watched: str) -> bool:
    """Whether a battery warning watches one of these."""
    told = aircraft.battery_warnings
    return isinstance(told, Known) and any(one.watches.value in watched for one in told.value)


def _in_volts(aircraft: Aircraft) -> bool:
    """Whether a warning tells the volts of the pack, or a display those of one that is recorded."""
    shown = bool(aircraft.packs) and not isinstance(aircraft.power_sensing, NotFitted)
    return shown or _warned_by(aircraft, *_BY_VOLTS)


def _first_pack_lacks(aircraft: Aircraft, name: str) -> bool:
    return not aircraft.packs or isinstance(getattr(aircraft.packs[0], name), Absent)


def _first_warning(name: str, *watched: str) -> Callable[[Aircraft], bool]:
    """Whether the first battery warning watches one of these, of which the field is not told."""

    def is_open(aircraft: Aircraft) -> bool:
        told = aircraft.battery_warnings
        if not isinstance(told, Known):
            return False
        first = told.value[0]
        return (not watched or first.watches.value in watched) and isinstance(getattr(first, name), Absent)

    return is_open


def _warning(name: str, *watched: str) -> Item:
    return Item(Rung.METER, ("battery_warnings", 0, name), BatteryWarning, "", _first_warning(name, *watched))


def _relies_on_satellite(aircraft: Aircraft) -> bool:
    return aircraft.relies_on("satellite") is True


def _comes_home(aircraft: Aircraft) -> bool:
    does = aircraft.home.on_link_loss
    return _relies_on_satellite(aircraft) and isinstance(does, Known) and does.value == "comes-home"


ITEMS: Sequence[Item] = (
    Item(Rung.BENCH_LOOK, ("aircraft", "relies_on"), Airframe, "", _relied_on_unsaid),
    Item(Rung.BENCH_LOOK, ("every_rotor", "fixing", "kind"), Fixing, "",
         lambda a: any(isinstance(rotor.fixing.kind, Absent) for rotor in a.rotors)),
    Item(Rung.BENCH_LOOK, ("every_rotor", "fixing", "latched"), Fixing, "", _unsaid_of("latched", "clip")),
    Item(Rung.BENCH_LOOK, ("every_rotor", "fixing", "shaft_flat"), Fixing, "", _unsaid_of("shaft_flat", "set-screw")),
    Item(Rung.BENCH_LOOK, ("every_rotor", "fixing", "grips_mm"), Fixing, "", _unsaid_of("grips_mm", *_GRIPPING)),
    Item(Rung.BENCH_LOOK, ("every_rotor", "motor", "shaft_mm"), Motor, "",
         lambda a: any(_is_held(r, *_GRIPPING) and isinstance(r.motor.shaft_mm, Absent) for r in a.rotors)),
    Item(Rung.BENCH_LOOK, ("prop", "hand"), Prop, "",
         lambda a: any(isinstance(rotor.prop.hand, Absent) for rotor in a.rotors), each=True),
    Item(Rung.BENCH_LOOK, ("prop", "face"), Prop, "",
         lambda a: any(isinstance(rotor.prop.face, Absent) for rotor in a.rotors), each=True),
    Item(Rung.METER, ("aircraft", "takeoff_mass_g"), Airframe, "",
         lambda a: isinstance(a.about.takeoff_mass_g, Absent) and not a.records.hover),
    Item(Rung.METER, ("every_rotor", "motor", "max_thrust_g"), Motor, "", _thrust_unsaid),
    Item(Rung.METER, ("power_sensing", "divider_ratio"), PowerSensing, "voltage_comparison", _power("divider_ratio")),
    Item(Rung.METER, ("battery_warnings", 0, "watches"), BatteryWarning, "",
         lambda a: isinstance(a.battery_warnings, Absent), or_none=True),
    _warning("at_v", "pack-voltage"),
    _warning("at_cell_v", "lowest-cell"),
    _warning("at_used_mah", "charge-used"),
    _warning("at_min", "flight-time"),
    _warning("does"),
    Item(Rung.METER, ("packs", 0, "cells"), Pack, "", lambda a: _in_volts(a) and _first_pack_lacks(a, "cells")),
    Item(Rung.METER, ("packs", 0, "chemistry"), Pack, "",
         lambda a: _in_volts(a) and _first_pack_lacks(a, "chemistry")),
    Item(Rung.METER, ("packs", 0, "capacity_mah"), Pack, "",
         lambda a: _warned_by(a, "charge-used") and _first_pack_lacks(a, "capacity_mah")),
    Item(Rung.METER, ("satellite_receiver", "accuracy_m"), SatelliteReceiver, "position_check", _no_accuracy),
    Item(Rung.METER, ("return", "on_link_loss"), Home, "",
         lambda a: _relies_on_satellite(a) and isinstance(a.home.on_link_loss, Absent)),
    Item(Rung.METER, ("return", "height_m"), Home, "",
         lambda a: _comes_home(a) and isinstance(a.home.height_m, Absent)),
    Item(Rung.METER, ("site", "highest_obstacle_m"), Site, "",
         lambda a: _comes_home(a) and isinstance(a.site.highest_obstacle_m, Absent)),
    Item(Rung.LOAD, ("power_sensing", "sensor_mv_per_a"), PowerSensing, "current_comparison",
         _power("sensor_mv_per_a")),
    Item(Rung.LOAD, ("power_sensing", "zero_mv"), PowerSensing, "current_comparison", _power("zero_mv")),
    Item(Rung.LOAD, ("compass", "interference_offset_ut_per_a"), Compass, "interference_run", _no_offset),
    Item(Rung.LOAD, ("site", "latitude_deg"), Site, "interference_run",
         lambda a: isinstance(a.site.latitude_deg, Absent)),
    Item(Rung.LOAD, ("site", "longitude_deg"), Site, "interference_run",
         lambda a: isinstance(a.site.longitude_deg, Absent)),
    Item(Rung.LOAD, ("site", "elevation_m"), Site, "interference_run",
         lambda a: isinstance(a.site.elevation_m, Absent)),
    Item(Rung.LOAD, ("every_rotor", "motor", "full_throttle_draw_a"), Motor, "interference_run",
         lambda a: any(isinstance(rotor.motor.full_throttle_draw_a, Absent) for rotor in a.rotors)),
)  # fmt: skip


def unsaid_parts(aircraft: Aircraft) -> tuple[str, ...]:
    """What may be fitted and nobody said so, by the words of ``--fitted``."""
    held = {
        "power": aircraft.power_sensing, "compass": aircraft.compass, "barometer": aircraft.barometer,
        "satellite": aircraft.satellite_receiver,
    }  # fmt: skip
    return tuple(word for word in FITTED if isinstance(held[word], Absent))


def fitted_question(words: Sequence[str]) -> Question:
    """Which of these parts are fitted."""
    return Question(
        name="fitted", title="Fitted",
        meaning=f"What is fitted of {', '.join(words)}; power means that volts and amperes are sensed, satellite a "
        "receiver of positions.",
        unit="", how="", mind=DESK, example="", choices=tuple(words), shape=Shape("word", tuple(words), deep=1),
        limits={}, count=None, optional=False, offers={"all": list(words)},
    )  # fmt: skip


def parts_told(words: Sequence[str], fitted: Sequence[str]) -> list[tuple[Path, str]]:
    """What is then written: a fitted part as a group with nothing in it yet, another as none."""
    return [((keys_of_fitted()[word],), "{}" if word in fitted else "none") for word in words]
