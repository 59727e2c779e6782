"""What the aircraft carries besides its rotors."""

from collections.abc import Mapping
from typing import Literal

from preflint.aircraft.airframe import Airframe as Airframe
from preflint.aircraft.airframe import Site as Site
from preflint.aircraft.declare import group, like, says
from preflint.aircraft.field import Field, Known
from preflint.aircraft.home import Home as Home
from preflint.aircraft.limits import Limits as Limits
from preflint.aircraft.plan import Plan as Plan
from preflint.aircraft.settings import (
    DIVIDER_RATIO,
    HARD_IRON_UT,
    INTERFERENCE_OFFSET_UT_PER_A,
    SENSOR_MV_PER_A,
    ZERO_MV,
)
from preflint.aircraft.warning import BatteryWarning as BatteryWarning
from preflint.aircraft.weather import Day as Day
from preflint.aircraft.words import Turning
from preflint.places import Place
from preflint.precautions import DESK, SETTINGS


@group("Lead", examples=[{"gauge_awg": 12, "one_way_length_mm": 130}])
class Lead:
    """The two wires between pack and aircraft."""

    place: Place
    gauge_awg: Field[int] = says(
        "Gauge", "AWG number of the wire.",
        do="read it off the wire", least=0, most=40, examples=[12],
    )
    one_way_length_mm: Field[float] = says(
        "One-way length", "Length of one of the two wires, in mm.",
        do="measure one wire of the pair", above=0, most=5000, examples=[130],
    )
    insulation_c: Field[float] = says(
        "Insulation", "Temperature that the insulation bears for long, in °C: silicone 200, PVC 105 or less.",
        do="read the temperature off the wire, or its data sheet: silicone 200, PVC 105", mind=DESK,
        least=60, most=300, examples=[200],
    )


@group("Pack", examples=[{"label": "A1", "chemistry": "lipo", "cells": 6, "capacity_mah": 6000}])
class Pack:
    """One labelled flight pack. A label may stand only once."""

    place: Place
    label: Field[str] = says(
        "Label", "What is written on the pack.",
        do="label the pack", longest=40, examples=["A1"],
    )
    chemistry: Field[Literal["lipo", "lipo-hv", "li-ion", "life"]] = says(
        "Chemistry", "lipo (4.20 V a cell when full), lipo-hv (4.35 V), li-ion or life.",
        do="read it off the pack", mind=DESK, examples=["lipo"],
    )
    cells: Field[int] = says(
        "Cells", "Cells in series.",
        do="count the cells in series: wires of the balance plug less one", least=1, most=30, examples=[6],
    )
    capacity_mah: Field[float] = says(
        "Capacity", "In mAh.",
        do="read it off the pack", mind=DESK, least=10, most=200000, examples=[6000],
    )
    rated_c: Field[float] = says(
        "Discharge rating", "Continuous discharge rating, a multiple of the capacity per hour.",
        do="read it off the pack", mind=DESK, above=0, most=500, examples=[25],
    )
    mass_g: Field[float] = says(
        "Mass", "In g.", do="weigh it", least=1, most=50000, examples=[780],
    )
    lead: Lead = says(
        "Lead", "The wires between pack and aircraft.",
        file=True, examples=[{"gauge_awg": 12, "one_way_length_mm": 130}, "parts/lead.yaml"],
    )
    connector_continuous_a: Field[float] = says(
        "Connector rating", "Current that the connector carries continuously, in A.",
        do="read the connector maker's continuous rating", above=0, most=1000, examples=[90],
    )
    fuse_a: Field[float] = says(
        "Fuse", "Rating of the fuse in the lead, in A; left out where there is none.",
        do="read it off the fuse", above=0, most=1000, examples=[100],
    )


