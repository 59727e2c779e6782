"""Makes the aircraft of a checked document."""

from collections.abc import Mapping
from typing import Any, get_type_hints

from preflint.aircraft.declared import declarations
from preflint.aircraft.model import Aircraft
from preflint.aircraft.read import KeyPath, Reader, TableReader
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
    hints = get_type_hints(Aircraft)
    parts: dict[str, Any] = {}
    for name, said in declarations(Aircraft).items():
        key = said.key or name
        if name != "rotors":
            parts[name] = reader.field(hints[name], top.get(key), start, KeyPath(key), said)
    parts["rotors"] = tuple(reader.record(Rotor, node, start, _position(node)) for node in rotors)
    return Aircraft(place=parts["about"].place, **parts)


def _position(rotor: Node) -> KeyPath:
    assert isinstance(rotor.value, Mapping)
    return KeyPath(str(rotor.value["at"].value))
