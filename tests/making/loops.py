"""Every go aircraft of the club with one thing written otherwise, in ways that a pen slips or a memory fails.

Words are changed to each other legal word, numbers by factors, dates by days; rotors change places; records are
pasted under a new date, with work between or without; work and mishaps are added to the logbook. What is legal is
read from the published schema. Leaving things out is :mod:`making.silence`.
"""

import copy
import datetime as dt
import json
import re
from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from itertools import pairwise
from pathlib import Path
from typing import Any

from making.silence import Steps, changed, generic

SCHEMA = json.loads((Path(__file__).parents[2] / "schemas" / "airframe.schema.json").read_text(encoding="utf-8"))
FACTORS = tuple(map(Decimal, ("0.1", "0.5", "0.9", "1.1", "2", "10")))
DAYS = (-3650, -365, -30, -1, 1, 30)
JUDGED_ON = dt.date(2026, 5, 21)
_NUMBER = re.compile(r"[-+]?\d+(\.\d+)?")
_DAY = re.compile(r"(\d{4}-\d\d-\d\d)( \d\d:\d\d)?")


@dataclass(frozen=True, slots=True)
class Change:
    """``how`` in words, what was changed in ``words`` with * for any entry, where, and the manifest after it."""

    how: str
    words: str
    steps: Steps
    document: dict[str, Any]


def changes(document: dict[str, Any]) -> Iterator[Change]:
    """All of them."""
    yield from _leaves(document, document, (), SCHEMA)
    yield from _columns(document)
    yield from _swapped(document)
    yield from _pasted(document)
    yield from _logged(document)


def _known(schema: Any) -> Any:
    while "$ref" in schema:
        schema = SCHEMA["$defs"][schema["$ref"].rpartition("/")[2]]
    return schema


def _kinds(schema: Any) -> Iterator[Any]:
    """The schema and those that stand beside each other in it."""
    schema = _known(schema)
    yield schema
    for key in ("anyOf", "oneOf", "allOf"):
        for inner in schema.get(key, ()):
            yield from _kinds(inner)


def _inside(schema: Any, step: str | int) -> Any:
    """What the schema says of one member or entry; nothing where it says nothing."""
    for one in _kinds(schema):
        if isinstance(step, int) and isinstance(one.get("items"), dict):
            return one["items"]
        if isinstance(step, str) and step in one.get("properties", {}):
            return one["properties"][step]
        if isinstance(step, str) and isinstance(one.get("additionalProperties"), dict):
            return one["additionalProperties"]
    return {}


def _words(schema: Any) -> list[str]:
    """The legal words of a leaf, as they are written."""
    found: list[str] = []
    for one in _kinds(schema):
        found += [word for word in one.get("enum", ()) if isinstance(word, str)]
        found += [one["const"]] if isinstance(one.get("const"), str) else []
        found += ["true", "false"] if one.get("type") == "boolean" else []
    return found


def _leaves(document: dict[str, Any], node: Any, at: Steps, schema: Any) -> Iterator[Change]:
    if isinstance(node, dict | list):
        for step, value in node.items() if isinstance(node, dict) else enumerate(node):
            if step not in ("rows", "columns"):
                yield from _leaves(document, value, (*at, step), _inside(schema, step))
        return
    for word in _words(schema):
        if word != node:
            yield Change(f"{node} to {word}", generic(at), at, changed(document, at, word))
    if _NUMBER.fullmatch(node) and Decimal(node) and at != ("preflint",):
        for factor in FACTORS:
            yield Change(f"times {factor}", generic(at), at, changed(document, at, f"{Decimal(node) * factor:f}"))
    elif day := _DAY.fullmatch(node):
        for days in DAYS:
            other = dt.date.fromisoformat(day[1]) + dt.timedelta(days)
            yield Change(f"{days:+d} days", generic(at), at, changed(document, at, f"{other}{day[2] or ''}"))


def _records(document: dict[str, Any]) -> Iterator[tuple[str, int, dict[str, Any]]]:
    for kind, entries in document["records"].items():
        for i, entry in enumerate(entries):
            yield kind, i, entry


def _columns(document: dict[str, Any]) -> Iterator[Change]:
    """Each column of a table by each factor; and so the middle row by itself."""
    for kind, i, entry in _records(document):
        for c, column in enumerate(entry["columns"] if "rows" in entry else ()):
            at = ("records", kind, i, "rows")
            for factor in FACTORS:
                rows = [[_times(v, factor) if c == k else v for k, v in enumerate(row)] for row in entry["rows"]]
                yield Change(f"column times {factor}", f"records.{kind}.*.{column}", at, changed(document, at, rows))
                mixed = list(entry["rows"])
                mixed[len(mixed) // 2] = rows[len(mixed) // 2]
                if mixed != entry["rows"]:
                    words = f"records.{kind}.*.{column}"
                    yield Change(f"one row times {factor}", words, at, changed(document, at, mixed))


def _times(number: str, factor: Decimal) -> str:
    return f"{Decimal(number) * factor:f}"


def _swapped(document: dict[str, Any]) -> Iterator[Change]:
    """All that is written of two neighbouring rotors, or one part of it, changes places."""
    rotors = document["rotors"]
    for i, (one, other) in enumerate(pairwise(rotors)):
        for key in ("all", *sorted(set(one) & set(other) - {"at"})):
            keys = set(one) | set(other) - {"at", "place_mm"} if key == "all" else {key}
            exchanged = copy.deepcopy(rotors)
            for each in sorted(keys - {"at", "place_mm"}):
                exchanged[i][each], exchanged[i + 1][each] = other.get(each), one.get(each)
            exchanged = [{k: v for k, v in rotor.items() if v is not None} for rotor in exchanged]
            if exchanged != rotors:
                at = ("rotors",)
                yield Change(f"{key} of two exchanged", f"rotors.*.{key}", at, changed(document, at, exchanged))


def _pasted(document: dict[str, Any]) -> Iterator[Change]:
    """Each record once more under a later date; and so with the work done that makes it stale."""
    for kind, i, entry in _records(document):
        at = ("records", kind, "+")
        again = changed(document, at, {**entry, "date": f"{JUDGED_ON - dt.timedelta(1)}"})
        yield Change("pasted under a new date", f"records.{kind}.*", ("records", kind, i), again)
        for part in ("motor", "power-sensor", "battery-tray", "flight-controller"):
            work = {"date": f"{JUDGED_ON - dt.timedelta(2)}", "kind": "moved", "part": part}
            if part == "motor":
                work["at"] = document["rotors"][0]["at"]
            worked = changed(again, ("logbook", "+"), work)
            yield Change(f"pasted after {part} moved", f"records.{kind}.*", ("records", kind, i), worked)


def _logged(document: dict[str, Any]) -> Iterator[Change]:
    """Each kind of work on each part, at the first rotor where it has one, the day before it is judged."""
    entry = _known(_inside(_inside(SCHEMA, "logbook"), 0))
    kinds, parts = _words(_inside(entry, "kind")), _words(_inside(entry, "part"))
    for kind in kinds:
        for part in (*parts, None):
            work = {"date": f"{JUDGED_ON - dt.timedelta(1)}", "kind": kind}
            for at in (None, document["rotors"][0]["at"]):
                full = work | ({"part": part} if part else {}) | ({"at": at} if at else {})
                how = f"{kind} {part or 'nothing named'}{' at a rotor' if at else ''}"
                yield Change(how, "logbook", ("logbook",), changed(document, ("logbook", "+"), full))
