"""The inverted-load rig: every prop goes to one motor of the other spin, each motor gets one, and back the same way."""

import math

import pytest

from preflint.compute.handedness import prop_state
from preflint.render.sheet.rig import rig_drawing

RECORD = "records:\n  rig_check: [{date: 2026-05-20, rig: inverted-load}]\n"
RUN = (
    "records:\n  current_comparison:\n    - date: 2026-05-18 14:00\n      route: inverted-load\n"
    "      columns: [indicated_a, reference_a]\n      rows: [[0.1, 0.0], [20.9, 21.4]]\n"
)
OTHER = {"cw": "ccw", "ccw": "cw"}
SPINS = {
    "quad-x": {"front-left": "cw", "front-right": "ccw", "rear-right": "cw", "rear-left": "ccw"},
    "hexa-plus": {"front": "cw", "front-right": "ccw", "rear-right": "cw", "rear": "ccw", "rear-left": "cw",
                  "front-left": "ccw"},
    "y6": {f"{arm}-{level}": spin for arm in ("front-left", "front-right", "rear")
           for level, spin in (("upper", "cw"), ("lower", "ccw"))},
}  # fmt: skip
# Neighbours that turn alike: no prop can go one place on.
ALIKE = {"front-left": "cw", "front-right": "cw", "rear-right": "ccw", "rear-left": "ccw"}


def manifest(layout: str, spins: dict[str, str], record: str = RECORD, prop: str = "") -> str:
    rotors = "".join(f"  - {{at: {at}, spin: {spin}}}\n" for at, spin in spins.items())
    about = f"preflint: 1\naircraft: {{name: Trial, layout: {layout}, arm_mm: 300}}\n"
    return f"{about}every_rotor: {{prop: {{diameter_in: 10{prop}}}}}\nrotors:\n{rotors}{record}"


def views(parts, svg: str) -> list[dict[str | None, str | None]]:
    return [
        {one.get("data-from"): one.get("data-to") for one in view.iter() if one.get("data-part") == "move"}
        for view in parts(svg, "view")
    ]


@pytest.mark.parametrize(("layout", "spins"), [*SPINS.items(), ("quad-x", ALIKE)])
def test_every_prop_goes_to_a_motor_of_the_other_spin_and_back(judged, parts, layout: str, spins) -> None:
    there, back = views(parts, rig_drawing(judged(manifest(layout, spins))))
    assert set(there) == set(there.values()) == set(spins)
    assert all(spins[to] == OTHER[spins[start]] for start, to in there.items())
    assert back == {to: start for start, to in there.items()}
    # A prop of the hand of its own motor, on the other and turned over, pushes down with its edges first.
    assert {prop_state(spins[to], spins[start], "down") for start, to in there.items()} == {"inverted-load"}


@pytest.mark.parametrize("layout", ["quad-x", "hexa-plus"])
def test_each_goes_one_place_on_clockwise(judged, parts, layout: str) -> None:
    there, _ = views(parts, rig_drawing(judged(manifest(layout, SPINS[layout]))))
    ring = list(SPINS[layout])
    assert there == dict(zip(ring, ring[1:] + ring[:1], strict=True))


def test_on_coaxial_arms_upper_and_lower_change_places(judged, parts) -> None:
    there, _ = views(parts, rig_drawing(judged(manifest("y6", SPINS["y6"]))))
    assert all(str(start).rpartition("-")[0] == str(to).rpartition("-")[0] for start, to in there.items())


@pytest.mark.parametrize("record", [RECORD, RUN])
def test_a_record_of_the_rig_brings_the_drawing(judged, record: str) -> None:
    assert "On record in it:" in rig_drawing(judged(manifest("quad-x", SPINS["quad-x"], record)))


@pytest.mark.parametrize(
    "record", ["", RECORD.replace("inverted-load", "flight"), RUN.replace("inverted-load", "restrained")]
)
def test_without_one_there_is_none(judged, record: str) -> None:
    assert rig_drawing(judged(manifest("quad-x", SPINS["quad-x"], record))) == ""


def test_what_stands_in_the_rig_is_shown_the_way_back_alone(judged, parts) -> None:
    text = manifest("quad-x", SPINS["quad-x"], "")
    for at, spin in SPINS["quad-x"].items():
        turned = f"at: {at}, spin: {spin}, prop: {{hand: {OTHER[spin]}, face: down}}"
        text = text.replace(f"at: {at}, spin: {spin}", turned)
    svg = rig_drawing(judged(text))
    assert len(views(parts, svg)) == 1
    assert "The way back: domed side UP</text>" in svg
    assert "NOW" in svg


@pytest.mark.parametrize(
    ("spins", "why"),
    [
        ({"front-left": "cw", "front-right": "ccw", "rear-left": "ccw"}, "spin is not recorded at rear-right"),
        (dict.fromkeys(ALIKE, "cw"), "cw and ccw motors are not equally many"),
    ],
)
def test_where_no_exchange_can_be_told_that_is_said(judged, parts, spins, why: str) -> None:
    svg = rig_drawing(judged(manifest("quad-x", spins)))
    assert views(parts, svg) == []
    assert why in svg
    assert "every prop on a motor of its own hand, domed side up" in svg


def test_precautions_come_first(judged) -> None:
    svg = rig_drawing(judged(manifest("quad-x", SPINS["quad-x"])))
    assert svg.index("Pack unplugged") < svg.index("Back in the flight rig")


def test_a_prop_that_cannot_be_turned_over_is_named(judged) -> None:
    assert "Cannot be turned over" in rig_drawing(judged(manifest("quad-x", SPINS["quad-x"], prop=", hub: folding")))
    assert "Cannot be turned over" not in rig_drawing(judged(manifest("quad-x", SPINS["quad-x"], prop=", hub: plain")))


def test_an_arrow_ends_at_the_disc_it_names(judged, parts) -> None:
    svg = rig_drawing(judged(manifest("quad-x", SPINS["quad-x"])))
    view = parts(svg, "view")[0]
    discs = [one for one in view.iter() if one.get("data-part") == "disc"]
    hubs = {d.get("data-rotor"): (float(d.get("cx", "")), float(d.get("cy", ""))) for d in discs}
    for move in (one for one in view.iter() if one.get("data-part") == "move"):
        x, y = map(float, move.get("d", "").split()[-2:])
        nearest = min(hubs, key=lambda at: math.dist(hubs[at], (x, y)))
        assert nearest == move.get("data-to")
