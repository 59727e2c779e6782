"""Lines against exact fractions, their limits, and what they refuse."""

import math
from fractions import Fraction

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy import stats

from preflint.compute.decision import expanded_radius_3d, t_factor
from preflint.compute.least_squares import Indeterminate
from preflint.compute.regression import line, line_through_origin, line_with_intercept_prior, vector_line
from preflint.compute.york import Rows, york

readings = st.lists(st.tuples(st.integers(-1000, 1000), st.integers(-1000, 1000)), min_size=3, max_size=12)


def exact_line(xs, ys, weights):
    """Intercept, slope and inverse normal matrix in exact fractions, and the weighted residual sum."""
    s = sum(weights)
    sx = sum(w * x for w, x in zip(weights, xs, strict=True))
    sxx = sum(w * x * x for w, x in zip(weights, xs, strict=True))
    sy = sum(w * y for w, y in zip(weights, ys, strict=True))
    sxy = sum(w * x * y for w, x, y in zip(weights, xs, ys, strict=True))
    det = s * sxx - sx * sx
    slope, intercept = (s * sxy - sx * sy) / det, (sxx * sy - sx * sxy) / det
    residual = sum(w * (y - intercept - slope * x) ** 2 for w, x, y in zip(weights, xs, ys, strict=True))
    return intercept, slope, (sxx / det, -sx / det, s / det), residual


@settings(derandomize=True, deadline=None)
@given(readings, st.sampled_from([0, 10**6, -(10**9)]))
def test_line_against_exact_fractions_far_from_zero(rows, shift):
    xs = [Fraction(x + shift) for x, _ in rows]
    ys = [Fraction(y) for _, y in rows]
    assume(len(set(xs)) > 1)
    intercept, slope, inverse, residual = exact_line(xs, ys, [Fraction(1)] * len(xs))
    fit = line([float(x) for x in xs], [float(y) for y in ys])
    assert fit.slope == pytest.approx(float(slope), rel=1e-9, abs=1e-9)
    assert fit.intercept == pytest.approx(float(intercept), rel=1e-9, abs=1e-9 * (1 + abs(shift)))
    assert fit.chi_square == pytest.approx(float(residual), rel=1e-9, abs=1e-6)
    scatter = float(residual) / (len(xs) - 2)
    for ours, exact in zip((fit.variance_intercept, fit.covariance, fit.variance_slope), inverse, strict=True):
        assert ours == pytest.approx(scatter * float(exact), rel=1e-6, abs=1e-9)


@settings(derandomize=True, deadline=None)
@given(readings, st.data())
def test_weighted_line_against_exact_fractions(rows, data):
    xs, ys = [x for x, _ in rows], [y for _, y in rows]
    assume(len(set(xs)) > 1)
    u = [data.draw(st.sampled_from([Fraction(1, 4), Fraction(1), Fraction(3)])) for _ in rows]
    intercept, slope, inverse, residual = exact_line(xs, ys, [1 / one**2 for one in u])
    fit = line(xs, ys, [float(one) for one in u])
    assert fit.slope == pytest.approx(float(slope), rel=1e-9, abs=1e-9)
    assert fit.intercept == pytest.approx(float(intercept), rel=1e-9, abs=1e-7)
    assert fit.chi_square == pytest.approx(float(residual), rel=1e-9, abs=1e-6)
    # The covariance is what the uncertainties imply, whatever the scatter.
    ours = (fit.variance_intercept, fit.covariance, fit.variance_slope)
    assert ours == pytest.approx(tuple(float(one) for one in inverse), rel=1e-9, abs=1e-12)


@settings(derandomize=True, deadline=None)
@given(readings, st.integers(1, 50))
def test_prior_against_exact_fractions(rows, prior):
    xs, ys = [x for x, _ in rows], [y for _, y in rows]
    assume(any(xs))
    u_y = Fraction(1, 2)
    # The prior is a reading of zero at x = 0.
    intercept, slope, inverse, residual = exact_line(
        [0, *xs], [0, *ys], [1 / Fraction(prior) ** 2, *[1 / u_y**2] * len(xs)]
    )
    fit = line_with_intercept_prior(xs, ys, float(u_y), float(prior))
    assert fit.slope == pytest.approx(float(slope), rel=1e-8, abs=1e-8)
    assert fit.intercept == pytest.approx(float(intercept), rel=1e-8, abs=1e-6)
    assert fit.chi_square == pytest.approx(float(residual), rel=1e-8, abs=1e-6)
    ours = (fit.variance_intercept, fit.covariance, fit.variance_slope)
    assert ours == pytest.approx(tuple(float(one) for one in inverse), rel=1e-7, abs=1e-12)
    assert fit.dof == len(xs) - 1


