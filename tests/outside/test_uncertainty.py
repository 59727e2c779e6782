"""Coverage factors, guard bands and worked examples of the Guide to the Expression of Uncertainty."""

import math

import numpy as np
import pytest
from scipy import stats

from preflint.compute.decision import (
    effective_dof,
    expanded_radius_2d,
    expanded_radius_3d,
    normalised_error,
    t_factor,
    u_arcsine,
    u_rectangular,
    u_triangular,
)


@pytest.mark.parametrize(
    ("dof", "printed"),
    # GUM (JCGM 100:2008), Table G.2, column p = 95 %.
    [(1, 12.71), (2, 4.30), (5, 2.57), (9, 2.26), (10, 2.23), (18, 2.10), (20, 2.09), (50, 2.01)],
)
def test_gum_table_g2(dof, printed):
    assert t_factor(dof) == pytest.approx(printed, abs=0.0051)


@pytest.mark.parametrize(
    ("dof", "confidence", "printed"),
    # GUM Table G.2, other columns. From memory.
    [(1, 0.6827, 1.84), (1, 0.99, 63.66), (4, 0.9545, 2.87), (20, 0.99, 2.85), (50, 0.90, 1.68)],
)
def test_gum_table_g2_other_columns(dof, confidence, printed):
    assert t_factor(dof, confidence) == pytest.approx(printed, abs=0.0051)


@pytest.mark.parametrize("dof", [0.3, 1, 1.3, 2, 3.7, 9, 50, 300, 999.99, 9999, 10_000, 1e5, 1e9])
@pytest.mark.parametrize("confidence", [0.5, 0.95, 0.999])
def test_scipy_agrees_on_student_t(dof, confidence):
    # scipy.stats.t, a second implementation.
    expected = stats.t.ppf((1 + confidence) / 2, dof)
    assert t_factor(dof, confidence) == pytest.approx(expected, rel=1e-10)


@pytest.mark.parametrize("dof", [1, 2.5, 6, 40, 1000, math.inf])
def test_scipy_agrees_on_regions_of_vectors(dof):
    # scipy.stats.f and chi2: the radius squared is d·F(d, dof) on a circle or sphere of unit covariance.
    for dimensions, radius in ((2, expanded_radius_2d), (3, expanded_radius_3d)):
        if math.isinf(dof):
            expected = math.sqrt(stats.chi2.ppf(0.95, dimensions))
        else:
            expected = math.sqrt(dimensions * stats.f.ppf(0.95, dimensions, dof))
        assert radius(np.eye(dimensions), dof) == pytest.approx(expected, rel=3e-6)


def test_two_dimensions_by_the_usual_factor():
    # Bivariate normal: sqrt(-2 ln 0.05) = 2.4477, along the longest axis (3, turned by 30°).
    turn = np.array([[math.cos(0.5236), -math.sin(0.5236)], [math.sin(0.5236), math.cos(0.5236)]])
    covariance = turn @ np.diag([9.0, 1.0]) @ turn.T
    assert expanded_radius_2d(covariance) == pytest.approx(2.4477 * 3, abs=2e-4)


def test_gum_h1_effective_degrees_of_freedom():
    # GUM Annex H.1, end gauge, H.1.6: 25 nm (18), 9.7 nm (25.6), 2.9 nm (50), 16.6 nm (2) give 32 nm and
    # 16 degrees of freedom (truncated from 16.7), so t at 99 % is 2.92 and U is 93 nm.
    parts = [(25.0, 18), (9.7, 25.6), (2.9, 50), (16.6, 2)]
    u = math.sqrt(sum(part**2 for part, _ in parts))
    dof = effective_dof(parts)
    assert u == pytest.approx(32, abs=0.5)
    assert int(dof) == 16
    assert t_factor(16, 0.99) == pytest.approx(2.92, abs=0.005)
    assert t_factor(16, 0.99) * 32 == pytest.approx(93, abs=0.5)


def test_jcgm_101_additive_model():
    # JCGM 101:2008, 9.2: four normal or rectangular inputs of unit standard deviation: u 2.0 and ±3.92 by the
    # GUM framework (9.2.2, 9.2.3); three of 1 and one of 10: u 10.1 and ±19.9 (9.2.4).
    assert u_rectangular(math.sqrt(3)) == pytest.approx(1)
    for parts, u, expanded in (([1, 1, 1, 1], 2.0, 3.92), ([1, 1, 1, 10], 10.1, 19.9)):
        combined = math.sqrt(sum(part**2 for part in parts))
        assert combined == pytest.approx(u, abs=0.05)
        assert t_factor(math.inf) * combined == pytest.approx(expanded, abs=0.05)


def test_jcgm_101_says_where_the_framework_is_too_wide():
    # JCGM 101:2008, 9.2.4: the exact interval of three rectangular inputs of 1 and one of 10 is ±17.0, so
    # decisions by the framework (±19.9) err on the side of "too uncertain". Exact by convolution on a grid.
    step = 0.005
    density = np.array([1.0])
    for sigma in (1, 1, 1, 10):
        half = sigma * math.sqrt(3)
        box = np.ones(round(2 * half / step))
        density = np.convolve(density, box / box.size)
    below = np.cumsum(density)
    interval = (np.searchsorted(below, 0.975) - np.searchsorted(below, 0.025)) * step
    assert interval / 2 == pytest.approx(17.0, abs=0.05)
    assert t_factor(math.inf) * math.sqrt(103) > interval / 2


@pytest.mark.parametrize(
    ("function", "factor"),
    # GUM 4.3.7 and 4.3.9; the U-shaped factor is the standard deviation of a sine of unit amplitude.
    [(u_rectangular, 0.57735), (u_triangular, 0.40825), (u_arcsine, 0.70711)],
)
def test_half_widths(function, factor):
    assert function(1) == pytest.approx(factor, abs=5e-6)
    assert function(7) == pytest.approx(7 * factor, abs=5e-5)


def test_iso_13528_normalised_error():
    # ISO 13528: E_n = (x - X) / sqrt(U_x^2 + U_X^2); 3-4-5 by hand.
    assert normalised_error(10.0, 3.0, 15.0, 4.0) == 1.0
    assert normalised_error(15.0, 3.0, 10.0, 4.0) == 1.0
