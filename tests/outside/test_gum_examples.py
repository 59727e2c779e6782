"""Worked examples and tables of the GUM and its kin, each held by a second route besides the printed figure."""

import math
from fractions import Fraction

import numpy as np
import pytest
from GTC import dof as gtc_dof
from GTC import uncertainty, ureal
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import optimize, stats

from preflint.compute.decision import (
    decide,
    effective_dof,
    expanded_radius_2d,
    expanded_radius_3d,
    normalised_error,
    t_factor,
    u_arcsine,
    u_rectangular,
    u_triangular,
)

# GUM (JCGM 100:2008), Table G.2: degrees of freedom, then t for 68.27, 90, 95, 95.45, 99 and 99.73 %.
# The rows and columns of tests/outside/test_uncertainty.py were seen; the others are from memory. All are
# recomputed below. The print rounds 35 at 90 % up to 1.70 (it is 1.690).
# 68.27, 95.45 and 99.73 % stand for one, two and three standard deviations of the normal distribution.
FRACTIONS = (math.erf(1 / math.sqrt(2)), 0.90, 0.95, math.erf(2 / math.sqrt(2)), 0.99, math.erf(3 / math.sqrt(2)))
TABLE_G2 = {
    1: (1.84, 6.31, 12.71, 13.97, 63.66, 235.80),
    2: (1.32, 2.92, 4.30, 4.53, 9.92, 19.21),
    3: (1.20, 2.35, 3.18, 3.31, 5.84, 9.22),
    4: (1.14, 2.13, 2.78, 2.87, 4.60, 6.62),
    5: (1.11, 2.02, 2.57, 2.65, 4.03, 5.51),
    6: (1.09, 1.94, 2.45, 2.52, 3.71, 4.90),
    7: (1.08, 1.89, 2.36, 2.43, 3.50, 4.53),
    8: (1.07, 1.86, 2.31, 2.37, 3.36, 4.28),
    9: (1.06, 1.83, 2.26, 2.32, 3.25, 4.09),
    10: (1.05, 1.81, 2.23, 2.28, 3.17, 3.96),
    11: (1.05, 1.80, 2.20, 2.25, 3.11, 3.85),
    12: (1.04, 1.78, 2.18, 2.23, 3.05, 3.76),
    13: (1.04, 1.77, 2.16, 2.21, 3.01, 3.69),
    14: (1.04, 1.76, 2.14, 2.20, 2.98, 3.64),
    15: (1.03, 1.75, 2.13, 2.18, 2.95, 3.59),
    16: (1.03, 1.75, 2.12, 2.17, 2.92, 3.54),
    17: (1.03, 1.74, 2.11, 2.16, 2.90, 3.51),
    18: (1.03, 1.73, 2.10, 2.15, 2.88, 3.48),
    19: (1.03, 1.73, 2.09, 2.14, 2.86, 3.45),
    20: (1.03, 1.72, 2.09, 2.13, 2.85, 3.42),
    25: (1.02, 1.71, 2.06, 2.11, 2.79, 3.33),
    30: (1.02, 1.70, 2.04, 2.09, 2.75, 3.27),
    35: (1.01, 1.69, 2.03, 2.07, 2.72, 3.23),
    40: (1.01, 1.68, 2.02, 2.06, 2.70, 3.20),
    45: (1.01, 1.68, 2.01, 2.06, 2.69, 3.18),
    50: (1.01, 1.68, 2.01, 2.05, 2.68, 3.16),
    100: (1.005, 1.660, 1.984, 2.025, 2.626, 3.077),
    math.inf: (1.000, 1.645, 1.960, 2.000, 2.576, 3.000),
}


@pytest.mark.parametrize("dof", TABLE_G2)
def test_every_row_of_gum_table_g2(dof):
    last_digit = 0.01 if dof <= 50 else 0.001
    for confidence, printed in zip(FRACTIONS, TABLE_G2[dof], strict=True):
        assert t_factor(dof, confidence) == pytest.approx(printed, abs=0.51 * last_digit)
        exact = stats.norm if math.isinf(dof) else stats.t(dof)
        assert t_factor(dof, confidence) == pytest.approx(exact.ppf((1 + confidence) / 2), rel=1e-9)


def test_student_t_in_closed_form():
    # 1 and 2 degrees of freedom have elementary quantiles: tan(πp/2), and p·sqrt(2/(1 - p²)).
    for p in (0.05, 0.5, 0.95, 0.99, 0.9999):
        assert t_factor(1, p) == pytest.approx(math.tan(math.pi * p / 2), rel=1e-10)
        assert t_factor(2, p) == pytest.approx(p * math.sqrt(2 / (1 - p * p)), rel=1e-10)


