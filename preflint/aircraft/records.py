"""Readings on a date: what the instruments showed and what was seen. One class per kind of record."""

from collections.abc import Mapping
from dataclasses import dataclass, fields
from typing import ClassVar, Literal

from preflint.aircraft.dated import Dated as Dated
from preflint.aircraft.dated import InForce as InForce
from preflint.aircraft.dated import Reference as Reference
from preflint.aircraft.field import Field, Known, learn
from preflint.aircraft.rotor import Turning
from preflint.load.tables.table import Table
from preflint.places import Place
from preflint.precautions import (
    ANY_LOADED_RUN,
    FIELD_CHECK,
    HOVER_LOG,
    PACK_IN_PROPS_OFF,
    PROPS_REMOVED,
    THRUST_STAND,
)

Route = Literal["inverted-load", "restrained", "hover-log"]
Props = Literal["removed", "fitted"]


@dataclass(frozen=True, slots=True)
class SpinTest(Dated):
    props: Field[Props] = learn("say whether the props were removed")
    seen: Mapping[str, Known[Turning]] = learn("")


@dataclass(frozen=True, slots=True)
class OutputTest(Dated):
    """``turned``: the position commanded, and the one that turned."""

    props: Field[Props] = learn("say whether the props were removed")
    turned: Mapping[str, Known[str]] = learn("")


@dataclass(frozen=True, slots=True)
class NutTest(Dated):
    at: Known[str]
    nut: Known[Literal["runs-on", "runs-off"]]
    motor_turned: Field[Turning] = learn("nut held, looking at the nut: which way was the motor turned?")
    nut_turned: Field[Turning] = learn("motor held, looking at the nut: which way was the nut turned?")


@dataclass(frozen=True, slots=True)
class RigCheck(Dated):
    rig: Known[Literal["flight", "inverted-load"]]
    by: Field[str] = learn("say who looked")


@dataclass(frozen=True, slots=True)
class BellPull(Dated):
    at: Known[str]
    moved: Known[bool]


@dataclass(frozen=True, slots=True)
class VoltageComparison(Dated):
    """Columns ``indicated_v`` and ``reference_v``."""

    COLUMNS: ClassVar[tuple[str, ...]] = ("indicated_v", "reference_v")
    pack: Field[str] = learn("write the label of the pack that was plugged in")
    in_force: InForce = learn("")
    loaded: Field[bool] = learn("say whether motors ran while the readings were taken")
    same_terminals: Field[bool] = learn("say whether the meter touched the terminals that the aircraft senses")
    reference: Reference = learn("")
    table: Field[Table] = learn(
        "with the pack plugged in, read the display and a meter at the same moment", PACK_IN_PROPS_OFF
    )


@dataclass(frozen=True, slots=True)
class CurrentComparison(Dated):
    """Columns ``throttle_percent`` (optional), ``indicated_a`` and ``reference_a``."""

    COLUMNS: ClassVar[tuple[str, ...]] = ("throttle_percent?", "indicated_a", "reference_a")
    pack: Field[str] = learn("write the label of the pack that was plugged in")
    route: Field[Route] = learn("say how the load was made: inverted-load, restrained or hover-log")
    in_force: InForce = learn("")
    reference: Reference = learn("")
    table: Field[Table] = learn(
        "read the display and a meter at the same moment, at no load and at half throttle or more", ANY_LOADED_RUN
    )


@dataclass(frozen=True, slots=True)
class InterferenceRun(Dated):
    """Columns ``time_s throttle_percent current_a field_x_ut field_y_ut field_z_ut`` (or ``_mgauss``)."""

    COLUMNS: ClassVar[tuple[str, ...]] = (
        "time_s?",
        "throttle_percent?",
        "current_a",
        "field_x_ut|field_x_mgauss",
        "field_y_ut|field_y_mgauss",
        "field_z_ut|field_z_mgauss",
    )
    route: Field[Route] = learn("say how the load was made: inverted-load, restrained or hover-log")
    field_is: Field[Literal["raw", "compensated"]] = learn("say whether the logged field already had the offset added")
    in_force: InForce = learn("")
    magnetic_restraint: Field[bool] = learn("say whether anything that held the aircraft down attracts a magnet")
    steel_nearby: Field[bool] = learn("say whether a bench, floor or vehicle of steel was within two metres")
    payload_on: Field[bool] = learn("say whether the payload was on")
    table: Field[Table] = learn("log current and field while the throttle goes up in steps", ANY_LOADED_RUN)