@group("Power sensing", examples=[{"divider_ratio": 14.6, "sensor_mv_per_a": 26.4, "zero_mv": 512}])
class PowerSensing:
    """The settings by which the flight controller turns what it senses into volts and amperes: volts = input volts ×
    divider_ratio; amperes = (input mV − zero_mv) / sensor_mv_per_a.
    """

    place: Place
    divider_ratio: Field[float] = like(
        DIVIDER_RATIO,
        do="read the ratio of the voltage divider in the flight controller's settings", mind=SETTINGS,
    )
    sensor_mv_per_a: Field[float] = like(
        SENSOR_MV_PER_A,
        do="read the current sensor's scale in the flight controller's settings", mind=SETTINGS,
    )
    zero_mv: Field[float] = like(
        ZERO_MV, do="read the current sensor's zero in the flight controller's settings", mind=SETTINGS,
    )
    input_full_scale_mv: Field[float] = says(
        "Input range", "Greatest voltage that the analogue input can read, in mV.",
        do="read the range of the flight controller's analogue input in its data sheet", mind=DESK,
        least=100, most=20000, examples=[3300],
    )
    input_bits: Field[int] = says(
        "Input bits", "Number of bits of the analogue input.",
        do="read the number of bits of the flight controller's analogue input in its data sheet", mind=DESK,
        least=6, most=32, examples=[12],
    )


@group("Compass", examples=[{"interference_offset_ut_per_a": [-0.11, 0.23, -0.05]}])
class Compass:
    """The corrections in the flight controller, in body axes: forward, right, down."""

    place: Place
    interference_offset_ut_per_a: Field[tuple[float, ...]] = like(
        INTERFERENCE_OFFSET_UT_PER_A,
        do="read the installed offset in the flight controller's settings", mind=SETTINGS,
    )
    hard_iron_ut: Field[tuple[float, ...]] = like(
        HARD_IRON_UT,
        do="read the compass's hard-iron correction in the flight controller's settings", mind=SETTINGS,
    )
    soft_iron: Field[tuple[tuple[float, ...], ...]] = says(
        "Soft-iron matrix",
        "3 by 3 matrix that the flight controller multiplies the field by, row by row, after it added the "
        "hard-iron correction; no unit.",
        do="read the 3 by 3 matrix in the flight controller's settings", mind=SETTINGS,
        count=3, least=-10, most=10, examples=[[[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]]],
    )
    noise_ut: Field[float] = says(
        "Noise", "Standard deviation of one reading, in µT.",
        do="read the noise of one reading in the compass's data sheet", mind=DESK, least=0, most=100, examples=[0.2],
    )


@group("Barometer", examples=[{"accuracy_hpa": 1.0}])
class Barometer:
    """A pressure sensor on board."""

    place: Place
    accuracy_hpa: Field[float] = says(
        "Accuracy", "Absolute accuracy, in hPa.",
        do="read it in the sensor's data sheet", mind=DESK, above=0, most=50, examples=[1.0],
    )


@group("Satellite receiver", examples=[{"make": "Skua 2"}])
class SatelliteReceiver:
    """A satellite position receiver on board."""

    place: Place
    make: Field[str] = says(
        "Make", "Maker and type.", do="read it off the receiver", examples=["Skua 2"], unjudged="label",
    )
    accuracy_m: Field[float] = says(
        "Accuracy", "Of the horizontal position under open sky, in m.",
        do="read the accuracy of its position in the receiver's manual", above=0, most=1000, examples=[3],
    )


@group("Flight controller", examples=[{"expects_spin": {"front-left": "cw"}}])
class FlightController:
    """What the flight controller was told about the rotors."""

    place: Place
    make: Field[str] = says(
        "Make", "Maker and type.", do="read it off the board", examples=["Plover F7"], unjudged="label",
    )
    expects_spin: Mapping[str, Known[Turning]] = says(
        "Expected spin", "For each position the spin, seen from above, that the flight controller is set up for.",
        do="look in its settings or in the manual for this layout", mind=SETTINGS,
        examples=[{"front-left": "cw", "front-right": "ccw"}],
    )
