"""Published clauses on thread hand and on compasses, as cases for the code that rests on them."""

import pytest

from preflint.compute.handedness import nut_must_tighten, spin_seen_at_nut, tightens_from_thread
from preflint.engine.pack import builtin_and

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
