"""Readings on a date: what the instruments showed and what was seen. One class for each kind of record."""

from collections.abc import Mapping
from typing import get_args, get_type_hints

from preflint.aircraft.dated import Dated as Dated
from preflint.aircraft.dated import InForce as InForce
from preflint.aircraft.dated import Reference as Reference
from preflint.aircraft.declare import Kind, group
from preflint.aircraft.declared import kind_of
from preflint.aircraft.records.balance import *
from preflint.aircraft.records.control import *
from preflint.aircraft.records.electrical import *
from preflint.aircraft.records.energy import *
from preflint.aircraft.records.flight import *
from preflint.aircraft.records.lift import *
from preflint.aircraft.records.magnetic import *
from preflint.aircraft.records.pack import *
from preflint.aircraft.records.props import *
from preflint.aircraft.records.turning import *
from preflint.places import Place


@group("Records")
class Records(
    FlightRecords, EnergyRecords, BalanceRecords, LiftRecords, ControlRecords, MagneticRecords, PackRecords,
    ElectricalRecords, PropRecords, TurningRecords,
):
    """Readings on dates, a list for each kind. A record is never changed afterwards; add a new one."""

    place: Place

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


def named(kind: str) -> str:
    """What people call a record of the kind, such as ``link-loss test``."""
    return KINDS[kind].title.lower()
