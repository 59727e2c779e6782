"""Makes the aircraft of a checked document."""

from collections.abc import Callable, Mapping
from typing import Any, get_type_hints

from preflint.aircraft.airframe import Airframe
from preflint.aircraft.declared import declarations
from preflint.aircraft.layouts import positions
from preflint.aircraft.model import Aircraft
from preflint.aircraft.read import KeyPath, Reader, TableReader
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
    hints = get_type_hints(Aircraft)
    parts: dict[str, Any] = {}
    for name, said in declarations(Aircraft).items():
        key = said.key or name
        if name != "rotors":
            parts[name] = reader.field(hints[name], top.get(key), start, KeyPath(key), said)
    about: Airframe = parts["about"]
    rotors = _rotors(reader, top, about.layout.value, merge, start)
    return Aircraft(place=about.place, rotors=rotors, **parts)


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
