"""Does a manifest satisfy a club's schema, and where is that left open because something was not written down?

JSON Schema takes what is absent, or of another type, for satisfied. Here it is open wherever it stands: under
``anyOf``, ``not`` or ``if`` as well. A group that fails by its own ``required``, ``type``, ``const`` or ``enum`` has
said itself what the absence means, so nothing else is asked of it; nor is a ``then`` or ``else`` that is not reached,
nor more entries than ``contains`` wants.
"""

from collections.abc import Callable, Iterable, Iterator, Mapping
from typing import Any

from preflint.aircraft.read import KeyPath
from preflint.frozen import dataclass
from preflint.load.node import Node, Plain
from preflint.places import Place
from preflint.policy.plainly import plainly

Needs = dict[str, Any]  # one schema, checked against the metaschema


@dataclass(frozen=True, slots=True)
class Silence:
    """What the schema asks about and cannot be told: ``lacks`` says how, ``do`` what to write."""

    place: Place
    lacks: str
    do: str


@dataclass(frozen=True, slots=True)
class Told:
    """``holds`` is None where silence leaves it open; ``failing`` are the places of what fails."""

    holds: bool | None
    failing: tuple[Place, ...] = ()
    silent: tuple[Silence, ...] = ()


_CLEAR = Told(True)


def satisfied(needs: Plain, node: Node, path: KeyPath = KeyPath()) -> Told:  # noqa: B008 - frozen
    """What the schema finds in ``node``, which stands at ``path``."""
    if not isinstance(needs, dict):
        return _CLEAR if needs else Told(False, (place_of(node),))
    told = {name: _keyword(name, needs, node, path) for name in needs}
    all_of_it = _all(told.values())
    if any(told[name].holds is False for name in _SETTLES if name in told):
        return Told(False, all_of_it.failing)
    return all_of_it


def place_of(node: Node) -> Place:
    """Where people are pointed for a value: of a group its key, or its start."""
    if not isinstance(node.value, Mapping):
        return node.place
    place = node.place
    return node.key or Place(place.file, place.line, place.column, place.line, place.column, place.pointer)


def _keyword(name: str, needs: Needs, node: Node, path: KeyPath) -> Told:
    wanted = _OF.get(name)
    if wanted and not _is_a(wanted, node):
        what = str(path) or "the manifest"
        return Told(None, silent=(Silence(place_of(node), f"{what} is no {wanted}", f"write {what} as a {wanted}"),))
    if name in _INNER:
        return _INNER[name](needs, node, path)
    return _CLEAR if name in _SPOKEN_OF_ELSEWHERE or plainly(name, needs[name], node.plain()) else _fails(node)


def _is_a(wanted: str, node: Node) -> bool:
    value = node.value
    return {
        "number": isinstance(value, int | float) and not isinstance(value, bool),
        "text": isinstance(value, str),
        "list": isinstance(value, tuple),
        "group of entries": isinstance(value, Mapping),
    }[wanted]


def _fails(node: Node) -> Told:
    return Told(False, (place_of(node),))


def _all(parts: Iterable[Told]) -> Told:
    """Every part must hold."""
    parts = tuple(parts)
    failing = tuple(place for part in parts if part.holds is False for place in part.failing)
    silent = tuple(silence for part in parts for silence in part.silent)
    holds = [part.holds for part in parts]
    return Told(False if False in holds else None if None in holds else True, failing, silent)


def _missing(key: str, node: Node, path: KeyPath) -> Told:
    what = path.inside(key)
    return Told(None, silent=(Silence(place_of(node), f"{what} is not recorded", f"write {what}"),))


def _children(node: Node) -> Mapping[str, Node]:
    return node.value if isinstance(node.value, Mapping) else {}


def _entries(node: Node, path: KeyPath) -> list[tuple[Node, KeyPath]]:
    written = node.value if isinstance(node.value, tuple) else ()
    return list(zip(written, path.entries(written), strict=True))


def _asks_nothing(needs: Plain) -> bool:
    return needs is True or (isinstance(needs, dict) and not set(needs) - {"title", "description"})


def _properties(needs: Needs, node: Node, path: KeyPath) -> Told:
    def each() -> Iterator[Told]:
        for key, inner in needs["properties"].items():
            if key in _children(node):
                yield satisfied(inner, _children(node)[key], path.inside(key))
            elif inner is not False and not _asks_nothing(inner):
                yield _missing(key, node, path)

    return _all(each())


def _further_properties(needs: Needs, node: Node, path: KeyPath) -> Told:
    further = {key: inner for key, inner in _children(node).items() if key not in needs.get("properties", {})}
    return _all(satisfied(needs["additionalProperties"], inner, path.inside(key)) for key, inner in further.items())


def _property_names(needs: Needs, node: Node, path: KeyPath) -> Told:
    names = [Node(key, inner.key or inner.place) for key, inner in _children(node).items()]
    return _all(satisfied(needs["propertyNames"], name, path.inside(str(name.value))) for name in names)