X, Y = [2.0, 5.0, 9.0, 14.0], [2.2, 4.9, 9.3, 13.9]


def test_a_narrow_prior_pins_the_line_and_a_wide_one_lets_go():
    pinned, free = line_through_origin(X, Y, 0.1), line(X, Y, 0.1)
    narrow, wide = line_with_intercept_prior(X, Y, 0.1, 1e-7), line_with_intercept_prior(X, Y, 0.1, 1e7)
    assert (narrow.slope, narrow.u_slope) == pytest.approx((pinned.slope, pinned.u_slope), rel=1e-9)
    assert (wide.slope, wide.u_slope) == pytest.approx((free.slope, free.u_slope), rel=1e-9)
    assert narrow.intercept == pytest.approx(0, abs=1e-9)
    assert wide.intercept == pytest.approx(free.intercept, rel=1e-9)


def test_one_row_and_a_prior_give_a_slope():
    # y / x, with the uncertainties of y and of the intercept side by side: sqrt(0.3² + 0.4²) / 10.
    fit = line_with_intercept_prior([10.0], [10.2], 0.3, 0.4)
    assert (fit.slope, fit.u_slope, fit.dof) == (pytest.approx(1.02), pytest.approx(0.05), 0)
    assert fit.residual_sd is None


def fitted(x, y, u_x, u_y, u_zero):
    """As the fit of many comparisons has it."""
    return york(Rows.of(np.array(x, dtype=float), np.array(y, dtype=float)), u_x, u_y, u_zero)


def test_york_without_error_in_x_is_the_line_with_a_prior():
    both, plain = fitted(X, Y, 0, 0.2, 0.7), line_with_intercept_prior(X, Y, 0.2, 0.7)
    assert (both.zero, both.slope) == pytest.approx((plain.intercept, plain.slope), rel=1e-12)
    ours = (both.variance_zero, both.covariance, both.variance_slope)
    assert ours == pytest.approx((plain.variance_intercept, plain.covariance, plain.variance_slope), rel=1e-12)


def test_york_with_swapped_axes_is_the_inverse_line():
    # The zero is known by next to nothing, which is the same on either axis.
    there, back = fitted(X, Y, 0.1, 0.3, 1e9), fitted(Y, X, 0.3, 0.1, 1e9)
    assert back.slope == pytest.approx(1 / there.slope, rel=1e-12)
    assert back.zero == pytest.approx(-there.zero / there.slope, rel=1e-9)
    assert back.variance_slope == pytest.approx(there.variance_slope / there.slope**4, rel=1e-9)


def test_york_settles_on_a_level_line():
    level = fitted([1, 2, 3, 4], [5, 5, 5, 5], 0.1, 0.1, 1e9)
    assert (level.slope, level.zero) == (pytest.approx(0, abs=1e-12), pytest.approx(5, rel=1e-12))
    nearly = fitted([1, 2, 3, 4], [5.1, 4.9, 4.9, 5.1], 0.1, 0.1, 1e9)
    assert nearly.slope == pytest.approx(0, abs=1e-12)


def test_prediction_is_surest_in_the_middle_of_the_rows():
    fit = line(X, Y)
    at = np.linspace(-20, 40, 601)
    surest = at[np.argmin([fit.predict(x)[1] for x in at])]
    assert surest == pytest.approx(np.mean(X), abs=0.06)
    assert fit.predict(0.0) == (pytest.approx(fit.intercept), pytest.approx(fit.u_intercept))


def test_r_squared_is_that_of_any_unit():
    x, y = [1.0, 2.0, 3.0, 4.0], np.array([1.0, 2.5, 2.5, 4.0])  # slope 0.9: 1 - 0.45/4.5, worked by hand
    assert [line(x, y * unit).r_squared for unit in (1e-3, 1.0, 1e3)] == pytest.approx([0.9] * 3, rel=1e-9)


def test_a_line_without_spread_in_y_claims_no_r_squared():
    fit = line([1, 2, 3], [5, 5, 5])
    assert (fit.slope, fit.r_squared, fit.f) == (0, None, None)


