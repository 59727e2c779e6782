"""The plan view by its geometry: one unit is a millimetre, right is right and forward is up."""

import math
import re
from xml.etree import ElementTree as ET

import pytest

from preflint.render.sheet.drawing import plan_drawing

PLAIN = ["quad-x", "quad-plus", "hexa-x", "hexa-plus", "octo-x", "octo-plus"]
ROTORS = {"quad-x": 4, "quad-plus": 4, "hexa-x": 6, "hexa-plus": 6, "octo-x": 8, "octo-plus": 8, "x8": 8, "y6": 6}
PAIR = """\
preflint: 1
aircraft: {name: Trial, layout: custom}
rotors:
  - {at: deep, place_mm: [0, -200, 40], spin: cw, prop: {diameter_in: 8}}
  - {at: high, place_mm: [0, -200, -40], spin: ccw, prop: {diameter_in: 10}}
  - {at: alone, place_mm: [50, 200, 0], spin: cw, prop: {diameter_in: 10}}
"""


def manifest(layout: str, arm: str = "arm_mm: 300", rotors: str = "", every: str = "prop: {diameter_in: 10}") -> str:
    about = ", ".join(filter(None, ["name: Trial", f"layout: {layout}", arm]))
    return f"preflint: 1\naircraft: {{{about}}}\nevery_rotor: {{{every}}}\n{rotors}"


def custom(*rotors: str) -> str:
    listed = "".join(f"  - {{at: rotor-{i}, {rotor}}}\n" for i, rotor in enumerate(rotors))
    return f"preflint: 1\naircraft: {{name: Trial, layout: custom}}\nrotors:\n{listed}"


def centre(disc: ET.Element) -> tuple[float, float]:
    return float(disc.get("cx", "")), float(disc.get("cy", ""))


def turning(arc: ET.Element, hub: tuple[float, float]) -> str:
    """By the cross product of both ends as seen from the hub; y runs down, so above zero is clockwise."""
    numbers = [float(x) for x in re.findall(r"-?\d+\.?\d*(?:e-?\d+)?", arc.get("d", ""))]
    (x1, y1), (rx, ry, _, large, sweep), (x2, y2) = numbers[:2], numbers[2:7], numbers[7:9]
    assert rx == ry
    assert large == 0
    for x, y in ((x1, y1), (x2, y2)):
        assert math.hypot(x - hub[0], y - hub[1]) == pytest.approx(rx, abs=0.01)
    cross = (x1 - hub[0]) * (y2 - hub[1]) - (y1 - hub[1]) * (x2 - hub[0])
    # SVG 2, 9.3.8: sweep-flag 1 draws the arc in the direction of increasing angle, clockwise on the page.
    assert sweep == (1 if cross > 0 else 0)
    return "cw" if cross > 0 else "ccw"


@pytest.mark.parametrize("layout", ROTORS)
def test_every_disc_lies_where_its_name_says_at_the_arms_length(judged, parts, layout: str) -> None:
    discs = parts(plan_drawing(judged(manifest(layout))), "disc")
    assert len(discs) == ROTORS[layout]
    angles = set()
    for disc in discs:
        x, y = centre(disc)
        words = disc.get("data-rotor", "").split("-")
        assert math.hypot(x, y) == pytest.approx(300, abs=0.01)
        assert ("front" in words, "rear" in words) == (y < -0.1, y > 0.1)
        assert ("left" in words, "right" in words) == (x < -0.1, x > 0.1)
        angles.add(round(math.degrees(math.atan2(x, -y))) % 360)
    apart = 360 / len(angles)
    assert all(b - a == pytest.approx(apart, abs=1) for a, b in zip(sorted(angles), sorted(angles)[1:], strict=False))


@pytest.mark.parametrize("layout", PLAIN)
def test_left_and_right_are_mirror_images(judged, parts, layout: str) -> None:
    at = {d.get("data-rotor"): centre(d) for d in parts(plan_drawing(judged(manifest(layout))), "disc")}
    other = {"left": "right", "right": "left"}
    for rotor, (x, y) in at.items():
        mirrored = at["-".join(other.get(word, word) for word in rotor.split("-"))]
        assert mirrored == pytest.approx((-x, y), abs=0.01)


