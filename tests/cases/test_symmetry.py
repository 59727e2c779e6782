"""An aircraft turned or mirrored together with all its readings gets the answers that it had.

Mirrored left to right, every turning is the other one: spins, hands and the way that nuts tighten. Turned by a
quarter about the down axis, what was the front is the right side; turnings stay. The transformations work on the
manifest as YAML reads it and use nothing of ours.
"""

import csv
import io
import json
import re
from pathlib import Path

import pytest
import yaml

from preflint.testing import inspect_text

CLUB = Path(__file__).parents[2] / "examples" / "club"
FILES = {
    path.relative_to(CLUB).as_posix(): path.read_text(encoding="utf-8")
    for path in CLUB.rglob("*") if path.is_file() and path.suffix in (".yaml", ".csv") and ".airframe" not in path.name
}
VECTORS = ("interference_offset_ut_per_a", "hard_iron_ut", "place_mm")
OF_PEOPLE = {"name", "owner", "make", "batch", "instrument", "by", "because", "note", "label", "pack", "file", "site"}
OTHER = {"left": "right", "right": "left", "cw": "ccw", "ccw": "cw"}
QUARTER = {  # clockwise seen from above
    "quad-x": ["front-left", "front-right", "rear-right", "rear-left"],
    "quad-plus": ["front", "right", "rear", "left"],
    "octo-x": [
        "front-right", "right-front", "right-rear", "rear-right", "rear-left", "left-rear", "left-front", "front-left",
    ],
    "x8": ["front-left", "front-right", "rear-right", "rear-left"],
}
TILTED = {"nose-down": "right-down", "right-down": "nose-up", "nose-up": "left-down", "left-down": "nose-down"}


# Said once of two rotors, at whichever comes first round the aircraft.
OF_A_PAIR = {"rotation/output-order"}


class Mirrored:
    """Right is left, clockwise is counter-clockwise."""

    keeps = frozenset[str]()

    def __init__(self, aircraft):
        pass

    def word(self, text):
        return re.sub(r"\b(left|right|ccw|cw)\b", lambda found: OTHER[found[1]], text)

    def vector(self, x, y, z):
        return x, -y, z

    def heading(self, degrees):
        return (360 - degrees) % 360


class Turned:
    """What pointed forward points right."""

    keeps = frozenset({"thread_hand"})

    def __init__(self, aircraft):
        ring = QUARTER.get(aircraft["aircraft"]["layout"], [])
        step = len(ring) // 4
        self.names = {one: ring[(i + step) % len(ring)] for i, one in enumerate(ring)}
        self.names |= {f"{a}-{level}": f"{b}-{level}" for a, b in self.names.items() for level in ("upper", "lower")}

    def word(self, text):
        return TILTED.get(text, self.names.get(text, text))

    def vector(self, x, y, z):
        return -y, x, z

    def heading(self, degrees):
        return (degrees - 90) % 360


def moved(node, how, key=""):
    if isinstance(node, dict):
        node = {how.word(k): moved(v, how, k) for k, v in node.items()}
        if "rows" in node:
            node["rows"] = [list(row) for row in turn_rows(node["columns"], node["rows"], how)]
        return node
    if isinstance(node, list):
        if key in VECTORS:
            return [f"{value:.6f}" for value in how.vector(*map(float, node))]
        return [moved(one, how, key) for one in node]
    return node if key in OF_PEOPLE | how.keeps else how.word(node)


def turn_rows(columns, rows, how):
    field = [i for i, name in enumerate(columns) if name.startswith("field_")]
    headings = [i for i, name in enumerate(columns) if name in ("true_deg", "indicated_deg")]
    for row in rows:
        row = list(row)
        if field:
            for i, value in zip(field, how.vector(*(float(row[i]) for i in field)), strict=True):
                row[i] = f"{value:.6f}"
        for i in headings:
            row[i] = f"{how.heading(float(row[i])):.6f}"
        yield row


def flow(node):
    if isinstance(node, dict):
        return "{" + ", ".join(f"{k}: {flow(v)}" for k, v in node.items()) + "}"
    if isinstance(node, list):
        return "[" + ", ".join(map(flow, node)) + "]"
    return node if re.fullmatch(r"[\w./+-]+( \d\d:\d\d)?", node) else json.dumps(node)


def transformed(text, kind):
    """The manifest and the files beside it, as the other aircraft's owner writes them; and how names change."""
    aircraft = yaml.load(text, Loader=yaml.BaseLoader)
    how = kind(aircraft)
    files = dict(FILES)
    for file, content in FILES.items():
        if file.endswith(".csv"):
            head, *rows = csv.reader(io.StringIO(content))
            out = io.StringIO()
            csv.writer(out, lineterminator="\n").writerows([head, *turn_rows(head, rows, how)])
            files[file] = out.getvalue()
    moved_aircraft = moved(aircraft, how)
    return "".join(f"{key}: {flow(value)}\n" for key, value in moved_aircraft.items()), files, how


