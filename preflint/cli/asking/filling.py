"""Where the answers of a sitting go in the manifest: fields that are no record."""

from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

from preflint.check.complaint import child, items
from preflint.cli.asking.desk import NONE, Item
from preflint.inspection import read_aircraft
from preflint.load.limits import MAX_YAML_BYTES
from preflint.load.tree import Tree
from preflint.load.yaml.events import load_yaml
from preflint.writing.entry import Value
from preflint.writing.fill import Path as Place
from preflint.writing.fill import fill
from preflint.writing.insert import ROTORS, insert
from preflint.writing.save import save
from preflint.writing.yaml_text import flow


def values_of(item: Item, value: Value) -> list[tuple[Place, str]]:
    """Where an answer goes, a rotor by its position, and its text."""
    if item.each:
        return [(("rotors", at, *item.path), flow(told)) for at, told in value.items()]
    if item.or_none and value == NONE:
        return [(item.path[:1], NONE)]
    return [(item.path, flow(value))]


def _listed(data: bytes, file: str, positions: Sequence[str]) -> tuple[bytes, list[str]]:
    """The text with an entry for each of these rotors, and whose entry each one is, in the order of the file."""

    def written(text: bytes) -> list[str]:
        return [
            str(name.value) if (name := child(one, "at")) else ""
            for one in items(child(load_yaml(text, file), "rotors"))
        ]

    if missing := [at for at in positions if at not in written(data)]:
        data, _ = insert(data, file, ROTORS, [{"at": at} for at in missing])
    return data, written(data)


def fill_in(path: Path, values: Sequence[tuple[Place, str]]) -> None:
    """All of them, in one go. Raises NotRead where there is no place, or it would not load with them."""
    tree = Tree.around(path)
    name = tree.name(path)
    before = tree.read(name, MAX_YAML_BYTES)
    after = _filled(before, tree.shown(name), values)
    read_aircraft(replace(tree, unsaved={name: after}), name)
    save(tree, name, before, after)


def _filled(before: bytes, file: str, values: Sequence[tuple[Place, str]]) -> bytes:
    rotors = list(dict.fromkeys(str(place[1]) for place, _ in values if place[0] == "rotors"))
    after, seats = _listed(before, file, rotors) if rotors else (before, [])
    for place, value in values:
        at_rotor: Place = (place[0], seats.index(str(place[1])), *place[2:]) if place[0] == "rotors" else place
        after = fill(after, file, at_rotor, value)
    return after