def test_a_discs_radius_is_the_props_in_mm(judged, parts) -> None:
    text = custom("place_mm: [0, 300, 0], prop: {diameter_in: 10}", "place_mm: [0, -300, 0], prop: {diameter_in: 14}")
    svg = plan_drawing(judged(text))
    # One inch is 25.4 mm exactly (international yard and pound agreement, 1959).
    assert [float(d.get("r", "")) for d in parts(svg, "disc")] == pytest.approx([127.0, 177.8])
    assert [centre(d) for d in parts(svg, "disc")] == [(300.0, 0.0), (-300.0, 0.0)]


@pytest.mark.parametrize("layout", ROTORS)
@pytest.mark.parametrize("spin", ["cw", "ccw"])
def test_arrows_turn_the_way_the_rotor_spins_from_above(judged, parts, layout: str, spin: str) -> None:
    svg = plan_drawing(judged(manifest(layout, every=f"spin: {spin}, prop: {{diameter_in: 10}}")))
    for disc in parts(svg, "disc"):
        arcs = parts(svg, "spin", rotor=disc.get("data-rotor"))
        assert [turning(arc, centre(disc)) for arc in arcs] == [spin, spin]
    heads = len(parts(svg, "arrowhead"))
    assert heads == 2 * ROTORS[layout] + 1


@pytest.mark.parametrize(("spin", "sign"), [("cw", 1), ("ccw", -1)])
def test_an_arrowhead_points_along_the_spin(judged, parts, spin: str, sign: int) -> None:
    svg = plan_drawing(judged(custom(f"place_mm: [0, 0, 0], spin: {spin}, prop: {{diameter_in: 10}}")))
    heads = parts(svg, "arrowhead")[1:]  # the first is that of the front
    assert len(heads) == 2
    for head in heads:
        x0, y0, x1, y1, x2, y2 = map(float, re.findall(r"-?\d+\.?\d*", head.get("d", "")))
        back = (x1 + x2) / 2, (y1 + y2) / 2
        assert sign * (back[0] * y0 - back[1] * x0) > 0


def test_without_a_spin_there_is_no_arrow_and_words_say_so(judged, parts) -> None:
    svg = plan_drawing(judged(manifest("quad-x")))
    assert parts(svg, "spin") == []
    assert svg.count("spin not recorded</text>") == 4


def test_a_missing_diameter_is_drawn_smaller_and_dashed_and_said(judged, parts) -> None:
    text = custom("place_mm: [0, 300, 0], prop: {diameter_in: 10}", "place_mm: [0, -300, 0]")
    svg = plan_drawing(judged(text))
    known, guessed = parts(svg, "disc")
    assert float(guessed.get("r", "")) < float(known.get("r", ""))
    assert known.get("stroke-dasharray") is None
    assert guessed.get("stroke-dasharray")
    assert "diameter_in is not recorded (rotor-1)" in svg
    assert svg.count("diameter not recorded</text>") == 1


def test_without_any_diameter_no_two_discs_meet(judged, parts) -> None:
    discs = parts(plan_drawing(judged(manifest("octo-x", every="spin: cw"))), "disc")
    for i, one in enumerate(discs):
        for other in discs[:i]:
            assert math.dist(centre(one), centre(other)) > float(one.get("r", "")) + float(other.get("r", ""))


def test_the_scale_bar_is_as_long_as_it_says(judged, parts) -> None:
    svg = plan_drawing(judged(manifest("hexa-plus")))
    (bar,) = parts(svg, "scale")
    assert f">{float(bar.get('width', '')):g} mm</text>" in svg
    assert re.fullmatch("[125]0*", bar.get("width", ""))


def test_without_an_arm_it_is_not_to_scale_and_has_no_bar(judged, parts) -> None:
    svg = plan_drawing(judged(manifest("quad-x", arm="")))
    assert parts(svg, "scale") == []
    assert "NOT TO SCALE: arm_mm is not recorded</text>" in svg
    assert len(parts(svg, "disc")) == 4


@pytest.mark.parametrize("layout", ["x8", "y6"])
def test_a_lower_rotor_is_dashed_and_its_arrows_lie_inside(judged, parts, layout: str) -> None:
    svg = plan_drawing(judged(manifest(layout, every="spin: cw, prop: {diameter_in: 10}")))
    lower, upper = parts(svg, "disc", level="lower"), parts(svg, "disc", level="upper")
    assert len(lower) == len(upper) == ROTORS[layout] // 2
    for one in lower:
        above = next(d for d in upper if centre(d) == centre(one))
        assert one.get("data-rotor", "").removesuffix("lower") == above.get("data-rotor", "").removesuffix("upper")
        assert one.get("stroke-dasharray")
        assert above.get("stroke-dasharray") is None
        assert float(one.get("r", "")) < float(above.get("r", ""))
        x, y = centre(one)
        outer, inner = (
            min(math.hypot(float(a) - x, float(b) - y) for a, b in re.findall(r"[ML] (\S+) (\S+)", arc.get("d", "")))
            for arc in (parts(svg, "spin", rotor=d.get("data-rotor"))[0] for d in (above, one))
        )
        assert inner < 0.8 * outer