@pytest.mark.parametrize("dof", [0.05, 0.1, 0.2, 0.5, 0.75, *np.geomspace(1, 5e6, 25)])
@pytest.mark.parametrize("confidence", [0.01, 0.6827, 0.95, 0.999, 0.999999])
def test_student_t_over_a_wide_grid(dof, confidence):
    # Straight at the definition: the chance of |T| > t by scipy.
    assert 2 * stats.t.sf(t_factor(dof, confidence), dof) == pytest.approx(1 - confidence, rel=1e-8)
    assert t_factor(dof) > t_factor(2 * dof) > t_factor(math.inf)


@pytest.mark.parametrize("dof", [0.1, 0.3, 0.5, 1, 1.5, *np.geomspace(2, 9e5, 18)])
def test_f_distribution_over_a_wide_grid(dof):
    for dimensions, radius in ((2, expanded_radius_2d), (3, expanded_radius_3d)):
        expected = math.sqrt(dimensions * stats.f.ppf(0.95, dimensions, dof))
        assert radius(np.eye(dimensions), dof) == pytest.approx(expected, rel=1e-8)
    # In closed form for two dimensions: r² = dof·((1 - p)^(-2/dof) - 1).
    assert expanded_radius_2d(np.eye(2), dof) ** 2 == pytest.approx(dof * (0.05 ** (-2 / dof) - 1), rel=1e-8)


def test_gum_h1_end_gauge():
    # GUM H.1, Table H.1, all from the printed components: the comparator's three parts (5.8 nm with 24, 3.9 nm
    # with 5, 6.7 nm with 8 degrees of freedom) make 9.7 nm with 25.6; with the standard (25 nm, 18) and the two
    # thermal terms (2.9 nm, 50; 16.6 nm, 2) they make 32 nm with 16.7, so U99 = 2.92 · 32 nm = 93 nm.
    comparator = [(5.8, 24), (3.9, 5), (6.7, 8)]
    u_comparator = math.hypot(*(u for u, _ in comparator))
    assert u_comparator == pytest.approx(9.7, abs=0.05)
    assert effective_dof(comparator) == pytest.approx(25.6, abs=0.2)  # the components are rounded
    parts = [(25, 18), (9.7, 25.6), (2.9, 50), (16.6, 2)]
    assert effective_dof(parts) == pytest.approx(16.7, abs=0.1)
    # GTC, a second implementation, of both levels at once: the components, not their rounded sum.
    whole = sum(ureal(0, u, nu) for u, nu in [(25, 18), *comparator, (2.9, 50), (16.6, 2)])
    assert effective_dof([(25, 18), *comparator, (2.9, 50), (16.6, 2)]) == pytest.approx(gtc_dof(whole), rel=1e-12)
    assert uncertainty(whole) == pytest.approx(32, abs=0.5)
    assert t_factor(math.floor(effective_dof(parts)), 0.99) * 32 == pytest.approx(93, abs=0.5)


def test_jcgm_101_gauge_block():
    # JCGM 101:2008, 9.5 (from memory): by the framework 838 nm, u 32 nm, 16 degrees of freedom: 99 % from 745 to 931.
    half = t_factor(16, 0.99) * 32
    assert (838 - half, 838 + half) == pytest.approx((745, 931), abs=0.6)


def test_welch_satterthwaite_in_exact_fractions():
    parts = [(3, 4), (5, 7), (1, 2), (8, 19)]
    exact = Fraction(sum(u * u for u, _ in parts)) ** 2 / sum(Fraction(u**4, nu) for u, nu in parts)
    assert effective_dof(parts) == pytest.approx(float(exact), rel=1e-14)
    assert effective_dof([*parts, (6, math.inf)]) == pytest.approx(
        float(Fraction(sum(u * u for u, _ in parts) + 36) ** 2 / sum(Fraction(u**4, nu) for u, nu in parts)), rel=1e-14
    )


@pytest.mark.parametrize(("convert", "draw"), [
    (u_rectangular, lambda rng: rng.uniform(-1, 1, 400_000)),
    (u_triangular, lambda rng: rng.triangular(-1, 0, 1, 400_000)),
    (u_arcsine, lambda rng: np.sin(rng.uniform(0, 2 * np.pi, 400_000))),
])
def test_half_widths_are_the_spread_of_their_distributions(convert, draw):
    assert convert(1.0) == pytest.approx(np.std(draw(np.random.default_rng(1))), rel=5e-3)