@dataclass(frozen=True, slots=True)
class HeadingCheck(Dated):
    """Columns ``true_deg`` and ``indicated_deg``; both count from the same north, clockwise."""

    COLUMNS: ClassVar[tuple[str, ...]] = ("true_deg", "indicated_deg")
    reference: Reference = learn("")
    table: Field[Table] = learn(
        "point the nose north, east, south and west by a map line and read the heading", FIELD_CHECK
    )


@dataclass(frozen=True, slots=True)
class CompassRotation(Dated):
    """Columns ``time_s`` (optional) and ``field_x_ut field_y_ut field_z_ut`` (or ``_mgauss``)."""

    COLUMNS: ClassVar[tuple[str, ...]] = (
        "time_s?",
        "field_x_ut|field_x_mgauss",
        "field_y_ut|field_y_mgauss",
        "field_z_ut|field_z_mgauss",
    )
    field_is: Field[Literal["raw", "compensated"]] = learn(
        "say whether the logged field already had the corrections added"
    )
    in_force: InForce = learn("")
    table: Field[Table] = learn("log the field while the aircraft is turned through all attitudes", PROPS_REMOVED)


@dataclass(frozen=True, slots=True)
class SixPositions(Dated):
    """Columns ``accel_x_m_s2 accel_y_m_s2 accel_z_m_s2``: one row at rest on each side."""

    COLUMNS: ClassVar[tuple[str, ...]] = ("accel_x_m_s2", "accel_y_m_s2", "accel_z_m_s2")
    table: Field[Table] = learn("rest the aircraft on each of its six sides and read the accelerations", PROPS_REMOVED)


@dataclass(frozen=True, slots=True)
class BarometerCheck(Dated):
    """What is indicated against the pressure at the place, or reduced to sea level with the site's elevation."""

    indicated_hpa: Known[float]
    station_pressure_hpa: Field[float] = learn("read a barometer at the place")
    sea_level_pressure_hpa: Field[float] = learn("read the weather report")
    reference: Reference = learn("")


@dataclass(frozen=True, slots=True)
class Move:
    """One movement: what was done, what was indicated and, where seen, which rotors answered and how."""

    place: Place
    did: Known[str]
    indicated: Field[str] = learn("write what the flight controller indicated")
    sped_up: Field[tuple[Known[str], ...]] = learn("write which rotors sped up")
    slowed_down: Field[tuple[Known[str], ...]] = learn("write which rotors slowed down")


@dataclass(frozen=True, slots=True)
class StickMove(Move):
    """One movement of a stick, the throttle's too: what it asked for, and the answer."""


@dataclass(frozen=True, slots=True)
class TiltTest(Dated):
    """The aircraft moved by hand; ``sped_up`` names the rotors that answered."""

    props: Field[Props] = learn("say whether the props were removed")
    moves: tuple[Move, ...] = learn("")


@dataclass(frozen=True, slots=True)
class StickCheck(Dated):
    """The sticks moved; ``start_throttle_percent`` is where each motor begins to turn."""

    props: Field[Props] = learn("say whether the props were removed")
    moves: tuple[StickMove, ...] = learn("")
    start_throttle_percent: Mapping[str, Known[float]] = learn("")
    arms_at_raised_throttle: Field[bool] = learn("props removed: try to arm with the throttle raised", PROPS_REMOVED)


@dataclass(frozen=True, slots=True)
class LinkLossTest(Dated):
    """The transmitter switched off with the motors running slowly, props removed."""

    props: Field[Props] = learn("say whether the props were removed")
    outputs_stopped: Field[bool] = learn("say whether every output stopped")
    seconds_to_stop: Field[float] = learn("time from switching off to the last motor at rest", PROPS_REMOVED)
    restarted_on_regain: Field[bool] = learn("say whether any motor started again by itself when the link came back")


@dataclass(frozen=True, slots=True)
class RangeTest(Dated):
    distance_m: Field[float] = learn("pace out the distance at which control was still complete", FIELD_CHECK)
    reduced_power: Field[bool] = learn("say whether the transmitter was set to reduced power")
    control_held: Field[bool] = learn("say whether control held all the way")


@dataclass(frozen=True, slots=True)
class ThrustStand(Dated):
    """One motor with its prop on a stand: columns ``throttle_percent thrust_g current_a voltage_v`` and ``rpm``."""

    COLUMNS: ClassVar[tuple[str, ...]] = ("throttle_percent?", "thrust_g", "current_a", "voltage_v", "rpm?")
    at: Field[str] = learn("say which rotor it was")
    table: Field[Table] = learn("measure thrust, current and voltage on a stand in steps of throttle", THRUST_STAND)


