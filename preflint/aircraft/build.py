"""Makes the aircraft of a checked document."""

from collections.abc import Callable, Mapping
from typing import Any, get_type_hints

from preflint.aircraft.fitted import Airframe, FlightController, Pack, Site
from preflint.aircraft.layouts import positions
from preflint.aircraft.logbook import Deferral, LogEntry
from preflint.aircraft.model import Aircraft
from preflint.aircraft.read import KeyPath, Reader, TableReader
from preflint.aircraft.records import Records
from preflint.aircraft.rotor import Rotor
from preflint.load.node import Node
from preflint.places import Place

Merge = Callable[[Node | None, Node], Node]


def build(document: Node, tables: TableReader, merge: Merge) -> Aircraft:
    """``document`` has passed the schema, references resolved; ``merge`` lays a rotor over ``every_rotor``."""
    top = document.value
    assert isinstance(top, Mapping)
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
        rotors=_rotors(reader, top, about.layout.value, merge, start),
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


def _rotors(reader: Reader, top: Mapping[str, Node], layout: str, merge: Merge, start: Place) -> tuple[Rotor, ...]:
    """Every position of the layout: one that nobody wrote is there too, with what ``every_rotor`` says."""
    shared, written = top.get("every_rotor"), top.get("rotors")
    entries = written.value if written and isinstance(written.value, tuple) else ()
    by_position: dict[str, Node] = {}
    for entry in entries:
        assert isinstance(entry.value, Mapping)
        by_position[str(entry.value["at"].value)] = merge(shared, entry)
    here = (written.key or written.place) if written else start
    rotors = []
    for at in positions(layout) or tuple(by_position):
        node = by_position.get(at) or merge(shared, Node({"at": Node(at, here)}, here))
        rotors.append(reader.record(Rotor, node, node.place, KeyPath(at)))
    return tuple(rotors)
