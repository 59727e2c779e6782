"""The whole aircraft, and the questions that rules ask it."""

from collections.abc import Mapping
from functools import cache
from typing import Literal

from preflint.aircraft.declare import group, says
from preflint.aircraft.declared import declarations, groups_of
from preflint.aircraft.electrics import Regulator
from preflint.aircraft.field import Absent, Fitted, Known, NotFitted
from preflint.aircraft.fitted import (
    Airframe,
    Barometer,
    Compass,
    FlightController,
    Home,
    Limits,
    Pack,
    PowerSensing,
    SatelliteReceiver,
    Site,
)
from preflint.aircraft.layouts import MOST_ROTORS, level_of, unit_place
from preflint.aircraft.logbook import Deferral, LogEntry
from preflint.aircraft.papers import Papers
from preflint.aircraft.plan import Plan
from preflint.aircraft.records import Records
from preflint.aircraft.rotor import Rotor
from preflint.aircraft.warning import BatteryWarning
from preflint.places import Place
from preflint.precautions import SETTINGS


@group("Airframe manifest")
class Aircraft:
    """One multirotor: what is fitted, how it is rigged today, what the instruments showed and what has been done to it
    since. Write down what you see, not what you conclude; leave out what you do not know.
    """

    place: Place
    about: Airframe = says(
        "Aircraft", "What the aircraft is.", key="aircraft", examples=[{"name": "Lapwing", "layout": "quad-x"}]
    )
    site: Site = says(
        "Site", "Where it is flown.",
        file=True, examples=[{"latitude_deg": 54.61, "longitude_deg": -3.12}, "sites/tarn-meadow.yaml"],
    )
    limits: Limits = says(
        "Limits of the aircraft", "The weather that it is made for.",
        key="limits_of_aircraft", examples=[{"wind_m_s": 9, "gust_m_s": 12, "rain": "none"}],
    )
    # Every position of a named layout, in walk-round order, written or not.
    rotors: tuple[Rotor, ...] = says(
        "Rotors", "One entry a rotor.",
        entry="rotor", count=(0, MOST_ROTORS), examples=[[{"at": "front-left", "spin": "cw"}]],
    )
    flight_controller: FlightController = says(
        "Flight controller", "What the flight controller was told about the rotors.",
        examples=[{"expects_spin": {"front-left": "cw"}}],
    )
    packs: tuple[Pack, ...] = says(
        "Packs", "One entry a labelled flight pack; an entry may be the name of a YAML file that holds it.",
        file=True, entry="pack", examples=[[{"label": "A1", "cells": 6}]],
    )
    power_sensing: Fitted[PowerSensing] = says(
        "Power sensing", "How volts and amperes are sensed.",
        do="write power_sensing: what is fitted, or power_sensing: none", on_paper=True,
        file=True, examples=[{"divider_ratio": 14.6}, "none"],
    )
    regulator: Fitted[Regulator] = says(
        "Regulator", "What feeds flight controller and receiver from the pack.",
        do="write regulator: its ratings and load, or regulator: none", on_paper=True,
        file=True, examples=[{"continuous_a": 5, "load_a": 1.4}, "none"],
    )
    compass: Fitted[Compass] = says(
        "Compass", "The compass and its corrections; {} where it is fitted and nothing more is known.",
        do="write compass: what is fitted, or compass: none", on_paper=True,
        file=True, examples=[{"hard_iron_ut": [4.1, -12.0, 7.7]}, "none"],
    )
    barometer: Fitted[Barometer] = says(
        "Barometer", "The pressure sensor; {} where it is fitted and nothing more is known.",
        do="write barometer: what is fitted, or barometer: none", on_paper=True,
        examples=[{"accuracy_hpa": 1.0}, "none"],
    )
    satellite_receiver: Fitted[SatelliteReceiver] = says(
        "Satellite receiver", "The satellite position receiver; {} where it is fitted and nothing more is known.",
        do="write satellite_receiver: {} where one is fitted, else satellite_receiver: none", on_paper=True,
        examples=[{"make": "Skua 2"}, "none"],
    )
    papers: Papers = says(
        "Papers", "Until when the papers hold that local law asks for.",
        examples=[{"insurance_until": "2027-03-31"}],
    )
    plan: Plan = says(
        "Plan", "The flight that is planned: how far, how high, how fast, how long.",
        examples=[{"farthest_m": 300, "airspeed_m_s": 10, "flight_min": 8}],
    )
    battery_warnings: Fitted[tuple[BatteryWarning, ...]] = says(
        "Battery warnings",
        "What tells the pilot that the pack runs low, one entry a number that is watched; a timer counts as one.",
        do="read how warnings of a low pack are set, and write battery_warnings, or battery_warnings: none",
        mind=SETTINGS, entry="battery warning", count=(1, 20),
        examples=[[{"watches": "pack-voltage", "at_cell_v": 3.5, "does": "tells"}], "none"],
    )
    home: Home = says(
        "Loss of link in the air", "What it does in the air when the link is lost, and how far it may go.",
        key="return", examples=[{"on_link_loss": "comes-home", "height_m": 40}],
    )
    records: Records = says(
        "Records", "What the instruments showed and what was seen, by kind.",
        examples=[{"rig_check": [{"date": "2026-05-20", "rig": "flight"}]}],
    )
    logbook: tuple[LogEntry, ...] = says(
        "Logbook", "Work done and what happened, in any order.", entry="logbook entry",
        examples=[[{"date": "2026-05-09", "kind": "replaced", "part": "motor", "at": "rear-left"}]],
    )
    deferrals: tuple[Deferral, ...] = says(
        "Deferred defects", "Known cautions and advisories that somebody answers for until a day.",
        key="deferred_defects", entry="deferred defect",
        examples=[[
            {"rule": "vibration/harmonic", "until": "2026-06-01", "by": "R. Ashdown", "because": "new prop ordered"}
        ]],
    )  # fmt: skip

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


@cache
def entry_words() -> Mapping[str, str]:
    """What people call one entry of a list, by the list's key; of a list of records it is the kind's name."""
    every = (Aircraft, *groups_of(Aircraft))
    said = ((name, said) for group in every for name, said in declarations(group).items())
    return {one.key or name: one.entry for name, one in said if one.entry}


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