@dataclass(frozen=True, slots=True)
class RotorSpeeds(Dated):
    throttle_percent: Field[float] = learn("say at what throttle")
    voltage_v: Field[float] = learn("read the pack voltage meanwhile", ANY_LOADED_RUN)
    rpm: Mapping[str, Known[float]] = learn("")


@dataclass(frozen=True, slots=True)
class PropBalance(Dated):
    at: Known[str]
    residual_g_mm: Field[float] = learn(
        "tape weight times its distance from the axis that brings the prop to rest anywhere"
    )


@dataclass(frozen=True, slots=True)
class CellVoltages(Dated):
    """The cells of one pack at rest."""

    cells_v: Known[tuple[float, ...]]
    pack: Field[str] = learn("write the pack's label")
    rested_min: Field[float] = learn("say how long the pack had rested")
    full: Field[bool] = learn("say whether the pack had just been charged full")
    temperature_c: Field[float] = learn("say how warm the pack was")
    pack_v: Field[float] = learn("read the whole pack with the same instrument")
    reference: Reference = learn("")


@dataclass(frozen=True, slots=True)
class Recharge(Dated):
    """What the aircraft counted against what the charger put back, from full to full."""

    counted_mah: Known[float]
    put_back_mah: Known[float]
    pack: Field[str] = learn("write the pack's label")
    full_before: Field[bool] = learn("say whether the pack was full before the flight")
    in_force: InForce = learn("")
    reference: Reference = learn("")


@dataclass(frozen=True, slots=True)
class Hover(Dated):
    """A steady hover: means over ``duration_s``."""

    mean_current_a: Field[float] = learn("average the logged current over a steady hover", HOVER_LOG)
    mean_voltage_v: Field[float] = learn("average the logged pack voltage over the same seconds", HOVER_LOG)
    throttle_percent: Field[float] = learn("average the logged throttle over the same seconds", HOVER_LOG)
    duration_s: Field[float] = learn("say how long the hover was")
    takeoff_mass_g: Field[float] = learn("weigh the aircraft as it flew")
    height_m: Field[float] = learn("say how high the rotors were above the ground")
    wind_m_s: Field[float] = learn("say how much wind there was")
    pack: Field[str] = learn("write the pack's label")
    in_force: InForce = learn("")


@dataclass(frozen=True, slots=True)
class SagRun(Dated):
    """Columns ``current_a voltage_v used_mah``, each row after ``dwell_s`` at that current."""

    COLUMNS: ClassVar[tuple[str, ...]] = ("current_a", "voltage_v", "used_mah")
    pack: Field[str] = learn("write the pack's label")
    route: Field[Route] = learn("say how the load was made: inverted-load, restrained or hover-log")
    dwell_s: Field[float] = learn("say how long each current was held before reading")
    table: Field[Table] = learn(
        "hold several currents for some seconds each; note current, voltage and charge used", ANY_LOADED_RUN
    )


@dataclass(frozen=True, slots=True)
class Records:
    """All records of an aircraft, each kind in the order written."""

    place: Place
    spin_test: tuple[SpinTest, ...]
    output_test: tuple[OutputTest, ...]
    nut_test: tuple[NutTest, ...]
    rig_check: tuple[RigCheck, ...]
    bell_pull: tuple[BellPull, ...]
    voltage_comparison: tuple[VoltageComparison, ...]
    current_comparison: tuple[CurrentComparison, ...]
    interference_run: tuple[InterferenceRun, ...]
    heading_check: tuple[HeadingCheck, ...]
    compass_rotation: tuple[CompassRotation, ...]
    six_positions: tuple[SixPositions, ...]
    barometer_check: tuple[BarometerCheck, ...]
    tilt_test: tuple[TiltTest, ...]
    stick_check: tuple[StickCheck, ...]
    link_loss_test: tuple[LinkLossTest, ...]
    range_test: tuple[RangeTest, ...]
    thrust_stand: tuple[ThrustStand, ...]
    rotor_speeds: tuple[RotorSpeeds, ...]
    prop_balance: tuple[PropBalance, ...]
    cell_voltages: tuple[CellVoltages, ...]
    recharge: tuple[Recharge, ...]
    hover: tuple[Hover, ...]
    sag_run: tuple[SagRun, ...]

    @classmethod
    def kinds(cls) -> tuple[str, ...]:
        """The keys of all kinds of record."""
        return tuple(item.name for item in fields(cls) if item.name != "place")

    def of_kind(self, kind: str) -> tuple[Dated, ...]:
        """The records of one kind, by its key in the manifest. Raises AttributeError for an unknown kind."""
        found: tuple[Dated, ...] = getattr(self, kind)
        return found