def test_which_is_lower_on_a_free_frame_is_told_by_its_height(judged, parts) -> None:
    svg = plan_drawing(judged(PAIR))
    assert {d.get("data-rotor"): d.get("data-level") for d in parts(svg, "disc")} == {
        "deep": "lower", "high": "upper", "alone": "upper",
    }
    (deep,) = parts(svg, "disc", rotor="deep")
    assert float(deep.get("r", "")) == pytest.approx(101.6)  # of another size than the one above, so drawn as it is


def test_two_rotors_in_one_place_are_said(judged) -> None:
    assert "rotor-0 and rotor-1 are written in one place" in plan_drawing(
        judged(custom("place_mm: [0, 10, 0]", "place_mm: [0, 10, 0]"))
    )


def test_a_thread_is_told_as_seen_at_its_nut(judged) -> None:
    rotors = (
        "rotors: [{at: front-left, fixing: {nut_tightens: ccw}},"
        " {at: rear-left, nut_points: down, fixing: {thread_hand: right}},"
        " {at: rear-right, fixing: {kind: screws}, prop: {hand: ccw, face: down}}]\n"
    )
    svg = plan_drawing(judged(manifest("quad-x", rotors=rotors)))
    said = re.findall(r">([^<]*)</text>", svg)
    # ISO 5408, from memory: a left-hand thread goes on counter-clockwise.
    start = said.index("front-left")
    assert said[start + 3 : start + 5] == ["nut up, tightens ccw", "thread left-hand"]
    start = said.index("rear-left")
    assert said[start + 3 : start + 5] == ["nut down, tightens ?", "thread right-hand"]
    start = said.index("rear-right")
    assert said[start + 2 : start + 4] == ["prop ccw, domed side down", "held by screws"]


def test_the_centre_of_mass_lies_where_scales_showed_it(judged, parts) -> None:
    text = manifest("quad-x", "arm_mm: 300, takeoff_mass_g: 2000", every="spin: cw, motor: {max_thrust_g: 1300}")
    text += (
        "site: {elevation_m: 0, temperature_c: 15, station_pressure_hpa: 1013.25, relative_humidity_percent: 0}\n"
        "packs: [{label: A1, chemistry: lipo, cells: 4}]\n"
        "records:\n  balance_point:\n    - date: 2026-05-20\n"
        "      columns: [forward_mm, right_mm, mass_g]\n"
        "      rows: [[100, -100, 500], [100, 100, 700], [-100, 0, 800]]\n"
    )
    (mark,) = parts(plan_drawing(judged(text)), "centre-of-mass")
    # By hand: forward (100 * 1200 - 100 * 800) / 2000 = 20, right 100 * (700 - 500) / 2000 = 10.
    assert centre(mark) == pytest.approx((10.0, -20.0))


def test_no_centre_of_mass_is_drawn_where_nobody_weighed(judged, parts) -> None:
    assert parts(plan_drawing(judged(manifest("quad-x"))), "centre-of-mass") == []


def test_the_front_arrow_points_up_and_has_its_word(judged, parts) -> None:
    (front,) = parts(plan_drawing(judged(manifest("quad-x"))), "front")
    assert "".join(front.itertext()) == "front"
    head = next(one for one in front if one.get("data-part") == "arrowhead")
    (_, tip), *base = re.findall(r"[ML] (\S+) (\S+)", head.get("d", ""))
    assert all(float(tip) < float(y) for _, y in base)


def test_places_of_a_free_frame_are_drawn_as_measured(judged, parts) -> None:
    places = [(120, -310), (140, 250), (-90, -40), (-200, 330)]
    texts = [f"place_mm: [{forward}, {right}, 0]" for forward, right in places]
    discs = parts(plan_drawing(judged(custom(*texts))), "disc")
    assert [centre(d) for d in discs] == [(right, -forward) for forward, right in places]