def _dependent(keyword: str) -> Callable[[Needs, Node, KeyPath], Told]:
    def judge(needs: Needs, node: Node, path: KeyPath) -> Told:
        def each() -> Iterator[Told]:
            for key, inner in needs[keyword].items():
                if key not in _children(node):
                    yield _missing(key, node, path)
                else:
                    yield satisfied({"required": inner} if isinstance(inner, list) else inner, node, path)

        return _all(each())

    return judge


def _items(needs: Needs, node: Node, path: KeyPath) -> Told:
    rest = _entries(node, path)[len(needs.get("prefixItems", ())) :]
    return _all(satisfied(needs["items"], item, at) for item, at in rest)


def _first_items(needs: Needs, node: Node, path: KeyPath) -> Told:
    entries = _entries(node, path)
    told = [satisfied(inner, item, at) for inner, (item, at) in zip(needs["prefixItems"], entries, strict=False)]
    for count, inner in enumerate(needs["prefixItems"][len(entries) :], len(entries) + 1):
        if not _asks_nothing(inner):
            what = f"entry {count} of {path}"
            told.append(Told(None, silent=(Silence(place_of(node), f"{what} is not recorded", f"write {what}"),)))
    return _all(told)


def _contains(needs: Needs, node: Node, path: KeyPath) -> Told:
    told = [satisfied(needs["contains"], item, at) for item, at in _entries(node, path)]
    sure = sum(one.holds is True for one in told)
    most_of_them = sure + sum(one.holds is None for one in told)
    least, most = needs.get("minContains", 1), needs.get("maxContains", len(told))
    if most_of_them < least or sure > most:
        return _fails(node)
    if sure >= least and most_of_them <= most:
        return _CLEAR
    return Told(None, silent=_all(told).silent)


def _all_of(needs: Needs, node: Node, path: KeyPath) -> Told:
    return _all(satisfied(inner, node, path) for inner in needs["allOf"])


def _any_of(needs: Needs, node: Node, path: KeyPath) -> Told:
    return _some([satisfied(inner, node, path) for inner in needs["anyOf"]], node, most=len(needs["anyOf"]))


def _one_of(needs: Needs, node: Node, path: KeyPath) -> Told:
    return _some([satisfied(inner, node, path) for inner in needs["oneOf"]], node, most=1)


def _some(told: list[Told], node: Node, most: int) -> Told:
    """From one to ``most`` of them must hold; what any of them asks about must be recorded."""
    sure, silent = sum(one.holds is True for one in told), _all(told).silent
    may = sure + sum(one.holds is None for one in told)
    if sure > most or not may:
        return Told(False, (place_of(node),), silent)
    return Told(True if sure and may <= most else None, silent=silent)


def _not(needs: Needs, node: Node, path: KeyPath) -> Told:
    told = satisfied(needs["not"], node, path)
    if told.holds:
        return Told(False, (place_of(node),), told.silent)
    return Told(None if told.holds is None else True, silent=told.silent)


def _if(needs: Needs, node: Node, path: KeyPath) -> Told:
    asked = satisfied(needs["if"], node, path)
    then, otherwise = (satisfied(needs.get(name, True), node, path) for name in ("then", "else"))
    if asked.holds is None:
        both = _all([then, otherwise])
        holds = then.holds if then.holds is otherwise.holds else None
        return Told(holds, both.failing if holds is False else (), (*asked.silent, *both.silent))
    told = then if asked.holds else otherwise
    return Told(told.holds, told.failing, (*asked.silent, *told.silent))


_SETTLES = ("required", "type", "const", "enum")
_SPOKEN_OF_ELSEWHERE = {"title", "description", "then", "else", "minContains", "maxContains"}
# What a value must be for a keyword to say anything about it.
_OF = {
    **dict.fromkeys(("minimum", "maximum", "exclusiveMinimum", "exclusiveMaximum"), "number"),
    **dict.fromkeys(("minLength", "maxLength"), "text"),
    **dict.fromkeys(("items", "prefixItems", "contains", "minItems", "maxItems"), "list"),
    **dict.fromkeys(
        ("properties", "additionalProperties", "propertyNames", "dependentSchemas", "dependentRequired", "required",
         "minProperties", "maxProperties"),
        "group of entries",
    ),
}  # fmt: skip
_INNER: Mapping[str, Callable[[Needs, Node, KeyPath], Told]] = {
    "properties": _properties,
    "additionalProperties": _further_properties,
    "propertyNames": _property_names,
    "dependentSchemas": _dependent("dependentSchemas"),
    "dependentRequired": _dependent("dependentRequired"),
    "items": _items,
    "prefixItems": _first_items,
    "contains": _contains,
    "allOf": _all_of,
    "anyOf": _any_of,
    "oneOf": _one_of,
    "not": _not,
    "if": _if,
}
