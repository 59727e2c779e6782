"""Position names against the layout, wherever a manifest uses one."""

from collections.abc import Iterator
from functools import partial
from itertools import chain

from preflint.aircraft import layouts
from preflint.check.complaint import Complaint, child, entries, items
from preflint.check.near import nearest, suggestion
from preflint.load.node import Node
from preflint.load.quoting import in_quotes, shorten
from preflint.places import Place

Use = tuple[Place, str]

# What a record tells for each position.
_BY_POSITION = ("seen", "turned", "start_throttle_percent", "rpm", "motors", "motors_c", "output_percent")


def check_positions(root: Node) -> Iterator[Complaint]:
    """Names that the layout does not have, rotors written twice, and what layout ``custom`` needs."""
    layout = child(root, "aircraft", "layout")
    if layout is None or layout.value not in layouts.NAMES:
        return
    rotors = list(items(child(root, "rotors")))
    yield from _twice(rotors)
    if layout.value == "custom":
        yield from _custom(layout, rotors)
        known = tuple(dict.fromkeys(name for rotor in rotors for _, name in _value(child(rotor, "at"))))
        uses = _uses(root)
    else:
        known = layouts.positions(str(layout.value))
        uses = chain(_at_of_each(rotors), _uses(root))
    labels = {str(label.value) for pack in items(child(root, "packs")) if (label := child(pack, "label"))}
    deferrals = _at_of_each(items(child(root, "deferred_defects")))
    for place, name in chain(uses, (use for use in deferrals if use[1] not in labels)):
        if name not in known:
            yield Complaint(place, partial(_unknown, str(layout.value), name, known))
    yield from _logbook(root, str(layout.value), known)


def _logbook(root: Node, layout: str, known: tuple[str, ...]) -> Iterator[Complaint]:
    """Work on a coaxial arm may name the arm, and then concerns the rotors above and below it."""
    arms = tuple(dict.fromkeys(map(layouts.arm_of, known)))
    for entry in items(child(root, "logbook")):
        part = child(entry, "part")
        names = known + arms if part and part.value == "arm" else known
        for place, name in _value(child(entry, "at")):
            if name not in names:
                yield Complaint(place, partial(_unknown, layout, name, names))


def _unknown(layout: str, name: str, known: tuple[str, ...]) -> str:
    if not known:
        return f"no rotor is named {in_quotes(shorten(name))}; layout custom takes the names under rotors"
    said = f"layout {layout} has no position {in_quotes(shorten(name))}; {suggestion(name, known)}"
    return said if nearest(name, known) is None else f"{said} It has {', '.join(map(shorten, known))}"


def _uses(root: Node) -> Iterator[Use]:
    """Every position but those of the rotors, the logbook and the deferrals."""
    yield from _keys(child(root, "flight_controller", "expects_spin"))
    for kind, records in entries(child(root, "records")):
        for record in items(records):
            yield from _value(child(record, "at"))
            for by_position in _BY_POSITION:
                yield from _keys(child(record, by_position))
            for rotor in items(child(record, "nuts_moved")):
                yield from _value(rotor)
            if kind == "output_test":
                for _, turned in entries(child(record, "turned")):
                    yield from _value(turned)
            for move in items(child(record, "moves")):
                for answered in ("sped_up", "slowed_down"):
                    for rotor in items(child(move, answered)):
                        yield from _value(rotor)


def _at_of_each(nodes: Iterator[Node] | list[Node]) -> Iterator[Use]:
    for node in nodes:
        yield from _value(child(node, "at"))


def _value(node: Node | None) -> Iterator[Use]:
    if node and isinstance(node.value, str):
        yield node.place, node.value


def _keys(node: Node | None) -> Iterator[Use]:
    for name, inner in entries(node):
        yield inner.key or inner.place, name


def _twice(rotors: list[Node]) -> Iterator[Complaint]:
    first: dict[str, Place] = {}
    for place, name in _at_of_each(rotors):
        earlier = first.setdefault(name, place)
        if earlier is not place:
            yield Complaint(place, partial(_second_rotor, name, earlier.line))


def _second_rotor(name: str, line: int) -> str:
    return f"a rotor at {shorten(name)} stands on line {line} already; keep one of them"


def _custom(layout: Node, rotors: list[Node]) -> Iterator[Complaint]:
    if not rotors:
        yield Complaint(layout.place, lambda: "layout custom needs rotors, each with at and place_mm")
    for rotor in rotors:
        if isinstance(rotor.value, dict) and "place_mm" not in rotor.value:
            yield Complaint(rotor.key or rotor.place, _no_place)


def _no_place() -> str:
    return '"place_mm" is missing: layout custom needs it for every rotor, as in place_mm: [220, -220, 0]'