def answers(text, files, rename=lambda name: name):
    inspected = inspect_text(text, files=files)
    told = []
    for r in inspected.results:
        at = rename(r.at) if r.at and r.rule.id not in OF_A_PAIR else ""
        told.append((r.rule.id, at, type(r.outcome).__name__, getattr(r.outcome, "cause", "")))
    return inspected.verdict, sorted(told)


def both(text, kind):
    other, files, how = transformed(text, kind)
    return answers(text, FILES, how.word), answers(other, files)


# Edits of the aircraft that has everything recorded, one fault each.
FAULTS = {
    "nut": ("{nut_tightens: ccw}}", "{nut_tightens: cw}}"),
    "right-hand thread": ("{nut_tightens: ccw}}", "{thread_hand: right}}"),
    "bag": ("{nut_tightens: ccw}}", "{bag_says: ccw, bag_means: motor}}"),
    "nut test": (
        "  bell_pull:",
        "  nut_test: [{date: 2026-05-16, at: front, nut: runs-on, motor_turned: ccw}]\n  bell_pull:",
    ),
    "hand": ("prop: {hand: cw, face: up}", "prop: {hand: ccw, face: up}"),
    "face": ("prop: {hand: cw, face: up}", "prop: {hand: cw, face: down}"),
    "inverted": ("prop: {hand: cw, face: up}", "prop: {hand: ccw, face: down}"),
    "spin": ("at: right, spin: ccw", "at: right, spin: cw"),
    "spin seen": ("seen: {front: cw", "seen: {front: ccw"),
    "spin expected": ("expects_spin: {front: cw", "expects_spin: {front: ccw"),
    "outputs": ("front: front, right: right", "front: right, right: front"),
    "tilt": ("indicated: right-down, sped_up: [right]", "indicated: left-down, sped_up: [right]"),
    "answer": ("indicated: right-down, sped_up: [right]", "indicated: right-down, sped_up: [left]"),
    "yaw answer": ("sped_up: [front, rear]", "sped_up: [right, left]"),
    "stick": ("indicated: nose-down, sped_up: [rear]", "indicated: nose-down, sped_up: [front]"),
    "offset sign": ("[-0.1116, 0.2307, -0.0478]", "[0.1116, -0.2307, 0.0478]"),
    "offset axes": ("[-0.1116, 0.2307, -0.0478]", "[0.2307, -0.1116, -0.0478]"),
    "no offset": ("[-0.1116, 0.2307, -0.0478]", "[0, 0, 0]"),
    "heading": ("[90, 91.5]", "[90, 121.5]"),
    "volts": ("[[16.67, 16.68]", "[[16.67, 17.08]"),
    "bell": ("at: left, moved: false", "at: left, moved: true"),
    "motor work": (
        "kind: fitted, part: power-lead, note: longer lead}",
        "kind: flown}\n  - {date: 2026-05-18, kind: replaced, part: motor, at: left}",
    ),
}


ALL = sorted(path.name.removesuffix(".airframe.yaml") for path in CLUB.glob("*.airframe.yaml"))


def manifest(name):
    return (CLUB / f"{name}.airframe.yaml").read_text(encoding="utf-8")


@pytest.mark.parametrize("name", ALL)
def test_a_mirrored_aircraft(name):
    before, after = both(manifest(name), Mirrored)
    assert before == after


def layout(name):
    return yaml.load(manifest(name), Loader=yaml.BaseLoader)["aircraft"]["layout"]


@pytest.mark.parametrize("name", [name for name in ALL if layout(name) in {*QUARTER, "custom"}])
def test_an_aircraft_turned_by_a_quarter(name):
    before, after = both(manifest(name), Turned)
    assert before == after


@pytest.mark.parametrize("kind", [Mirrored, Turned])
@pytest.mark.parametrize("fault", FAULTS)
def test_a_fault_in_the_other_aircraft(fault, kind):
    text = manifest("wheatear")
    assert FAULTS[fault][0] in text
    wrong = text.replace(*FAULTS[fault], 1)
    before, after = both(wrong, kind)
    assert before == after
    assert before != answers(text, FILES, transformed(text, kind)[2].word)


def test_half_a_mirror_is_no_mirror():
    """The turnings alone the other way round, nuts left as they are: every nut is of the wrong hand."""
    text = re.sub(r"nut_tightens: (cw|ccw)", lambda m: f"nut_tightens: {OTHER[m[1]]}", manifest("wheatear"))
    assert answers(text, FILES)[0] == "no-go"