@pytest.mark.parametrize(("fit", "says"), [
    (lambda: line([24.0, 24.0, 24.0], [1, 2, 3]), "all x are equal"),
    (lambda: line([24.1, 24.1, 24.1], [1, 2, 3], 0.1), "all x are equal"),
    (lambda: line([5.0], [1.0], 0.1), "all x are equal"),
    (lambda: line([1, 2], [1, 2]), "no row is left to tell the scatter"),
    (lambda: line_through_origin([1], [1]), "no row is left to tell the scatter"),
    (lambda: line_through_origin([0, 0], [1, 2]), "every x is zero"),
    (lambda: line_with_intercept_prior([0, 0], [1, 2], 1, 1), "every x is zero"),
    (lambda: fitted([0, 0], [1, 2], 1, 1, 1), "do not tell a slope"),
    (lambda: fitted([1, 2], [1, 2], 1, 0, 1), "do not tell a slope"),
    (lambda: fitted([1, 2], [1, 2], 1, 1, 0), "do not tell a slope"),
    (lambda: vector_line([4, 4, 4], np.ones((3, 3))), "all currents are equal"),
    (lambda: vector_line([1, 2], np.ones((2, 3))), "no row is left to tell the scatter"),
    (lambda: vector_line([0, 1, 2], np.ones((3, 3)), time=[5, 6, 7]), "only ever grows with time"),
])
def test_what_rows_cannot_tell_is_said(fit, says):
    with pytest.raises(Indeterminate, match=says):
        fit()


@pytest.mark.parametrize(("fit", "says"), [
    (lambda: line([], []), "at least one"),
    (lambda: line([1, 2, 3], [1, 2]), "equally many"),
    (lambda: line([1, 2, math.nan], [1, 2, 3]), "finite numbers"),
    (lambda: line([1, 2, 3], [1, 2, math.inf]), "finite numbers"),
    (lambda: line([1, 2, 3], [1, 2, 3], 0), "above zero"),
    (lambda: line([1, 2, 3], [1, 2, 3], [1, 1, math.nan]), "above zero"),
    (lambda: line([1e200, 2e200, 3e200], [1, 2, 3]), "too large"),
    (lambda: line_with_intercept_prior([1], [1], 1, 0), "uncertainty above zero"),
    (lambda: line_with_intercept_prior([1], [1], 1, math.inf), "uncertainty above zero"),
    (lambda: fitted([1, 2], [1, 2], -1, 1, 1), "finite, and zero or more"),
    (lambda: fitted([1, 2], [1, 2], math.inf, 1, 1), "finite, and zero or more"),
    (lambda: fitted([1, 2], [1, 2], 1, math.inf, 1), "finite, and zero or more"),
    (lambda: fitted([1, 2], [1, 2], 1, 1, math.nan), "finite, and zero or more"),
    (lambda: vector_line([1, 2, 3], np.ones((3, 2))), "shape \\(n, 3\\)"),
    (lambda: vector_line([1, 2, 3], np.ones((3, 3)), time=[1, 2]), "equally many"),
    (lambda: vector_line([1, 2, 3], np.ones((3, 3)), u_field=np.zeros((3, 3))), "above zero"),
    (lambda: vector_line([1, 2, 3], np.ones((3, 3)), u_field=np.ones(3)), "shape of the field"),
    (lambda: vector_line([1, 2, math.nan], np.ones((3, 3))), "must be finite"),
])
def test_nonsense_is_refused(fit, says):
    with pytest.raises(ValueError, match=says):
        fit()


SLOPE, AT_ZERO, DRIFT = (np.array([0.11, -0.23, 0.05]), np.array([18.0, -4.0, 44.0]), np.array([2e-3, 0, -1e-3]))
AMPERES = np.array([0, 5, 10, 18, 24, 0.0])
SECONDS = np.array([0, 20, 40, 60, 80, 100.0])
ROTATION = np.linalg.qr(np.arange(9.0).reshape(3, 3) + np.eye(3))[0]


def test_vector_line_recovers_what_made_the_readings():
    field = AT_ZERO + np.outer(AMPERES, SLOPE) + np.outer(SECONDS, DRIFT)
    fit = vector_line(AMPERES, field, time=SECONDS)
    assert fit.slope == pytest.approx(SLOPE, abs=1e-12)
    assert fit.drift == pytest.approx(DRIFT, abs=1e-12)
    assert fit.at_zero == pytest.approx(AT_ZERO, abs=1e-10)
    assert fit.dof == 3
    # Without the drift term the same readings do not fit.
    without = vector_line(AMPERES, field)
    assert without.drift is None
    assert without.residual_sd[0] > 100 * fit.residual_sd[0]


