"""The whole aircraft, and the questions that rules ask it."""

from collections.abc import Mapping
from functools import cache
from typing import Literal

from preflint.aircraft.declare import group, says
from preflint.aircraft.declared import declarations, groups_of
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
from preflint.aircraft.home import Home
from preflint.aircraft.layouts import MOST_ROTORS, level_of, unit_place
from preflint.aircraft.logbook import Deferral, LogEntry
from preflint.aircraft.plan import Plan
from preflint.aircraft.records import Records
from preflint.aircraft.rotor import Rotor
from preflint.places import Place


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
    plan: Plan = says(
        "Plan", "The flight that is planned: how far, how high, how fast, how long.",
        examples=[{"farthest_m": 300, "airspeed_m_s": 10, "flight_min": 8}],
