"""What was found, where it is: by number, shape and word, never by colour alone. And hostile text stays text."""

import re
from xml.etree import ElementTree as ET

import pytest

from preflint.render.entries import found
from preflint.render.sheet.drawing import finding_numbers, plan_drawing
from preflint.render.sheet.rig import rig_drawing

from ..hostile import ATTACKS, manifest

SVG = "{http://www.w3.org/2000/svg}"
# A nut of the wrong hand (no-go), a locknut that ends above the thread (caution), one used before (advisory).
MARKED = """\
preflint: 1
aircraft: {name: Trial, layout: quad-x, arm_mm: 300}
every_rotor: {prop: {diameter_in: 10}}
rotors:
  - {at: front-left, spin: cw, fixing: {kind: nut, nut_tightens: cw}}
  - {at: front-right, spin: ccw, fixing: {kind: nut, nut_tightens: cw, nut_kind: locknut-new,
     thread_past_locknut: false}}
  - {at: rear-left, spin: ccw, fixing: {kind: nut, nut_tightens: cw, nut_kind: locknut-reused}}
  - {at: rear-right, spin: cw, fixing: {kind: nut, nut_tightens: ccw}}
"""
# Every prop on a motor of the other spin, domed side down, and a record taken so.
INVERTED = """\
records:
  rig_check: [{date: 2026-05-20, rig: inverted-load}]
"""


def words(element: ET.Element) -> list[str]:
    return [one.text or "" for one in element.iter(f"{SVG}text")]


def test_a_finding_stands_at_its_rotor_with_its_number_and_word(judged, parts) -> None:
    one = judged(MARKED)
    numbers = finding_numbers(one)
    (wrong,) = [r for r in one.results if id(r) in numbers and r.rule.id == "retention/nut-hand"]
    assert wrong.at == "front-left"
    svg = plan_drawing(one)
    (label,) = parts(svg, "label", rotor="front-left")
    here = {(b.get("data-number"), b.get("data-severity")) for b in label.iter() if b.get("data-part") == "badge"}
    assert (str(numbers[id(wrong)]), "no-go") in here
    assert "NO-GO" in words(label)
    assert "no-go" not in {b.get("data-severity") for b in parts(svg, "label", rotor="rear-right")[0].iter()}


def test_a_rotor_that_nobody_wrote_is_not_marked_for_another(judged, parts) -> None:
    lines = MARKED.splitlines(keepends=True)
    svg = plan_drawing(judged("".join(lines[:5])))
    assert [disc.get("data-rotor") for disc in parts(svg, "disc", found="no-go")] == ["front-left"]


def test_shape_and_hatching_tell_severities_apart_without_colour(judged, parts) -> None:
    svg = plan_drawing(judged(MARKED))
    shapes = {badge.get("data-severity"): badge[0] for badge in parts(svg, "badge")}
    assert set(shapes) == {"no-go", "caution", "advisory"}
    assert [len(re.findall("[ML]", shapes[one].get("d", ""))) for one in ("no-go", "caution")] == [8, 3]
    assert shapes["advisory"].tag == f"{SVG}circle"
    assert len(parts(svg, "hatch")) == len(parts(svg, "disc", found="no-go")) == 1
    assert parts(svg, "disc", found="caution")


def test_warnings_are_red_and_cautions_amber(judged, parts) -> None:
    # 14 CFR 25.1322(e): red for a warning, amber or yellow for a caution, neither red nor green for an advisory.
    fills = {b.get("data-severity"): b[0].get("fill", "") for b in parts(plan_drawing(judged(MARKED)), "badge")}
    red, green, blue = (int(fills["no-go"][i : i + 2], 16) for i in (1, 3, 5))
    assert red > 3 * max(green, blue)
    red, green, blue = (int(fills["caution"][i : i + 2], 16) for i in (1, 3, 5))
    assert red > green > 3 * blue
    assert fills["advisory"] == "#fff"


def test_every_finding_is_listed_by_its_number_and_only_on_request(judged, parts) -> None:
    one = judged(MARKED)
    listed = [item.get("data-number") for item in parts(plan_drawing(one), "listed")]
    assert listed == [str(i) for i in range(1, len(found(one)) + 1)]
    assert parts(plan_drawing(one, listed=False), "listed") == []


def test_a_leader_runs_from_each_name_into_its_own_disc(judged, parts) -> None:
    svg = plan_drawing(judged(MARKED))
    for disc in parts(svg, "disc"):
        x, y, r = (float(disc.get(key, "")) for key in ("cx", "cy", "r"))
        (leader,) = parts(svg, "leader", rotor=disc.get("data-rotor"))
        *_, end = re.findall(r"[ML] (\S+) (\S+)", leader.get("d", ""))
        assert (float(end[0]) - x) ** 2 + (float(end[1]) - y) ** 2 < r**2


def test_all_words_lie_in_the_picture_and_none_on_another(judged) -> None:
    eight = MARKED.replace("quad-x", "x8").partition("rotors:")[0]
    for text in (MARKED, eight):
        root = ET.fromstring(plan_drawing(judged(text)))
        left, top, wide, high = map(float, root.get("viewBox", "").split())
        seen = []
        for one in root.iter(f"{SVG}text"):
            x, y, size = (float(one.get(key, "")) for key in ("x", "y", "font-size"))
            length = 0.55 * size * len(one.text or "")
            start = x - {"end": 1.0, "middle": 0.5}.get(one.get("text-anchor", ""), 0.0) * length
            assert left <= start
            assert start + length <= left + wide
            assert top <= y - size
            assert y <= top + high
            seen.append((start, y - size, start + length, y))
        for i, a in enumerate(seen):
            for b in seen[:i]:
                assert a[2] <= b[0] or b[2] <= a[0] or a[3] <= b[1] or b[3] <= a[1]


@pytest.mark.parametrize("attack", ATTACKS.values(), ids=list(ATTACKS))
def test_hostile_text_stays_text(judged, attack: str) -> None:
    one = judged(manifest(attack) + INVERTED)
    plain = judged(manifest("Plain") + INVERTED)
    for drawn in (plan_drawing, rig_drawing):
        root, harmless = ET.fromstring(drawn(one)), ET.fromstring(drawn(plain))
        shapes = [(item.tag, sorted(item.keys())) for item in root.iter() if item.tag != f"{SVG}text"]
        assert shapes == [(item.tag, sorted(item.keys())) for item in harmless.iter() if item.tag != f"{SVG}text"]
        title = root.find(f"{SVG}title")
        assert title is not None
        assert "Plan view" in (title.text or "") or "Inverted-load rig" in (title.text or "")


def test_a_drawing_stands_alone_and_beside_others(judged) -> None:
    for svg in (plan_drawing(judged(MARKED)), rig_drawing(judged(MARKED + INVERTED))):
        root = ET.fromstring(svg)
        assert root.tag == f"{SVG}svg"
        assert root.get("role") == "img"
        assert [child.tag for child in root][:2] == [f"{SVG}title", f"{SVG}desc"]
        tags = {one.tag.removeprefix(SVG) for one in root.iter()}
        assert tags <= {"svg", "title", "desc", "rect", "circle", "path", "text", "g"}
        for one in root.iter():
            assert not {"id", "class", "style", "href"} & set(one.keys())
            assert not any(key.startswith("on") or "url(" in value for key, value in one.attrib.items())
