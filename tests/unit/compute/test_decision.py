"""Both sides of every guard band, and refusals."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from preflint.compute.decision import (
    chi_square_limit,
    decide,
    effective_dof,
    expanded_radius_2d,
    expanded_radius_3d,
    normalised_error,
    t_factor,
)

K = 1.959963984540054  # of the normal distribution, for exact uncertainties


@pytest.mark.parametrize("sign", [1, -1])
@pytest.mark.parametrize(("error", "u", "tolerance", "expected"), [
    (0.0, 0.0, 0.0, "clear"),
    (1.0, 0.0, 1.0, "clear"),
    (1.0000001, 0.0, 1.0, "found"),
    (1.0 - K * 0.1 - 1e-9, 0.1, 1.0, "clear"),
    (1.0 - K * 0.1 + 1e-9, 0.1, 1.0, "uncertain"),
    (1.0 + K * 0.1 - 1e-9, 0.1, 1.0, "uncertain"),
    (1.0 + K * 0.1 + 1e-9, 0.1, 1.0, "found"),
    (0.0, 10.0, 1.0, "uncertain"),
    (5.0, math.inf, 1.0, "uncertain"),
])
def test_guard_bands_on_both_sides(sign, error, u, tolerance, expected):
    assert decide(sign * error, u, math.inf, tolerance) == expected


def test_few_degrees_of_freedom_widen_the_bands():
    assert decide(1.3, 0.1, math.inf, 1.0) == "found"
    assert decide(1.3, 0.1, 4, 1.0) == "found"  # t = 2.776
    assert decide(1.3, 0.1, 2, 1.0) == "uncertain"  # t = 4.303


@settings(derandomize=True, deadline=None)
@given(st.floats(-10, 10), st.floats(0, 5), st.floats(1, 200), st.floats(0, 10), st.floats(1.001, 1000))
def test_a_change_of_unit_changes_no_decision(error, u, dof, tolerance, scale):
    margin = min(abs(abs(error) - t_factor(dof) * u - tolerance), abs(abs(error) + t_factor(dof) * u - tolerance))
    if margin > 1e-9:
        assert decide(error, u, dof, tolerance) == decide(error * scale, u * scale, dof, tolerance * scale)


@pytest.mark.parametrize(("arguments", "says"), [
    ((math.nan, 0.1, 5, 1), "error that is not a finite number"),
    ((math.inf, 0.1, 5, 1), "error that is not a finite number"),
    ((0, -0.1, 5, 1), "standard uncertainty is zero or more"),
    ((0, math.nan, 5, 1), "standard uncertainty is zero or more"),
    ((0, 0.1, 0, 1), "degrees of freedom must be above zero"),
    ((0, 0.1, math.nan, 1), "degrees of freedom must be above zero"),
    ((0, 0.1, 5, -1), "tolerance is a finite number"),
    ((0, 0.1, 5, math.nan), "tolerance is a finite number"),
])
def test_no_decision_from_nonsense(arguments, says):
    with pytest.raises(ValueError, match=says):
        decide(*arguments)


@pytest.mark.parametrize("confidence", [0, 1, -0.1, math.nan])
def test_confidence_between_nothing_and_all(confidence):
    with pytest.raises(ValueError, match="confidence lies between"):
        t_factor(5, confidence)


def test_so_few_degrees_of_freedom_that_no_number_holds_the_factor():
    """P(|T| > t) falls as 1/t to the power of the degrees of freedom: 20 to the power of 2000 is no number."""
    assert t_factor(0.0005) == t_factor(1e-300) == math.inf
    assert chi_square_limit(1e-6) == 0.0  # 0.95 to the power of two millions is no number either
    assert t_factor(5, 1e-12) == pytest.approx(0, abs=1e-7)  # nothing at all holds next to nothing
    # As near as a number gets: ten times the factor at ten times the tail, to the power of 0.01.
    assert t_factor(0.01, 0.5) / t_factor(0.01, 0.6) == pytest.approx((0.4 / 0.5) ** 100, rel=1e-9)


@settings(derandomize=True, deadline=None)
@given(st.lists(st.tuples(st.floats(1e-3, 1e3), st.floats(1, 100)), min_size=1, max_size=6))
def test_effective_dof_lies_between_the_least_and_the_sum(parts):
    dof = effective_dof(parts)
    assert min(nu for _, nu in parts) * (1 - 1e-9) <= dof <= sum(nu for _, nu in parts) * (1 + 1e-9)


def test_effective_dof_at_the_ends():
    assert effective_dof([]) == math.inf
    assert effective_dof([(0.0, 1)]) == math.inf
    assert effective_dof([(2.0, math.inf), (0.0, 1)]) == math.inf
    assert effective_dof([(1e-100, 4), (1e-100, 4)]) == pytest.approx(8)
    assert effective_dof([(1.0, 4), (1.0, math.inf)]) == pytest.approx(16)


def test_normalised_error_without_uncertainty():
    assert normalised_error(1, 0, 1, 0) == 0
    assert normalised_error(1, 0, 2, 0) == math.inf


def test_radii_refuse_what_is_no_covariance():
    with pytest.raises(ValueError, match="2 by 2 finite numbers"):
        expanded_radius_2d([[1, 0, 0], [0, 1, 0], [0, 0, 1]])
    with pytest.raises(ValueError, match="3 by 3 finite numbers"):
        expanded_radius_3d([[1, 0, 0], [0, math.nan, 0], [0, 0, 1]])
    with pytest.raises(ValueError, match="degrees of freedom"):
        expanded_radius_2d([[1, 0], [0, 1]], 0)
    assert expanded_radius_2d([[0, 0], [0, 0]]) == 0
