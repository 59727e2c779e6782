"""The whole truth table of hands and views, against shapes in space."""

from itertools import product
from pathlib import Path

import numpy as np
import pytest
from making import earth, moments, vectors

from preflint.compute import handedness

TURNINGS = ("cw", "ccw")
WAYS = ("up", "down")
THREADS = ("right", "left")


@pytest.mark.parametrize("oracle", [vectors, moments, earth], ids=["vectors", "moments", "earth"])
def test_an_oracle_imports_nothing_of_ours(oracle):
    assert "preflint" not in Path(oracle.__file__).read_text(encoding="utf-8")


@pytest.mark.parametrize(("hand", "face"), list(product(TURNINGS, WAYS)))
def test_the_oracle_builds_the_prop_it_was_asked_for(hand, face):
    for blade in vectors.blades(hand, face):
        assert vectors.dome_points_up(blade) == (face == "up")
        eye = vectors.ABOVE if face == "up" else -vectors.ABOVE  # of somebody who looks at the domed side
        turning = vectors.turning(hand, eye, vectors.ORIGIN)
        position, leading, trailing, _ = blade
        assert np.cross(turning, position) @ (leading - trailing) > 0


@pytest.mark.parametrize(("spin", "hand", "face"), list(product(TURNINGS, TURNINGS, WAYS)))
def test_every_way_of_running_a_prop(spin, hand, face):
    states = {
        # (pushes up, leading edge first): what it is called
        (True, True): "flight",
        (False, True): "inverted-load",
        (True, False): "turned-over",
        (False, False): "wrong-hand",
    }
    for blade in vectors.blades(hand, face):
        up = vectors.air_goes(spin, blade) < 0
        first = vectors.edge_first(spin, blade)
        assert handedness.pushes_up(spin, hand) == up
        assert handedness.leading_edge_first(spin, hand, face) == first
        assert handedness.prop_state(spin, hand, face) == states[up, first]


def test_the_inverted_load_is_the_other_hand_turned_over():
    assert handedness.prop_state("cw", "cw", "up") == "flight"
    assert handedness.prop_state("cw", "ccw", "down") == "inverted-load"
    assert handedness.prop_state("cw", "cw", "down") == "turned-over"
    assert handedness.prop_state("cw", "ccw", "up") == "wrong-hand"


@pytest.mark.parametrize(("spin", "points"), list(product(TURNINGS, WAYS)))
def test_the_view_at_the_nut(spin, points):
    shaft = vectors.Shaft("right", points)
    turning = vectors.turning(spin, vectors.ABOVE, vectors.ORIGIN)
    assert handedness.spin_seen_at_nut(spin, points) == vectors.seen_as(turning, shaft.eye, vectors.ORIGIN)


@pytest.mark.parametrize(("spin", "points", "thread"), list(product(TURNINGS, WAYS, THREADS)))
def test_drag_tightens_the_nut_that_is_asked_for_and_undoes_the_other(spin, points, thread):
    shaft = vectors.Shaft(thread, points)
    turning = vectors.turning(spin, vectors.ABOVE, vectors.ORIGIN)
    stays_on = shaft.tightens(vectors.drag_torque(turning))
    tightens = handedness.tightens_from_thread(thread)
    assert tightens == shaft.tightening_word()
    assert (tightens == handedness.nut_must_tighten(spin, points)) == stays_on


@pytest.mark.parametrize(("turned", "points", "thread"), list(product(TURNINGS, WAYS, THREADS)))
def test_nut_test_by_either_hand_tells_the_same_nut(turned, points, thread):
    shaft = vectors.Shaft(thread, points)
    turning = vectors.turning(turned, shaft.eye, vectors.ORIGIN)
    for held, relative in (("motor", turning), ("nut", -turning)):
        ran = "runs-on" if shaft.tightens(relative) else "runs-off"
        given = {"nut_turned" if held == "motor" else "motor_turned": turned}
        assert handedness.tightens_from_nut_test(**given, ran=ran) == shaft.tightening_word()


@pytest.mark.parametrize(("spin", "points"), list(product(TURNINGS, WAYS)))
def test_a_nut_held_while_the_motor_turns_its_own_way_must_run_on(spin, points):
    # Common practice, no source.
    seen = handedness.spin_seen_at_nut(spin, points)
    must = handedness.nut_must_tighten(spin, points)
    assert handedness.tightens_from_nut_test(motor_turned=seen, ran="runs-on") == must
    assert handedness.tightens_from_nut_test(motor_turned=seen, ran="runs-off") != must


@pytest.mark.parametrize("given", [{}, {"motor_turned": "cw", "nut_turned": "cw"}])
def test_a_nut_test_needs_exactly_one_turning(given):
    with pytest.raises(ValueError, match="exactly one of motor_turned and nut_turned"):
        handedness.tightens_from_nut_test(**given, ran="runs-on")


@pytest.mark.parametrize(("spin", "points"), list(product(TURNINGS, WAYS)))
def test_a_bag_that_names_the_motor_holds_the_nut_for_that_motor(spin, points):
    seen = handedness.spin_seen_at_nut(spin, points)
    assert handedness.tightens_from_bag(seen, "motor") == handedness.nut_must_tighten(spin, points)
    assert handedness.tightens_from_bag(seen, "screwing") == seen


@pytest.mark.parametrize("thread", THREADS)
def test_thread_and_tightening_are_inverse(thread):
    assert handedness.thread_from_tightens(handedness.tightens_from_thread(thread)) == thread


@pytest.mark.parametrize("turning", TURNINGS)
def test_opposites_undo_themselves(turning):
    assert handedness.opposite(turning) != turning
    assert handedness.opposite(handedness.opposite(turning)) == turning
    axis = vectors.turning(turning, vectors.ABOVE, vectors.ORIGIN)
    seen = vectors.seen_as(axis, -vectors.ABOVE, vectors.ORIGIN)
    assert handedness.seen_from_other_side(turning) == seen


@pytest.mark.parametrize("spin", TURNINGS)
def test_the_air_turns_the_airframe_against_the_rotor(spin):
    drag = vectors.drag_torque(vectors.turning(spin, vectors.ABOVE, vectors.ORIGIN))
    forward, right = np.array([1.0, 0.0, 0.0]), np.array([0.0, -1.0, 0.0])  # seen from above, z up
    nose_goes_right = np.cross(drag, forward) @ right
    assert np.sign(nose_goes_right) == handedness.yaw_reaction_sign(spin)


@pytest.mark.parametrize(("designation", "left"), [
    # NAVEDTRA 14345, Machinery Repairman, thread designation page.
    ("1/4-20 UNC-3A-LH", True),
    ("1/4-20 UNC-3A", False),
    # GB/T 197 (as ISO 965-1) designation examples.
    ("M16x1LH-6G", True),
    ("M8 x 1 LH", True),
    ("M16x1-6G", False),
    # Common practice, no source.
    ("M6 LH", True),
    ("M6", False),
    ("M6 lh", True),
    ("M5x0.8", False),
    ("M6 RH", False),
    ("", False),
    ("Lhasa M6", False),
    ("M6 FLH", False),
])
def test_only_an_explicit_mark_says_left_hand(designation, left):
    assert handedness.designation_says_left_hand(designation) is left
