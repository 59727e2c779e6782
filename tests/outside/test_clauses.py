"""Published clauses on thread hand and on compasses, as cases for the code that rests on them."""

import itertools

import numpy as np
import pytest

from preflint.compute.handedness import (
    designation_says_left_hand,
    leading_edge_first,
    nut_must_tighten,
    opposite,
    pushes_up,
    spin_seen_at_nut,
    tightens_from_nut_test,
    tightens_from_thread,
    yaw_reaction_sign,
)
from preflint.engine.rule_module import builtin_and

TURNS_BACK = {"cw": "ccw", "ccw": "cw"}


@pytest.mark.parametrize("shaft_at_nut", ["cw", "ccw"])
def test_a_spindle_nut_tightens_against_the_spindle(shaft_at_nut: str) -> None:
    # Michigan Administrative Code R 408.10115(1), machine spindles of abrasive wheels: the thread is of such a
    # direction, opposite to the spindle's rotation, that the nut tightens as the spindle revolves.
    assert nut_must_tighten(shaft_at_nut, "up") == TURNS_BACK[shaft_at_nut]  # type: ignore[arg-type]


def test_the_two_ends_of_a_bench_grinder() -> None:
    # Machinery's Handbook, 25th ed. (1996), pp. 1105-1109, as cited in Wikipedia, "Bench grinder": seen from the
    # operator the left end has a left-hand nut, the right end a right-hand one. The front of the wheels moves down,
    # so that looking at the nut of the right end the shaft turns counter-clockwise, at the left end clockwise.
    assert nut_must_tighten("ccw", "up") == tightens_from_thread("right")
    assert nut_must_tighten("cw", "up") == tightens_from_thread("left")


@pytest.mark.parametrize("shaft_at_nut", ["cw", "ccw"])
def test_a_threaded_wheel_comes_off_the_way_it_turns_in_use(shaft_at_nut: str) -> None:
    # R 408.10115(5)(a): to remove a wheel with a threaded hole, turn it in the direction it turns in use. The same is
    # said of a grinder's nut (Machinery's Handbook, as above).
    comes_off = opposite(nut_must_tighten(shaft_at_nut, "up"))  # type: ignore[arg-type]
    assert comes_off == shaft_at_nut
    ran = tightens_from_nut_test(nut_turned=shaft_at_nut, ran="runs-off")  # type: ignore[arg-type]
    assert ran == nut_must_tighten(shaft_at_nut, "up")  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("designation", "left"),
    # ASME B1.1 as stated in NAVEDTRA 14345, Machinery Repairman (1/4-20 UNC-3A-LH; right-hand is never written);
    # ISO 965-1 as in GB/T 197 primers (M16x1LH-6G, M8 x 1 LH).
    [
        ("1/4-20 UNC-3A-LH", True),
        ("M16x1LH-6G", True),
        ("M8 x 1 LH", True),
        ("1/4-20 UNC-3A", False),
        ("M16x1-6G", False),
        ("M8 x 1", False),
    ],
)
def test_thread_designations(designation: str, left: bool) -> None:
    assert designation_says_left_hand(designation) is left


def test_body_axes_and_the_reaction_of_the_air() -> None:
    # ISO 1151-1: forward, right, down make a right-handed system, so about the down axis a turn from forward to
    # right (the nose goes right) is positive, and seen from above it is clockwise. A rotor that turns clockwise
    # throws the air round clockwise and is itself held back: the airframe turns counter-clockwise, nose left.
    forward, right, down = np.eye(3)
    assert np.array_equal(np.cross(forward, right), down)
    assert yaw_reaction_sign("cw") == -1
    assert yaw_reaction_sign("ccw") == 1


def test_a_screw_has_one_hand_from_either_end() -> None:
    # Geometry: a helix turned end for end is the same helix. So a prop turned over pushes the same way for the same
    # spin, but its trailing edge leads.
    for spin, hand in itertools.product(TURNS_BACK, TURNS_BACK):
        lifts = pushes_up(spin, hand)  # type: ignore[arg-type]
        assert lifts == (spin == hand)
        assert leading_edge_first(spin, hand, "up") == lifts  # type: ignore[arg-type]
        assert leading_edge_first(spin, hand, "down") != lifts  # type: ignore[arg-type]


def test_a_nut_that_points_down_is_seen_from_the_other_side() -> None:
    # The same shaft, named from above: the clause speaks of what is seen looking at the nut.
    assert spin_seen_at_nut("cw", "down") == "ccw"
    assert nut_must_tighten("cw", "down") == "cw"


def test_compass_limits_are_the_published_ones() -> None:
    # 14 CFR 27.1327(a)(2) (and 25.1327(b), 29.1327(b), former 23.1327(a)(2)): the deviation of the compensated
    # installation may not exceed 10 degrees on any heading in level flight.
    tolerances = builtin_and(()).tolerances
    limits = [t for t in tolerances.values() if "27.1327" in t.origin and t.unit == "deg"]
    assert limits
    assert {t.default for t in limits} == {10.0}
    assert {t.stricter for t in limits} == {"lower"}