def test_jcgm_101_four_rectangular_inputs():
    # JCGM 101:2008, 9.2.3: four rectangular inputs of unit standard deviation: ±3.92 by the framework, ±3.88
    # exactly, here by the density of the sum of four (Irwin-Hall) in closed form.
    half = math.sqrt(3)

    def below(x):  # of four uniform numbers from 0 to 1
        return sum((-1) ** k * math.comb(4, k) * max(0.0, x - k) ** 4 for k in range(5)) / 24

    exact = optimize.brentq(lambda x: below(x) - 0.975, 2, 4, xtol=1e-14) - 2
    assert exact * 2 * half == pytest.approx(3.88, abs=0.005)
    assert t_factor(math.inf) * 2 == pytest.approx(3.92, abs=0.005)


def test_jcgm_101_mass_calibration_to_first_order():
    # JCGM 101:2008, 9.3 (from memory): mass 1.2340 mg from nominal, u 0.0539 mg by the framework, 95 % from 1.1285
    # to 1.3395 mg. The components are 0.050 mg (standard) and 0.020 mg (balance); the air terms vanish to first order.
    parts = [(0.050, math.inf), (0.020, math.inf)]
    u = math.hypot(0.050, 0.020)
    assert u == pytest.approx(0.0539, abs=5e-5)
    half = t_factor(effective_dof(parts)) * u
    assert (1.2340 - half, 1.2340 + half) == pytest.approx((1.1285, 1.3395), abs=2e-4)


def test_jcgm_106_upper_limit():
    # JCGM 106:2012, 7.3 (one-sided tolerance intervals; from memory): a breakdown voltage of -5.47 V with u = 0.05 V
    # against an upper limit of -5.40 V conforms with 92 %. At 95 % on both sides that is too uncertain to tell: it
    # takes 1.96 u of room.
    distance, u = 0.07, 0.05
    assert stats.norm.cdf(distance / u) == pytest.approx(0.92, abs=0.005)
    limit = 1000.0
    assert decide(limit - distance, u, math.inf, limit) == "uncertain"
    assert decide(limit - 1.97 * u, u, math.inf, limit) == "clear"
    assert decide(limit + 1.97 * u, u, math.inf, limit) == "found"


@settings(derandomize=True, deadline=None, max_examples=300)
@given(st.floats(-20, 20), st.floats(0.01, 10), st.floats(0.5, 1000), st.floats(0.01, 10))
def test_a_decision_is_right_with_95_in_100(error, u, dof, tolerance):
    # The true error lies about the one measured as Student's t tells: by scipy, how likely is it within the limit?
    about = stats.t(dof, loc=error, scale=u)
    within = about.cdf(tolerance) - about.cdf(-tolerance)
    told = decide(error, u, dof, tolerance)
    if told == "clear":
        assert within >= 0.95 - 1e-9
    elif told == "found":
        assert within <= 0.025 + 1e-9
    else:
        assert within < 0.975 + 1e-9
        assert within > 0.0


@pytest.mark.parametrize(
    ("one", "other", "agree"),
    # ISO 13528 and ISO/IEC 17043: E_n = |x - X| / sqrt(U_lab² + U_ref²), satisfactory up to 1; in exact fractions.
    [
        ((Fraction(1003, 10), Fraction(3, 10)), (Fraction(100), Fraction(4, 10)), True),
        ((Fraction(1006, 10), Fraction(3, 10)), (Fraction(100), Fraction(4, 10)), False),
        ((Fraction(-5), Fraction(5)), (Fraction(8), Fraction(12)), True),
        ((Fraction(-6), Fraction(5)), (Fraction(8), Fraction(12)), False),
        ((Fraction(2478, 100), Fraction(8, 100)), (Fraction(2461, 100), Fraction(15, 100)), True),
    ],
)
def test_normalised_error_in_exact_fractions(one, other, agree):
    squared = (one[0] - other[0]) ** 2 / (one[1] ** 2 + other[1] ** 2)
    assert (squared <= 1) is agree
    told = normalised_error(*(float(v) for v in (*one, *other)))
    assert told == pytest.approx(math.sqrt(squared), rel=1e-12)
    assert told == normalised_error(*(float(v) for v in (*other, *one)))
    assert (told <= 1 + 1e-12) is agree
