"""One aircraft written down as its mirror image, or turned, together with all its readings; and in other units.

Mirrored left to right, every turning is the other one: spins, hands and the way that nuts tighten. Turned about the
down axis, what was the front is somewhere else; turnings stay. The transformations work on the manifest as YAML
reads it and use nothing of ours.
"""

import csv
import io
import json
import math
import re
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from decimal import Decimal
from functools import lru_cache
from typing import Any

import yaml

from making.manifests import CLUB, FILES
from preflint.testing import inspect_text

ALL = sorted(path.name.removesuffix(".airframe.yaml") for path in CLUB.glob("*.airframe.yaml"))
VECTORS = ("interference_offset_ut_per_a", "hard_iron_ut", "place_mm")
OF_PEOPLE = {"name", "owner", "make", "batch", "instrument", "by", "because", "note", "label", "pack", "file", "site"}
OTHER = {"left": "right", "right": "left", "cw": "ccw", "ccw": "cw"}
# Walk round the aircraft, clockwise seen from above, for the layouts that a turn by a whole part carries into itself.
ROUND = {
    "quad-x": ["front-left", "front-right", "rear-right", "rear-left"],
    "quad-plus": ["front", "right", "rear", "left"],
    "hexa-x": ["front-left", "front-right", "right", "rear-right", "rear-left", "left"],
    "hexa-plus": ["front", "front-right", "rear-right", "rear", "rear-left", "front-left"],
    "octo-x": [
        "front-right", "right-front", "right-rear", "rear-right", "rear-left", "left-rear", "left-front", "front-left",
    ],
    "octo-plus": ["front", "front-right", "right", "rear-right", "rear", "rear-left", "left", "front-left"],
    "x8": ["front-left", "front-right", "rear-right", "rear-left"],
}  # fmt: skip
# Degrees clockwise from the nose: a quarter, third or sixth of the circle for arms of one length.
NOSE = {
    "quad-x": -45, "quad-plus": 0, "hexa-x": -30, "hexa-plus": 0, "octo-x": 22.5, "octo-plus": 0, "x8": -45,
}  # fmt: skip
Y6 = {"front-left": -60, "front-right": 60, "rear": 180}
TILTED = {"nose-down": "right-down", "right-down": "nose-up", "nose-up": "left-down", "left-down": "nose-down"}
# Said once of two rotors, at whichever comes first round the aircraft.
OF_A_PAIR = {"rotation/output-order"}


def manifest(name: str) -> str:
    """The club's manifest of that name, as text."""
    return (CLUB / f"{name}.airframe.yaml").read_text(encoding="utf-8")


def document(name: str) -> dict[str, Any]:
    """The same as plain data, every scalar as it is written."""
    return dict(yaml.load(manifest(name), Loader=yaml.CBaseLoader))


class Mirrored:
    """Right is left, clockwise is counter-clockwise."""

    keeps = frozenset[str]()
    matrix = ((1, 0, 0), (0, -1, 0), (0, 0, 1))

    def __init__(self, aircraft: dict[str, Any]) -> None:
        pass

    def word(self, text: str) -> str:
        return re.sub(r"\b(left|right|ccw|cw)\b", lambda found: OTHER[found[1]], text)

    def heading(self, degrees: Decimal) -> Decimal:
        return (360 - degrees) % 360


class Turned:
    """What pointed forward points right."""

    keeps = frozenset({"thread_hand"})
    matrix = ((0, -1, 0), (1, 0, 0), (0, 0, 1))
    quarters = 1

    def __init__(self, aircraft: dict[str, Any]) -> None:
        ring = ROUND.get(aircraft["aircraft"]["layout"], [])
        step = len(ring) * self.quarters // 4
        self.names = {one: ring[(i + step) % len(ring)] for i, one in enumerate(ring)}
        self.names |= {f"{a}-{level}": f"{b}-{level}" for a, b in self.names.items() for level in ("upper", "lower")}

    def word(self, text: str) -> str:
        for _ in range(self.quarters):
            text = TILTED.get(text, text)
        return self.names.get(text, text)

    def heading(self, degrees: Decimal) -> Decimal:
        return (degrees - 90 * self.quarters + 360) % 360


class TurnedBack(Turned):
    """What pointed forward points backward."""

    matrix = ((-1, 0, 0), (0, -1, 0), (0, 0, 1))
    quarters = 2


Transformed = Mirrored | Turned


def vector(how: Transformed, numbers: Sequence[str]) -> list[str]:
    """The vector as the other aircraft has it; turned by quarters, each part keeps its digits."""
    if all(part in (-1, 0, 1) for row in how.matrix for part in row):
        return [f"{a * Decimal(b):f}" for row in how.matrix for a, b in zip(row, numbers, strict=True) if a]
    return [f"{sum(a * float(b) for a, b in zip(row, numbers, strict=True)):.6f}" for row in how.matrix]


def moved(node: Any, how: Transformed, key: str = "") -> Any:
    """A part of the manifest as the other aircraft's owner writes it."""
    if isinstance(node, dict):
        node = {how.word(k): moved(v, how, k) for k, v in node.items()}
        if "rows" in node:
            node["rows"] = [list(row) for row in turn_rows(node["columns"], node["rows"], how)]
        return node
    if isinstance(node, list):
        if key in VECTORS:
            return vector(how, node)
        if key == "soft_iron":  # a matrix between vectors: turned on both sides
            turned = [vector(how, row) for row in node]
            columns = [vector(how, column) for column in zip(*turned, strict=True)]
            return [list(row) for row in zip(*columns, strict=True)]
        return [moved(one, how, key) for one in node]
    return node if key in OF_PEOPLE | how.keeps else how.word(node)


