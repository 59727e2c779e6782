"""Readings on a date: what the instruments showed and what was seen. One class for each kind of record."""

from collections.abc import Mapping
from typing import get_args, get_type_hints

from preflint.aircraft.dated import Dated as Dated
from preflint.aircraft.dated import InForce as InForce
from preflint.aircraft.dated import Reference as Reference
from preflint.aircraft.declare import Kind, group
from preflint.aircraft.declared import kind_of
from preflint.aircraft.records.control import BarometerCheck as BarometerCheck
from preflint.aircraft.records.control import LinkLossTest as LinkLossTest
from preflint.aircraft.records.control import Move as Move
from preflint.aircraft.records.control import RangeTest as RangeTest
from preflint.aircraft.records.control import SixPositions as SixPositions
from preflint.aircraft.records.control import StickCheck as StickCheck
from preflint.aircraft.records.control import StickMove as StickMove
from preflint.aircraft.records.control import TiltTest as TiltTest
from preflint.aircraft.records.electrical import CellVoltages as CellVoltages
from preflint.aircraft.records.electrical import CurrentComparison as CurrentComparison
from preflint.aircraft.records.electrical import Recharge as Recharge
from preflint.aircraft.records.electrical import VoltageComparison as VoltageComparison
from preflint.aircraft.records.lift import Hover as Hover
from preflint.aircraft.records.lift import RotorSpeeds as RotorSpeeds
from preflint.aircraft.records.lift import SagRun as SagRun
from preflint.aircraft.records.lift import ThrustStand as ThrustStand
from preflint.aircraft.records.magnetic import CompassRotation as CompassRotation
from preflint.aircraft.records.magnetic import HeadingCheck as HeadingCheck
from preflint.aircraft.records.magnetic import InterferenceRun as InterferenceRun
from preflint.aircraft.records.turning import BellPull as BellPull
from preflint.aircraft.records.turning import NutTest as NutTest
from preflint.aircraft.records.turning import OutputTest as OutputTest
from preflint.aircraft.records.turning import PropBalance as PropBalance
from preflint.aircraft.records.turning import RigCheck as RigCheck
from preflint.aircraft.records.turning import SpinTest as SpinTest
from preflint.places import Place


@group("Records")
class Records:
    """Readings on dates, a list for each kind. A record is never changed afterwards; add a new one."""

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
        return tuple(KINDS)

    def of_kind(self, kind: str) -> tuple[Dated, ...]:
        """The records of one kind, by its key in the manifest. Raises AttributeError for an unknown kind."""
        found: tuple[Dated, ...] = getattr(self, kind)
        return found


# What is said of each kind of record, by its key in the manifest.
KINDS: Mapping[str, Kind] = {
    key: kind_of(get_args(hint)[0]) for key, hint in get_type_hints(Records).items() if key != "place"
}