def test_vector_line_turns_with_the_aircraft():
    rng = np.random.default_rng(11)
    field = AT_ZERO + np.outer(AMPERES, SLOPE) + rng.normal(0, 0.2, (6, 3))
    quarter = np.array([[0, -1, 0], [1, 0, 0], [0, 0, 1.0]])
    straight, turned = vector_line(AMPERES, field), vector_line(AMPERES, field @ quarter.T)
    assert turned.slope == pytest.approx(quarter @ straight.slope, abs=1e-12)
    expected = quarter @ straight.slope_covariance @ quarter.T
    assert turned.slope_covariance == pytest.approx(expected, abs=1e-15)


def test_vector_covariance_is_the_spread_of_many_runs():
    # Correlated noise between the axes: the full matrix must come out, on average over runs.
    rng = np.random.default_rng(5)
    noise = np.array([[0.09, 0.05, 0], [0.05, 0.04, 0], [0, 0, 0.01]])
    half = np.linalg.cholesky(noise)
    runs = [
        vector_line(AMPERES, AT_ZERO + np.outer(AMPERES, SLOPE) + rng.normal(size=(6, 3)) @ half.T) for _ in range(3000)
    ]
    spread = np.cov(np.array([run.slope for run in runs]).T)
    claimed = np.mean([run.slope_covariance for run in runs], axis=0)
    assert claimed == pytest.approx(spread, abs=0.06 * spread[0, 0])


def test_declared_uncertainties_are_enlarged_by_scatter_but_never_reduced():
    field = AT_ZERO + np.outer(AMPERES, SLOPE)
    u = np.full((6, 3), 0.2)
    exact = vector_line(AMPERES, field, u_field=u)
    spread = np.sum((AMPERES - AMPERES.mean()) ** 2)
    assert exact.slope_covariance == pytest.approx(np.eye(3) * 0.2**2 / spread, abs=1e-15)
    assert exact.dof == 3 * 4
    rough = field + np.outer([1, -1, 1, -1, 1, -1], [1, -1, 1])
    seen = vector_line(AMPERES, rough, u_field=u)
    # All along one diagonal: nearly all that is seen counts for that direction, and so for all of them.
    assert seen.slope_covariance == pytest.approx(np.eye(3) * np.sum(seen.residual_sd**2) / spread, rel=0.1)
    assert seen.dof == pytest.approx(4, rel=0.1)


def test_one_row_to_spare_tells_a_scatter():
    field = [[0, 0, 0], [1, 2, 3], [2.4, 4, 6]]
    assert vector_line([0, 10, 20], field).dof == 1
    declared = vector_line([0, 10, 20], field, u_field=np.full((3, 3), 0.01))
    assert declared.dof == 1
    # Off the line in one axis of three: residuals (0.4 / 6)·(1, -2, 1), all that one row to spare can tell.
    enlarged = (0.4 / 6) ** 2 * 6
    assert declared.slope_covariance == pytest.approx(np.eye(3) * enlarged / 200)


def test_an_uncertain_current_moves_all_axes_together():
    u_i = 0.3
    field = AT_ZERO + np.outer(AMPERES, SLOPE)
    fit = vector_line(AMPERES, field, u_field=np.full((6, 3), 0.01), u_current=np.full(6, u_i))
    spread = np.sum((AMPERES - AMPERES.mean()) ** 2)
    expected = (np.eye(3) * 0.01**2 + np.outer(SLOPE, SLOPE) * u_i**2) / spread
    assert fit.slope_covariance == pytest.approx(expected, abs=1e-12)
    rng = np.random.default_rng(8)
    slopes = []
    for _ in range(4000):
        true = AMPERES + rng.normal(0, u_i, 6)
        drawn = AT_ZERO + np.outer(true, SLOPE) + rng.normal(0, 0.01, (6, 3))
        slopes.append(np.linalg.lstsq(np.column_stack([np.ones(6), AMPERES]), drawn, rcond=None)[0][1])
    assert np.cov(np.array(slopes).T) == pytest.approx(expected, abs=0.06 * expected.max())


