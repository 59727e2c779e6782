"""The whole aircraft, and the questions that rules ask it."""

from dataclasses import dataclass
from typing import Literal

from preflint.aircraft.field import Absent, Fitted, Known, NotFitted
from preflint.aircraft.fitted import (
    Airframe,
    Barometer,
    Compass,
    FlightController,
    Pack,
    PowerSensing,
    SatelliteReceiver,
    Site,
)
from preflint.aircraft.layouts import level_of, unit_place
from preflint.aircraft.logbook import Deferral, LogEntry
from preflint.aircraft.records import Records
from preflint.aircraft.rotor import Rotor
from preflint.places import Place


@dataclass(frozen=True, slots=True)
class Aircraft:
    """One aircraft. ``rotors`` holds every position of a named layout, in walk-round order, written or not."""

    place: Place
    about: Airframe
    site: Site
    rotors: tuple[Rotor, ...]
    flight_controller: FlightController
    packs: tuple[Pack, ...]
    power_sensing: Fitted[PowerSensing]
    compass: Fitted[Compass]
    barometer: Fitted[Barometer]
    satellite_receiver: Fitted[SatelliteReceiver]
    records: Records
    logbook: tuple[LogEntry, ...]
    deferrals: tuple[Deferral, ...]

    @property
    def positions(self) -> tuple[str, ...]:
        """The names of all rotors in walk-round order."""
        return tuple(name(rotor) for rotor in self.rotors)

    def rotor(self, at: str) -> Rotor:
        """The rotor of that name. Raises KeyError where there is none."""
        for rotor in self.rotors:
            if name(rotor) == at:
                return rotor
        raise KeyError(at)

    def relies_on(self, what: Literal["compass", "barometer", "satellite"]) -> "bool | Absent":
        """Whether flight relies on it: as ``aircraft.relies_on`` says, else whether it is fitted.

        Absent where neither is recorded.
        """
        thing: Fitted[object] = {
            "compass": self.compass,
            "barometer": self.barometer,
            "satellite": self.satellite_receiver,
        }[what]
        if isinstance(self.about.relies_on, Known):
            return what in self.about.relies_on.value
        if isinstance(thing, Absent):
            return thing
        return not isinstance(thing, NotFitted)


def name(rotor: Rotor) -> str:
    """A rotor's position name; loading makes sure that there is one."""
    assert isinstance(rotor.at, Known)
    return rotor.at.value


def rotor_place(aircraft: Aircraft, rotor: Rotor) -> tuple[float, float, float]:
    """Forward, right, down: mm for ``place_mm``, else in arm lengths (only ratios matter for the named layouts)."""
    if isinstance(rotor.place_mm, Known):
        forward, right, down = rotor.place_mm.value
        return forward, right, down
    return unit_place(aircraft.about.layout.value, name(rotor))


def nut_points(rotor: Rotor) -> Known[Literal["up", "down"]]:
    """As written, else the layout's usual: down for rotors below their arm, up for all others."""
    if isinstance(rotor.nut_points, Known):
        return rotor.nut_points
    usual: Literal["up", "down"] = "down" if level_of(name(rotor)) == "lower" else "up"
    return Known(usual, rotor.place)