def turn_rows(columns: Sequence[str], rows: Iterable[Sequence[str]], how: Transformed) -> Iterator[list[str]]:
    """The rows of a table, its vectors and headings turned."""
    vectors = [[i for i, name in enumerate(columns) if name.startswith(kind)] for kind in ("field_", "accel_")]
    supports = [i for i, name in enumerate(columns) if name in ("forward_mm", "right_mm")]
    headings = [i for i, name in enumerate(columns) if name in ("true_deg", "indicated_deg")]
    for written in rows:
        row = list(written)
        for places in filter(None, vectors):
            for i, value in zip(places, vector(how, [row[i] for i in places]), strict=True):
                row[i] = value
        if supports:
            row[supports[0]], row[supports[1]], _ = vector(how, [*(row[i] for i in supports), "0"])
        for i in headings:
            row[i] = str(how.heading(Decimal(row[i])))
        yield row


def flow(node: Any) -> str:
    """As YAML on one line."""
    if isinstance(node, dict):
        return "{" + ", ".join(f"{k}: {flow(v)}" for k, v in node.items()) + "}"
    if isinstance(node, list):
        return "[" + ", ".join(map(flow, node)) + "]"
    return node if re.fullmatch(r"[\w./+-]+( \d\d:\d\d)?", node) else json.dumps(node)


def text_of(aircraft: Mapping[str, Any]) -> str:
    """As YAML, one line for each top-level key."""
    return "".join(f"{key}: {flow(value)}\n" for key, value in aircraft.items())


Table = tuple[Sequence[str], Iterable[Sequence[str]]]


def tables_changed(change: Callable[[Sequence[str], Iterable[Sequence[str]]], Table]) -> dict[str, str]:
    """The files beside the manifests, each CSV table changed as (head, rows) → (head, rows)."""
    files = dict(FILES)
    for file, content in FILES.items():
        if file.endswith(".csv"):
            head, *rows = csv.reader(io.StringIO(content))
            out = io.StringIO()
            new_head, new_rows = change(head, rows)
            csv.writer(out, lineterminator="\n").writerows([new_head, *new_rows])
            files[file] = out.getvalue()
    return files


def transformed(text: str, kind: type[Transformed]) -> tuple[str, dict[str, str], Transformed]:
    """The manifest and the files beside it, as the other aircraft's owner writes them; and how names change."""
    aircraft = yaml.load(text, Loader=yaml.CBaseLoader)
    how = kind(aircraft)
    files = tables_changed(lambda head, rows: (head, turn_rows(head, rows, how)))
    return text_of(moved(aircraft, how)), files, how


def as_custom(aircraft: dict[str, Any]) -> dict[str, Any]:
    """The same aircraft with every rotor's place written out; arms and angles worked out here."""
    layout, arm = aircraft["aircraft"]["layout"], float(aircraft["aircraft"].get("arm_mm", 300))
    ring = ROUND.get(layout, [])
    angles = {one: NOSE[layout] + i * 360 / len(ring) for i, one in enumerate(ring)} or Y6
    rotors = []
    for rotor in aircraft["rotors"]:
        angle = math.radians(angles[re.sub("-(upper|lower)$", "", rotor["at"])])
        below = 60 if rotor["at"].endswith("-lower") else 0
        place = [f"{arm * math.cos(angle):.6f}", f"{arm * math.sin(angle):.6f}", str(below)]
        rotors.append({**rotor, "place_mm": place})
    about = {key: value for key, value in aircraft["aircraft"].items() if key != "arm_mm"}
    return {**aircraft, "aircraft": {**about, "layout": "custom"}, "rotors": rotors}


Looked = tuple[str, list[tuple[str, str, str, str]], list[tuple[str, str, str, float, float | None]]]


def looked(text: str, files: Mapping[str, str] = FILES, judged_on: str = "2026-05-21") -> Looked:
    """Verdict; each outcome as (rule, position, kind, cause); figures as (quantity, case, position, value, u)."""
    needed = ((file, content) for file, content in files.items() if file.endswith(".yaml") or file in text)
    return _looked(text, tuple(needed), judged_on)


@lru_cache(maxsize=64)
def _looked(text: str, files: tuple[tuple[str, str], ...], judged_on: str) -> Looked:
    inspected = inspect_text(text, judged_on, files=dict(files))
    told = [
        (r.rule.id, r.at or "", type(r.outcome).__name__, getattr(r.outcome, "cause", "")) for r in inspected.results
    ]
    found = [(f.quantity, f.case or "", f.at or "", f.value, f.standard_uncertainty) for f in inspected.computed]
    return inspected.verdict, told, found


def answers(
    text: str, files: Mapping[str, str] = FILES, rename: Callable[[str], str] = str, judged_on: str = "2026-05-21"
) -> tuple[str, list[tuple[str, str, str, str]]]:
    """The verdict, and each rule's kind of answer at each place."""
    verdict, told, _ = looked(text, files, judged_on)
    return verdict, sorted(
        (rule, rename(at) if at and rule not in OF_A_PAIR else "", kind, cause) for rule, at, kind, cause in told
    )


def figures(
    text: str, files: Mapping[str, str] = FILES, rename: Callable[[str], str] = str, judged_on: str = "2026-05-21"
) -> dict[tuple[str, str, str], tuple[float, float | None]]:
    """Each computed figure: (value, standard uncertainty) by (quantity, case, position)."""
    _, _, found = looked(text, files, judged_on)
    return {(quantity, case, rename(at) if at else ""): (value, u) for quantity, case, at, value, u in found}
