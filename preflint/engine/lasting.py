"""Reads what ends each kind of record from a file in words that a non-programmer can check."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TypeVar

from preflint.aircraft.records import Records
from preflint.engine.freshness import Staling
from preflint.errors import NotRead, RuleModuleError
from preflint.load.node import Node
from preflint.load.yaml.events import load_yaml
from preflint.precautions import (
    ANY_LOADED_RUN,
    FIELD_CHECK,
    HOVER_LOG,
    PACK_IN_PROPS_OFF,
    PACK_UNPLUGGED,
    PROPS_REMOVED,
    THRUST_STAND,
)

T = TypeVar("T")

PARTS = frozenset(
    {
        "motor",
        "esc",
        "prop",
        "nut",
        "adapter",
        "arm",
        "frame",
        "power-lead",
        "battery-tray",
        "pack",
        "power-sensor",
        "compass",
        "flight-controller",
        "receiver",
        "antenna",
        "satellite-receiver",
        "barometer",
        "regulator",
        "payload",
    }
)
WORK = frozenset(
    {
        "fitted",
        "replaced",
        "moved",
        "rewired",
        "removed",
        "reset",
        "settings-changed",
        "firmware",
        "crashed",
        "hard-landing",
        "stored",
    }
)
CARE = {
    "pack-unplugged": PACK_UNPLUGGED,
    "props-removed": PROPS_REMOVED,
    "pack-in-props-off": PACK_IN_PROPS_OFF,
    "field-check": FIELD_CHECK,
    "loaded-run": ANY_LOADED_RUN,
    "thrust-stand": THRUST_STAND,
    "hover-log": HOVER_LOG,
}
_KEYS = {"stale_after", "speaks_for", "repeat", "care", "good_for_days"}


@dataclass(frozen=True, slots=True)
class Lasting:
    """How long one kind of record lasts: the rows that end it, its age limit, and how it is taken again."""

    rows: tuple[Staling, ...]
    repeat: str
    precaution: str
    good_for_days: int


def read_lasting(data: bytes, file: str) -> dict[str, Lasting]:
    """One entry for each kind of record. Raises RuleModuleError with file and line for what is not understood."""
    try:
        document = load_yaml(data, file)
    except NotRead as error:
        place = error.problems[0].place
        raise RuleModuleError(f"{file}{f':{place.line}' if place else ''}: {error.problems[0].message}") from error
    entries = document.value
    assert isinstance(entries, Mapping)  # load_yaml gives nothing else
    for kind in Records.kinds():
        if kind not in entries:
            raise _wrong(document, f"no entry for the record kind {kind}")
    return {kind: _lasting(kind, entry) for kind, entry in entries.items()}


def _lasting(kind: str, entry: Node) -> Lasting:
    if kind not in Records.kinds():
        raise _wrong(entry, f"{kind} is no kind of record")
    parts = entry.value
    if not isinstance(parts, Mapping) or set(parts) - {"because"} != _KEYS:
        raise _wrong(entry, f"{kind} needs exactly {', '.join(sorted(_KEYS))}, and because where nothing ends it")
    per_rotor = _one_of(parts["speaks_for"], {"rotors": True, "aircraft": False})
    care, days = parts["care"], parts["good_for_days"].value
    if isinstance(days, bool) or not isinstance(days, int) or days < 1:
        raise _wrong(parts["good_for_days"], "good_for_days is a whole number of days, one or more")
    ends = parts["stale_after"]
    if ends.value == "nothing":
        if "because" not in parts:
            raise _wrong(ends, f"nothing ends {kind}: write because")
        rows: tuple[Staling, ...] = ()
    elif isinstance(ends.value, Mapping):
        rows = tuple(_row(kind, part, work, per_rotor) for part, work in ends.value.items())
    else:
        raise _wrong(ends, "stale_after holds parts with kinds of work, or: nothing")
    return Lasting(rows, _text(parts["repeat"]), _one_of(care, CARE), days)


def _row(kind: str, part: str, work: Node, per_rotor: bool) -> Staling:
    items = work.value if isinstance(work.value, tuple) else ()
    if not items:
        raise _wrong(work, f"{kind}, {part}: a list of kinds of work is needed")
    allowed = frozenset({"inverted-load"}) if part == "record" else WORK
    if part not in PARTS | {"anything", "record"}:
        raise _wrong(work, f"{kind}: {part} is no part")
    for item in items:
        if item.value not in allowed:
            raise _wrong(item, f"{kind}, {part}: {item.text} is no kind of work")
    name = "any" if part == "anything" else part
    return Staling(kind, name, frozenset(str(item.value) for item in items), per_rotor and part != "record")


def _one_of(node: Node, words: Mapping[str, T]) -> T:
    if not isinstance(node.value, str) or node.value not in words:
        raise _wrong(node, f"write one of {', '.join(words)}")
    return words[node.value]


def _text(node: Node) -> str:
    if not isinstance(node.value, str) or not node.value.strip():
        raise _wrong(node, "a sentence is needed")
    return node.value


def _wrong(node: Node, message: str) -> RuleModuleError:
    return RuleModuleError(f"{node.place.file}:{node.place.line}: {message}")
