"""Makes the aircraft of a checked document."""

from collections.abc import Mapping
from typing import Any, get_type_hints

from preflint.aircraft.fitted import Airframe, FlightController, Pack, Site
from preflint.aircraft.logbook import Deferral, LogEntry
from preflint.aircraft.model import Aircraft
from preflint.aircraft.read import KeyPath, Reader, TableReader
from preflint.aircraft.records import Records
from preflint.aircraft.rotor import Rotor
from preflint.load.node import Node


def build(document: Node, tables: TableReader) -> Aircraft:
    """``document`` has passed the schema, references resolved and every rotor of the layout written out."""
    top = document.value
    assert isinstance(top, Mapping)
    rotors = top["rotors"].value
    assert isinstance(rotors, tuple)
    reader = Reader(tables)
    start = top["preflint"].key or document.place

    def fitted(kind: object, key: str) -> Any:
        how = f"write {key}: what is fitted, or {key}: none"
        return reader.field(kind, top.get(key), start, KeyPath(key), how, on_paper=True)

    hints = get_type_hints(Aircraft)
    about = reader.record(Airframe, top["aircraft"], start, KeyPath("aircraft"))
    return Aircraft(
        place=about.place,
        about=about,
        site=reader.record(Site, top.get("site"), start, KeyPath("site")),
        rotors=tuple(reader.record(Rotor, node, start, _position(node)) for node in rotors),
        flight_controller=reader.record(
            FlightController, top.get("flight_controller"), start, KeyPath("flight_controller")
        ),
        packs=reader.field(tuple[Pack, ...], top.get("packs"), start, KeyPath("packs"), ""),
        power_sensing=fitted(hints["power_sensing"], "power_sensing"),
        compass=fitted(hints["compass"], "compass"),
        barometer=fitted(hints["barometer"], "barometer"),
        satellite_receiver=fitted(hints["satellite_receiver"], "satellite_receiver"),
        records=reader.record(Records, top.get("records"), start, KeyPath("records")),
        logbook=reader.field(tuple[LogEntry, ...], top.get("logbook"), start, KeyPath("logbook"), ""),
        deferrals=reader.field(
            tuple[Deferral, ...], top.get("deferred_defects"), start, KeyPath("deferred_defects"), ""
        ),
    )


def _position(rotor: Node) -> KeyPath:
    assert isinstance(rotor.value, Mapping)
    return KeyPath(str(rotor.value["at"].value))
