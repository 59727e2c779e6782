"""The error of a compass on every heading, against closed forms and a single vector worked by hand."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.spatial.transform import Rotation

from preflint.compute.deviation import deviations
from preflint.compute.ellipsoid import soft_iron_heading_error_deg
from preflint.compute.geomagnetism import heading_error_deg

EVERY = np.arange(0, 360, 0.5)
part = st.floats(-8, 8)


@pytest.mark.parametrize(("heading", "disturbance", "error"), [
    # Nose north, 20 µT ahead; 20·tan 10° µT to the right: the field seems to come from the right, so the nose
    # seems to point left of north.
    (0, (0, 20 * math.tan(math.radians(10)), 0), -10),
    (0, (0, -20 * math.tan(math.radians(10)), 0), 10),
    (0, (5, 0, 9), 0),
    # Nose east: the field comes from the left, so what is added ahead turns it toward the nose.
    (90, (20 * math.tan(math.radians(10)), 0, 0), -10),
    (180, (0, 20 * math.tan(math.radians(10)), 0), 10),
    (270, (20 * math.tan(math.radians(10)), 0, 0), 10),
    (-90, (20 * math.tan(math.radians(10)), 0, 0), 10),
    (45, (0, 0, 30), 0),
    (0, (-40, 0, 0), 180),
])
def test_by_hand(heading, disturbance, error):
    found = deviations([heading], 20, 45, disturbance_ut=disturbance)
    assert found.error_deg.shape == (1, 1)
    assert found.error_deg[0, 0] == pytest.approx(error, abs=1e-9)


@settings(derandomize=True, deadline=None)
@given(st.tuples(part, part, part), st.sampled_from([0.0, 10.0, 25.0, 90.0]))
def test_the_worst_heading_is_that_of_the_arcsine(disturbance, tilt):
    found = deviations(EVERY, 20, 45, disturbance_ut=disturbance, tilt_deg=tilt)
    assert found.worst_deg == pytest.approx(heading_error_deg(disturbance, 20, tilt), abs=0.15)


@settings(derandomize=True, deadline=None)
@given(st.floats(1, 3), st.floats(0, 180))
def test_the_worst_of_an_ellipse_is_that_of_its_ratio(ratio, turned):
    a = math.radians(turned)
    turn = np.array([[math.cos(a), -math.sin(a), 0], [math.sin(a), math.cos(a), 0], [0, 0, 1]])
    found = deviations(EVERY, 20, 45, matrix=turn @ np.diag([ratio, 1, 1]) @ turn.T)
    assert found.worst_deg == pytest.approx(soft_iron_heading_error_deg(ratio), abs=0.01)


@pytest.mark.parametrize("tilt", [0.0, 25.0])
def test_a_compass_without_error_shows_none_in_any_attitude(tilt):
    found = deviations(EVERY, 20, 45, tilt_deg=tilt)
    assert found.worst_deg == pytest.approx(0, abs=1e-9)
    assert found.least_shown_ut == pytest.approx(20)


def test_each_heading_may_have_its_own_field():
    found = deviations([0, 0], [20, 40], 45, disturbance_ut=(0, -20, 0))
    assert found.error_deg[:, 0] == pytest.approx([45, math.degrees(math.atan(0.5))])


def test_several_tilted_compasses_against_vectors_turned_one_by_one():
    """By scipy's Rotation: north to the nose, into the leaning aircraft, through the compass, and levelled again."""
    rng, headings, north = np.random.default_rng(4), (10, 130, 275), (18, 20, 22)
    matrices, fixed = np.eye(3) + rng.normal(0, 0.2, (2, 3, 3)), rng.normal(0, 5, (2, 3))
    found = deviations(headings, north, 44, disturbance_ut=fixed, matrix=matrices, tilt_deg=25)
    assert found.error_deg.shape == found.shown_ut.shape == (2, 3, 36)
    for compass, i, way in np.ndindex(2, 3, 36):
        level = Rotation.from_euler("z", -headings[i], degrees=True).apply([north[i], 0, 44])
        towards = math.radians(10 * way)
        lean = Rotation.from_rotvec(math.radians(25) * np.array([-math.sin(towards), math.cos(towards), 0]))
        forward, right, _ = lean.inv().apply(matrices[compass] @ lean.apply(level) + fixed[compass])
        error = math.degrees(math.atan2(-right, forward)) - headings[i]
        assert found.error_deg[compass, i, way] == pytest.approx((error + 180) % 360 - 180)
        assert found.shown_ut[compass, i, way] == pytest.approx(math.hypot(forward, right))


@pytest.mark.parametrize(("call", "says"), [
    (lambda: deviations([], 20, 45), "headings"),
    (lambda: deviations([0], 20, 45, disturbance_ut=(1, 2)), "disturbance"),
    (lambda: deviations([0], 20, 45, matrix=np.eye(2)), "matrices"),
    (lambda: deviations([0], 0, 45), "above zero"),
    (lambda: deviations([0, 90], [20, 20, 20], 45), "one for each heading"),
    (lambda: deviations([0, 90], [[20], [20]], 45), "one for each heading"),
    (lambda: deviations([math.nan], 20, 45), "finite"),
    (lambda: deviations([0], math.inf, 45), "finite"),
    (lambda: deviations([0, math.nan], 20, 45), "finite"),
    (lambda: deviations([0], 20, 45, disturbance_ut=(0, math.inf, 0)), "finite"),
])
def test_what_is_no_field_is_refused(call, says):
    with pytest.raises(ValueError, match=says):
        call()
