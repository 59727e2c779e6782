"""Circles, spheres and ellipsoids against published fits, a second implementation and known shapes."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from making.earth import directions
from scipy import optimize

from preflint.compute.ellipsoid import fit_ellipsoid, fit_sphere, soft_iron_heading_error_deg
from preflint.compute.least_squares import Indeterminate


def turned(seed):
    return np.linalg.qr(np.random.default_rng(seed).normal(size=(3, 3)))[0]


def test_gander_golub_strebel_circle():
    # W. Gander, G. H. Golub, R. Strebel, BIT 34 (1994) 558-578, circle data: geometric fit (4.7398, 2.9835),
    # r 4.7142, sum of squares 1.2276 (from memory, confirmed by computation elsewhere).
    fit = fit_sphere([(1, 7), (2, 6), (5, 8), (7, 7), (9, 5), (3, 7)])
    assert fit.centre == pytest.approx([4.7398, 2.9835], abs=5e-5)
    assert fit.radius == pytest.approx(4.7142, abs=5e-5)
    assert fit.residual_sd**2 * fit.dof == pytest.approx(1.2276, abs=5e-5)
    assert fit.dof == 3


def test_noisy_sphere():
    # numpy linear fit of 60 Fibonacci points, r 48.3, sigma 0.2, seed 20240101, to which the geometric fit
    # comes within 1e-3: centre (12.498509, -7.170862, 30.004998), r 48.307491.
    rng = np.random.default_rng(20240101)
    points = 48.3 * directions(60) + np.array([12.5, -7.25, 30.0]) + rng.normal(0, 0.2, (60, 3))
    design = np.column_stack([2 * points, np.ones(60)])
    linear = np.linalg.lstsq(design, np.sum(points**2, axis=1), rcond=None)[0]
    fit = fit_sphere(points)
    assert fit.centre == pytest.approx(linear[:3], abs=1e-3)
    assert fit.radius == pytest.approx(np.sqrt(linear[3] + linear[:3] @ linear[:3]), abs=1e-3)
    assert fit.residual_sd == pytest.approx(0.2, rel=0.2)


@pytest.mark.parametrize("seed", range(5))
def test_a_known_ellipsoid(seed):
    # Fibonacci points on half-axes 40, 48 and 55 about (12.5, -7.25, 30), turned any way: no library needed.
    points = directions(60) @ np.diag([40.0, 48.0, 55.0]) @ turned(seed).T + np.array([12.5, -7.25, 30.0])
    fit = fit_ellipsoid(points)
    assert fit.centre == pytest.approx([12.5, -7.25, 30.0], abs=1e-11)
    assert fit.semi_axes == pytest.approx([55, 48, 40], abs=1e-11)
    assert np.ptp(np.linalg.norm(fit.corrected(points), axis=1)) < 1e-11
    assert fit.residual_sd < 1e-11


def test_the_geometric_circle_by_a_direct_search():
    # The published geometric fit once more, by scipy from the published algebraic one (5.3794, 7.2532), r 3.0370:
    # a fit of the squares is another circle.
    points = np.array([(1, 7), (2, 6), (5, 8), (7, 7), (9, 5), (3, 7)], dtype=float)
    found = optimize.least_squares(
        lambda p: np.linalg.norm(points - p[:2], axis=1) - p[2], [5.3794, 7.2532, 3.0370], xtol=1e-15, ftol=1e-15
    )
    fit = fit_sphere(points)
    assert [*fit.centre, fit.radius] == pytest.approx(found.x, abs=1e-6)
    covariance = np.linalg.inv(found.jac.T @ found.jac) * 2 * found.cost / 3
    assert fit.covariance == pytest.approx(covariance, rel=1e-4)


@settings(derandomize=True, deadline=None, max_examples=25)
@given(st.integers(0, 999), st.floats(0.01, 100), st.tuples(*[st.floats(-200, 200)] * 3))
def test_a_fit_turns_shifts_and_scales_with_its_points(seed, scale, shift):
    rng = np.random.default_rng(seed)
    points = directions(50) * [44.0, 47.0, 52.0] + rng.normal(0, 0.3, (50, 3))
    turn = turned(seed + 1)
    one, other = fit_ellipsoid(points), fit_ellipsoid(scale * points @ turn.T + np.array(shift))
    assert other.centre == pytest.approx(scale * turn @ one.centre + np.array(shift), abs=1e-6 * (1 + scale))
    assert other.semi_axes == pytest.approx(scale * one.semi_axes, rel=1e-6)
    assert other.axis_ratio == pytest.approx(one.axis_ratio, rel=1e-6)
    assert (other.u_radius, other.residual_sd) == pytest.approx(
        (scale * one.u_radius, scale * one.residual_sd), rel=1e-5
    )
    assert other.u_axis_ratio == pytest.approx(one.u_axis_ratio, rel=1e-5)
    assert scale**2 * turn @ one.covariance[:3, :3] @ turn.T == pytest.approx(
        other.covariance[:3, :3], rel=1e-4, abs=1e-9 * scale**2
    )


def test_scipy_finds_the_same_least_sum():
    # scipy.optimize.least_squares, a second implementation, with a numerical derivative.
    rng = np.random.default_rng(4)
    axes = turned(9) @ np.diag([42, 47, 51]) @ turned(9).T
    points = directions(80) @ axes + [5, 9, -30] + rng.normal(0, 0.3, (80, 3))
    fit = fit_ellipsoid(points)

    def residuals(p):
        shape = np.array([[p[3], p[6], p[7]], [p[6], p[4], p[8]], [p[7], p[8], p[5]]])
        away = points - p[:3]
        lengths = np.linalg.norm(away @ shape, axis=1)
        return (lengths - 1) * lengths / np.linalg.norm(away @ shape @ shape, axis=1)

    start = [0, 0, 0, 1 / 45, 1 / 45, 1 / 45, 0, 0, 0]
    other = optimize.least_squares(residuals, start, x_scale="jac", xtol=1e-15, ftol=1e-15, gtol=1e-15)
    assert fit.centre == pytest.approx(other.x[:3], abs=1e-5)
    upper = [fit.shape[i, j] for i, j in ((0, 0), (1, 1), (2, 2), (0, 1), (0, 2), (1, 2))]
    assert upper == pytest.approx(other.x[3:], abs=1e-8)
    covariance = np.linalg.inv(other.jac.T @ other.jac) * 2 * other.cost / (80 - 9)
    assert fit.covariance == pytest.approx(covariance, rel=1e-3, abs=1e-4 * covariance[0, 0])


@settings(derandomize=True, deadline=None, max_examples=30)
@given(
    st.tuples(st.floats(20, 60), st.floats(20, 60), st.floats(20, 60)),
    st.tuples(st.floats(-80, 80), st.floats(-80, 80), st.floats(-80, 80)), st.integers(0, 999),
)
def test_exact_points_give_back_their_ellipsoid(axes, centre, seed):
    points = directions(40) @ np.diag(axes) @ turned(seed).T + np.array(centre)
    fit = fit_ellipsoid(points)
    assert fit.centre == pytest.approx(centre, abs=1e-8)
    assert fit.semi_axes == pytest.approx(sorted(axes, reverse=True), rel=1e-9)
    assert fit.radius == pytest.approx(np.prod(axes) ** (1 / 3), rel=1e-9)
    assert fit.axis_ratio == pytest.approx(max(axes) / min(axes), rel=1e-9)
    assert np.linalg.norm(fit.corrected(points), axis=1) == pytest.approx([fit.radius] * 40, rel=1e-9)


@pytest.mark.parametrize("axes", [(44.0, 47.0, 50.0), (47.0, 50.0, 44.0)])
@pytest.mark.parametrize("least_z", [-1.0, 0.0, 0.3])  # all round, the upper half only, and less
def test_the_covariance_is_the_spread_of_many_fits(least_z, axes):
    rng = np.random.default_rng(6)
    ways = directions(120)
    ways = ways[ways[:, 2] >= least_z]
    clean = ways @ np.diag(axes) + np.array([3.0, 4.0, 5.0])
    fits = [fit_ellipsoid(clean + rng.normal(0, 0.2, clean.shape)) for _ in range(300)]
    for seen, claimed in (
        (np.array([fit.centre for fit in fits]), [np.sqrt(np.diag(fit.covariance)[:3]) for fit in fits]),
        ([fit.axis_ratio for fit in fits], [fit.u_axis_ratio for fit in fits]),
        ([fit.radius for fit in fits], [fit.u_radius for fit in fits]),
    ):
        assert np.mean(claimed, axis=0) == pytest.approx(np.std(seen, axis=0), rel=0.2)


@pytest.mark.parametrize("noise", [0.1, 0.5])
def test_many_readings_of_one_side_do_not_pull_the_centre(noise):
    # A sum over shares of the radius is less for a larger ellipsoid: it puts this centre 400 away at a noise of 0.5.
    rng = np.random.default_rng(8)
    ways = directions(6000)
    clean = 50 * ways[ways[:, 2] > 0.4]
    fits = [fit_ellipsoid(clean + rng.normal(0, noise, clean.shape)) for _ in range(20)]
    away = np.mean([fit.centre for fit in fits], axis=0)
    assert np.all(np.abs(away) < np.sqrt(np.diag(fits[0].covariance)[:3]))


def test_a_flat_turn_is_no_ellipsoid_whatever_the_noise():
    # Only noise would tell how readings of a level turn are curved across it: a pancake about them, or a tower.
    around = np.linspace(0, 2 * np.pi, 200)
    circle = np.column_stack([18 * np.cos(around), 18 * np.sin(around), np.full(200, 46.0)])
    for seed in range(20):
        for noise in (0.02, 0.1, 0.3):
            with pytest.raises(Indeterminate, match="cover too little"):
                fit_ellipsoid(circle + np.random.default_rng(seed).normal(0, noise, circle.shape))


def test_half_covered_readings_leave_the_vertical_centre_unsure():
    rng = np.random.default_rng(2)
    ways = directions(200)
    u_centre = []
    for least_z in (-1.0, 0.0, 0.7):
        points = 48 * ways[ways[:, 2] >= least_z]
        fit = fit_sphere(points + rng.normal(0, 0.2, points.shape))
        u_centre.append(np.sqrt(fit.covariance[2, 2]))
    assert u_centre[1] > 2 * u_centre[0]
    assert u_centre[2] > 5 * u_centre[1]


@pytest.mark.parametrize(("ratio", "degrees"), [(1.0, 0.0), (1.1, 2.7293), (3.0, 30.0)])
def test_soft_iron_heading_error(ratio, degrees):
    # By search over all headings: an ellipse r : 1 turns a heading by at most asin((r - 1)/(r + 1)).
    heading = np.radians(np.linspace(0, 90, 90001))
    seen = np.arctan2(np.sin(heading), ratio * np.cos(heading))
    assert np.degrees(np.abs(seen - heading)).max() == pytest.approx(degrees, abs=1e-3)
    assert soft_iron_heading_error_deg(ratio) == pytest.approx(degrees, abs=1e-3)


@pytest.mark.parametrize(("call", "error", "says"), [
    (lambda: fit_sphere(directions(4)), Indeterminate, "too few"),
    (lambda: fit_sphere(np.c_[directions(20)[:, :2], np.ones(20)]), Indeterminate, "one plane"),
    (lambda: fit_sphere(np.ones((9, 3))), Indeterminate, "all points are the same"),
    (lambda: fit_sphere(np.empty((0, 3))), Indeterminate, "no points"),
    (lambda: fit_sphere([(1, 2, np.nan)] * 9), ValueError, "finite numbers"),
    (lambda: fit_sphere([1, 2, 3]), ValueError, "rows of 2 or 3"),
    (lambda: fit_ellipsoid(directions(9)), Indeterminate, "too few"),
    (lambda: fit_ellipsoid(directions(20)[:, :2]), ValueError, "rows of 3"),
    (lambda: fit_ellipsoid(directions(20) * [1, 1, 0] + [0, 0, 4]), Indeterminate, "do not determine"),
    (lambda: soft_iron_heading_error_deg(0.9), ValueError, "not shorter"),
])
def test_what_cannot_be_fitted_is_refused(call, error, says):
    with pytest.raises(error, match=says):
        call()
