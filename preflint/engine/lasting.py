"""Reads what ends each kind of record from a file in words that a non-programmer can check."""

from collections.abc import Mapping

from preflint.aircraft.records import KINDS
from preflint.aircraft.words import ENDS_NOTHING, HAPPENED, PARTS, SETTINGS, WORK
from preflint.engine.freshness import LATER_RECORD, Staling
from preflint.errors import NotRead, RuleModuleError
from preflint.frozen import dataclass
from preflint.load.node import Node
from preflint.load.yaml.events import load_yaml

# The kinds of work, and of what happens, that may end a record.
ENDS = frozenset({*WORK, *HAPPENED} - {*ENDS_NOTHING})
_KEYS = ("good_for_days", "stale_after")
_BESIDE = {"because", "settings"}


@dataclass(frozen=True, slots=True)
class Lasting:
    """How long one kind of record lasts: the rows that end it, and its age limit."""

    rows: tuple[Staling, ...]
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
    for kind in KINDS:
        if kind not in entries:
            raise _wrong(document, f"no entry for the record kind {kind}")
    return {kind: _lasting(kind, entry) for kind, entry in entries.items()}


def _lasting(kind: str, entry: Node) -> Lasting:
    if kind not in KINDS:
        raise _wrong(entry, f"{kind} is no kind of record")
    parts = entry.value
    if not isinstance(parts, Mapping) or set(parts) - _BESIDE != set(_KEYS):
        raise _wrong(entry, f"{kind} needs exactly {', '.join(_KEYS)}, and because where nothing ends it")
    days = parts["good_for_days"].value
    if isinstance(days, bool) or not isinstance(days, int) or days < 0:
        raise _wrong(parts["good_for_days"], "good_for_days is a whole number of days; 0 is the record's own day")
    ends = parts["stale_after"]
    if ends.value == "nothing":
        if "because" not in parts:
            raise _wrong(ends, f"nothing ends {kind}: write because")
        rows: tuple[Staling, ...] = ()
    elif isinstance(ends.value, Mapping):
        settings = _settings(kind, parts["settings"]) if "settings" in parts else None
        rows = tuple(_row(kind, part, work, settings) for part, work in ends.value.items())
        if any("settings-changed" in row.work for row in rows) != (settings is not None):
            raise _wrong(entry, f"{kind}: settings are named where, and only where, settings-changed ends it")
    else:
        raise _wrong(ends, "stale_after holds parts with kinds of work, or: nothing")
    return Lasting(rows, days)


def _settings(kind: str, node: Node) -> frozenset[str]:
    words = [str(item.value) for item in node.value] if isinstance(node.value, tuple) else []
    if not words or not set(words) <= set(SETTINGS):
        raise _wrong(node, f"{kind}, settings: a list of {', '.join(SETTINGS)} is needed")
    return frozenset(words)


def _row(kind: str, part: str, work: Node, settings: frozenset[str] | None) -> Staling:
    items = work.value if isinstance(work.value, tuple) else ()
    if not items:
        raise _wrong(work, f"{kind}, {part}: a list of kinds of work is needed")
    allowed = frozenset({"inverted-load"}) if part == LATER_RECORD else ENDS
    if part not in (*PARTS, "anything", LATER_RECORD):
        raise _wrong(work, f"{kind}: {part} is no part")
    for item in items:
        if item.value not in allowed:
            raise _wrong(item, f"{kind}, {part}: {item.text} is no kind of work")
    name = "any" if part == "anything" else part
    per_rotor = KINDS[kind].speaks_for == "rotors" and part != LATER_RECORD
    return Staling(kind, name, frozenset(str(item.value) for item in items), per_rotor, settings)


def _wrong(node: Node, message: str) -> RuleModuleError:
    return RuleModuleError(f"{node.place.file}:{node.place.line}: {message}")
