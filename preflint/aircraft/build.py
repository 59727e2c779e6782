"""Makes the aircraft of a checked document."""

from typing import Any

from preflint.aircraft.model import Aircraft
from preflint.aircraft.read import KeyPath, Reader, TableReader, shapes
from preflint.aircraft.rotor import Rotor
from preflint.load.node import Node


def build(document: Node, tables: TableReader) -> Aircraft:
    """``document`` has passed the schema, references resolved and every rotor of the layout written out."""
    top = document.value
    assert isinstance(top, dict)
    rotors = top["rotors"].value
    assert isinstance(rotors, tuple)
    reader = Reader(tables)
    start = top["preflint"].key or document.place
    parts: dict[str, Any] = {}
    for name, key, said, shape in shapes(Aircraft):
        if name != "rotors":
            parts[name] = reader.read(shape, top.get(key), start, KeyPath(key), said)
    parts["rotors"] = tuple(reader.record(Rotor, node, start, _position(node)) for node in rotors)
    return Aircraft(place=parts["about"].place, **parts)


def _position(rotor: Node) -> KeyPath:
    assert isinstance(rotor.value, dict)
    return KeyPath(str(rotor.value["at"].value))