@pytest.mark.parametrize("steps", [3, 4, 6])
@pytest.mark.parametrize("directions", [1, 3])
@pytest.mark.parametrize("declared", [0.001, 0.6, 1.0])
def test_the_ball_holds_the_slope_however_the_rows_scatter(steps, directions, declared):
    # Noise of one, all of it, most of it or none of it undeclared, alike in all directions or along one.
    rng = np.random.default_rng([steps, directions, int(10 * declared)])
    amperes, draws, inside = np.linspace(0, 10, steps), 800, 0
    factor = expanded_radius_3d(np.eye(3), 3 * (steps - 2) - 1.5)
    for _ in range(draws):
        noise = np.zeros((steps, 3))
        noise[:, :directions] = rng.normal(0, 1.0, (steps, directions))
        fit = vector_line(amperes, noise @ ROTATION, u_field=np.full((steps, 3), declared))
        inside += float(np.linalg.norm(fit.slope)) <= factor * math.sqrt(np.linalg.eigvalsh(fit.slope_covariance)[-1])
    assert inside / draws >= 0.95 - 2.5 * math.sqrt(0.95 * 0.05 / draws)


# Covariance of the rows' noise along three axes: alike, along two, along one, and between these.
SHAPES = {"alike": (1, 1, 1), "two": (1, 1, 0), "one": (1, 0, 0), "mostly one": (1, 0.1, 0.1), "uneven": (1, 0.4, 0.05)}


def test_how_often_the_ball_holds_and_how_wide_it_is(capsys):
    """Printed, in percent and in σ; what the F-distribution asks for where all axes scatter alike stands beside it.

    And how often a slope along the axis that scatters most is no longer than it looks and t·u: what a bound from above
    needs, and less than the ball.
    """
    table, draws = {}, 250
    for spare in (2, 3, 8):
        amperes = np.linspace(0, 10, spare + 2)
        of_slope = 1 / np.linalg.norm(amperes - amperes.mean())
        for shape, variances in SHAPES.items():
            rng = np.random.default_rng([spare, len(shape)])
            noise = rng.normal(size=(draws, spare + 2, 3)) * np.sqrt(variances) @ ROTATION
            true = 10 * of_slope * ROTATION[0]
            drawn = np.outer(amperes, true) + noise
            fits = [vector_line(amperes, one, u_field=np.full(one.shape, 1e-6)) for one in drawn]
            radii = np.array([expanded_radius_3d(fit.slope_covariance, fit.dof) for fit in fits])
            held = np.mean(radii >= [np.linalg.norm(fit.slope - true) for fit in fits])
            reach = [t_factor(fit.dof) * np.linalg.eigvalsh(fit.slope_covariance)[-1] ** 0.5 for fit in fits]
            below = np.mean([np.linalg.norm(fit.slope) for fit in fits] + np.array(reach) >= np.linalg.norm(true))
            table[spare, shape] = held, float(np.median(radii)) / of_slope, below, float(np.median(reach)) / of_slope
    with capsys.disabled():
        print("\nball of 95 %: rows to spare, scatter, held %, median radius in σ (F-distribution, alike); from above")
        for (spare, shape), (held, wide, below, reach) in table.items():
            by_f = math.sqrt(3 * stats.f.ppf(0.95, 3, 3 * spare))
            print(f"{spare:2d} {shape:10s} {100 * held:6.1f} {wide:6.2f} ({by_f:.2f}) {100 * below:6.1f} {reach:6.2f}")
    for (spare, shape), (held, wide, below, _) in table.items():
        assert round(draws * below) >= stats.binom.ppf(0.01, draws, 0.95), shape
        assert round(draws * held) >= stats.binom.ppf(0.01, draws, 0.95 if shape != "mostly one" else 0.93), shape
        if shape == "alike":
            assert wide <= 1.2 * math.sqrt(3 * stats.f.ppf(0.95, 3, 3 * spare)), spare


def test_rows_that_resemble_their_neighbours_count_for_fewer():
    rng = np.random.default_rng(4)
    n = 60
    amperes = np.tile(np.linspace(0, 20, 15), 4)
    slow = np.zeros((n, 3))
    for i in range(1, n):
        slow[i] = 0.9 * slow[i - 1] + rng.normal(0, 0.1, 3)
    u = np.full((n, 3), 0.001)
    together, apart = (vector_line(amperes, AT_ZERO + noise, u_field=u) for noise in (slow, rng.permutation(slow)))
    assert together.dof < apart.dof / 2
    assert together.slope_covariance[0, 0] > 2 * apart.slope_covariance[0, 0]


def test_two_plateaus_rest_on_what_was_declared():
    fit = vector_line([0, 10], [[0, 0, 0], [1, 2, 3]], u_field=np.full((2, 3), 0.1))
    assert fit.slope == pytest.approx([0.1, 0.2, 0.3])
    assert fit.dof == math.inf
    assert np.sqrt(np.diag(fit.slope_covariance)) == pytest.approx([0.1 * math.sqrt(2) / 10] * 3)
    assert fit.residual_sd is None
