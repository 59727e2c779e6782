"""An aircraft whose layout is written out, turned by any angle, or has its compass readings turned with it."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from making import symmetry
from making.earth import directions

FILES, Mirrored, Turned, TurnedBack = symmetry.FILES, symmetry.Mirrored, symmetry.Turned, symmetry.TurnedBack
answers, figures, text_of, transformed = symmetry.answers, symmetry.figures, symmetry.text_of, symmetry.transformed

NAMED = ["curlew", "gannet", "heron", "pipit", "tern", "wheatear"]  # each named layout that the club flies


def same(text, kind):
    other, files, how = transformed(text, kind)
    assert answers(text, FILES, how.word) == answers(other, files)


def test_a_hexa_turned_back_to_front():
    same(symmetry.manifest("curlew"), TurnedBack)


def but_for_places(told):
    """All but the rule that looks at the written places themselves."""
    return told[0], [answer for answer in told[1] if answer[0] != "rotation/places"]


@pytest.mark.parametrize("name", NAMED)
def test_a_layout_written_out_place_by_place(name):
    aircraft = symmetry.document(name)
    named, written = text_of(aircraft), text_of(symmetry.as_custom(aircraft))
    assert but_for_places(answers(named)) == but_for_places(answers(written))
    before, after = figures(named), figures(written)
    assert before.keys() == after.keys()
    for key, (value, _) in before.items():
        assert after[key][0] == pytest.approx(value, rel=1e-6), key


@pytest.mark.parametrize("name", ["curlew", "tern"])
@pytest.mark.parametrize("kind", [Turned, TurnedBack])
def test_a_layout_written_out_and_turned(name, kind):
    # The names stay with their rotors; only the places, readings and movements turn.
    same(text_of(symmetry.as_custom(symmetry.document(name))), kind)


# One fault each in the coaxial aircraft; by steps into the manifest.
COAXIAL = {
    "nut of a lower rotor": ("rotors", 1, "fixing", "nut_tightens"),
    "nut of an upper rotor": ("rotors", 2, "fixing", "nut_tightens"),
    "hand of a lower prop": ("rotors", 3, "prop", "hand"),
    "face of a lower prop": ("rotors", 3, "prop", "face"),
    "spin of an upper rotor": ("rotors", 4, "spin"),
}
FLIPPED = {"cw": "ccw", "ccw": "cw", "up": "down", "down": "up"}


@pytest.mark.parametrize(
    ("name", "kinds"), [("gannet", (Mirrored, Turned)), ("tern", (Mirrored,)), ("turnstone", (Mirrored,))]
)
@pytest.mark.parametrize("fault", COAXIAL)
def test_a_fault_in_a_coaxial_aircraft(name, kinds, fault):
    aircraft = symmetry.document(name)
    node = aircraft
    for step in COAXIAL[fault][:-1]:
        node = node[step]
    key = COAXIAL[fault][-1]
    node[key] = FLIPPED[node[key]]
    wrong = text_of(aircraft)
    assert answers(wrong)[0] == "no-go"
    for kind in kinds:
        same(wrong, kind)


class TurnedBy:
    """Clockwise from above by any angle; places and readings turn, names and turnings stay."""

    keeps = frozenset[str]()

    def __init__(self, degrees):
        c, s = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
        self.matrix = ((c, -s, 0), (s, c, 0), (0, 0, 1))
        self.degrees = degrees

    def word(self, text):
        return text

    def heading(self, degrees):
        return round((float(degrees) - self.degrees) % 360, 6)


@settings(derandomize=True, deadline=None, max_examples=8)
@given(st.floats(0.5, 359.5), st.sampled_from(["avocet", "tern", "curlew"]))
def test_an_aircraft_turned_by_any_angle(degrees, name):
    aircraft = symmetry.document(name)
    if name != "avocet":
        aircraft = symmetry.as_custom(aircraft)
    # Tilts, sticks and positions at rest are of the four sides; they cannot be turned by less than a quarter.
    of_sides = ("tilt_test", "stick_check", "six_positions")
    aircraft["records"] = {kind: told for kind, told in aircraft["records"].items() if kind not in of_sides}
    same(text_of(aircraft), lambda _: TurnedBy(degrees))


@settings(derandomize=True, deadline=None, max_examples=8)
@given(st.floats(-720, 720), st.sampled_from([0.0, 8.0, 14.0, 90.0, -90.0, 180.0]))
def test_where_north_is_does_not_matter(degrees, wrong):
    # All headings read from another line on the map: the same errors, the same answer.
    def with_rows(turn):
        aircraft = symmetry.document("wheatear")
        rows = [[0, 1.2], [90, 91.5 + wrong], [180, 178.9 + wrong], [270, 268.8]]
        if abs(wrong) >= 90:
            rows = [[true, true + 1 + wrong] for true, _ in rows]
        aircraft["records"]["heading_check"][0]["rows"] = [
            [f"{(one + turn) % 360 % 360:.6f}" for one in row] for row in rows
        ]
        return answers(text_of(aircraft))

    assert with_rows(degrees) == with_rows(0.0)
    assert (with_rows(0.0)[0] == "go") is (abs(wrong) < 5)


IRON = {
    "none": ([0.0, 0.0, 0.0], np.eye(3)),
    "hard": ([9.0, -4.0, 2.0], np.eye(3)),
    "soft": ([0.0, 0.0, 0.0], np.array([[1.3, 0.1, 0], [0.1, 0.9, 0.05], [0, 0.05, 1.0]])),
    "both": ([-3.0, 8.0, 14.0], np.array([[1.1, -0.05, 0.02], [-0.05, 1.0, 0], [0.02, 0, 0.95]])),
}


def with_rotation(iron, field_is="raw", corrected=True):
    """The aircraft that has everything, with the compass turned about through all attitudes."""
    centre, shape = IRON[iron]
    aircraft = symmetry.document("wheatear")
    rng = np.random.default_rng(5)
    rows = 49.8 * directions(24) @ shape + centre + rng.normal(0, 0.1, (24, 3))
    set_then = {"hard_iron_ut": [4.1, -12.0, 7.7], "soft_iron": [[1.02, 0.01, 0], [0.01, 0.99, -0.01], [0, -0.01, 1.0]]}
    set_then = {
        key: [[f"{v}" for v in one] if isinstance(one, list) else f"{one}" for one in value]
        for key, value in set_then.items()
    }
    aircraft["records"]["compass_rotation"] = [
        {
            "date": "2026-05-16 15:00",
            "field_is": field_is,
            "in_force": set_then,
            "columns": [f"field_{axis}_ut" for axis in "xyz"],
            "rows": [[f"{v:.4f}" for v in row] for row in rows],
        }
    ]
    if corrected:
        aircraft["compass"] |= set_then
    return text_of(aircraft)


@pytest.mark.parametrize("kind", [Mirrored, Turned])
@pytest.mark.parametrize(("iron", "field_is"), [*((iron, "raw") for iron in IRON), ("both", "compensated")])
def test_a_compass_turned_about(iron, field_is, kind):
    same(with_rotation(iron, field_is), kind)


def test_the_compass_turned_about_is_judged_at_all():
    told = {iron: answers(with_rotation(iron)) for iron in IRON}
    assert len({str(answer) for answer in told.values()}) > 1
