"""Lines through published data sets with certified or printed results."""

import math
from fractions import Fraction

import numpy as np
import pytest
from GTC import type_a
from scipy import optimize, stats

from preflint.compute.calibration import Instrument, gain_with_zero_prior
from preflint.compute.regression import line, line_through_origin
from preflint.compute.york import Rows, york

# NIST Statistical Reference Datasets (StRD), Linear Least Squares, dataset Norris: (y, x), 36 rows.
# itl.nist.gov/div898/strd/lls; the same file ships in scipy as stats/tests/data/nist_linregress/Norris.dat.
NORRIS = """
0.1 0.2   338.8 337.4  118.1 118.2  888.0 884.6  9.2 10.1     228.1 226.5  668.5 666.3  998.5 996.3
449.1 448.6  778.9 777.0  559.2 558.2  0.3 0.4   0.1 0.6      778.1 775.5  668.8 666.9  339.3 338.0
448.9 447.5  10.8 11.6    557.7 556.0  228.3 228.1  998.0 995.8  888.8 887.6  119.6 120.2  0.3 0.3
0.6 0.3      557.6 556.8  339.3 339.1  888.0 887.2  998.5 999.0  778.9 779.0  10.2 11.1    117.6 118.3
228.9 229.2  668.4 669.1  449.2 448.9  0.2 0.5
"""


def norris():
    table = np.array(NORRIS.split(), dtype=float).reshape(-1, 2)
    assert table.shape == (36, 2)
    return table[:, 1], table[:, 0]


def test_nist_norris():
    # NIST StRD Norris, certified values.
    fit = line(*norris())
    assert fit.intercept == pytest.approx(-0.262323073774029, rel=1e-9)
    assert fit.u_intercept == pytest.approx(0.232818234301152, rel=1e-9)
    assert fit.slope == pytest.approx(1.00211681802045, rel=1e-9)
    assert fit.u_slope == pytest.approx(0.429796848199937e-03, rel=1e-9)
    assert fit.residual_sd == pytest.approx(0.884796396144373, rel=1e-9)
    assert fit.r_squared == pytest.approx(0.999993745883712, rel=1e-9)
    assert fit.chi_square == pytest.approx(26.6173985294224, rel=1e-9)
    assert fit.f == pytest.approx(5436385.54079785, rel=1e-9)
    assert fit.dof == 34
    # Not certified; recomputed in exact fractions.
    assert fit.covariance == pytest.approx(-7.74327536315644e-05, rel=1e-9)


def test_nist_norris_with_the_axes_far_from_zero():
    # The certified slope and scatter do not change when both axes are shifted by a million (conditioning).
    x, y = norris()
    fit = line(x + 1e6, y + 1e6)
    assert fit.slope == pytest.approx(1.00211681802045, rel=1e-9)
    assert fit.u_slope == pytest.approx(0.429796848199937e-03, rel=1e-9)
    assert fit.residual_sd == pytest.approx(0.884796396144373, rel=1e-9)
    assert fit.predict(1e6)[1] == pytest.approx(0.232818234301152, rel=1e-5)


def test_nist_noint1():
    # NIST StRD NoInt1, certified values: x = 60..70, y = 130..140, through the origin.
    fit = line_through_origin(range(60, 71), range(130, 141))
    assert fit.slope == pytest.approx(2.07438016528926, rel=1e-9)
    assert fit.u_slope == pytest.approx(0.165289256198347e-01, rel=1e-9)
    assert fit.residual_sd == pytest.approx(3.56753034006338, rel=1e-9)
    assert fit.r_squared == pytest.approx(0.999365492298663, rel=1e-9)
    assert fit.chi_square == pytest.approx(127.272727272727, rel=1e-9)
    assert fit.f == pytest.approx(15750.25, rel=1e-9)
    assert fit.dof == 10
    assert (fit.intercept, fit.u_intercept, fit.covariance) == (0, 0, 0)


def test_nist_noint2():
    # NIST StRD NoInt2, certified values (from memory; exact: 8/11, residual sum of squares 3/11).
    fit = line_through_origin([4, 5, 6], [3, 4, 4])
    assert fit.slope == pytest.approx(0.727272727272727, rel=1e-9)
    assert fit.u_slope == pytest.approx(0.420827318078432e-01, rel=1e-9)
    assert fit.residual_sd == pytest.approx(0.369274472937998, rel=1e-9)
    assert fit.r_squared == pytest.approx(0.993348115299335, rel=1e-9)
    assert fit.f == pytest.approx(298.6666666666667, rel=1e-9)
    assert fit.dof == 2
    # The same in exact fractions.
    xy, xx, yy = 4 * 3 + 5 * 4 + 6 * 4, 4 * 4 + 5 * 5 + 6 * 6, 3 * 3 + 4 * 4 + 4 * 4
    slope, rest = Fraction(xy, xx), yy - Fraction(xy * xy, xx)
    assert (slope, rest) == (Fraction(8, 11), Fraction(3, 11))
    assert fit.slope == pytest.approx(float(slope), rel=1e-14)
    assert fit.u_slope**2 == pytest.approx(float(rest / 2 / xx), rel=1e-12)
    assert fit.chi_square == pytest.approx(float(rest), rel=1e-12)


# JCGM 100:2008 (GUM), Annex H.3, Table H.6: thermometer readings t_k and corrections b_k, degrees Celsius.
H3_T = [21.521, 22.012, 22.512, 23.003, 23.507, 23.999, 24.513, 25.002, 25.503, 26.010, 26.511]
H3_B = [-0.171, -0.169, -0.166, -0.159, -0.164, -0.165, -0.156, -0.157, -0.159, -0.161, -0.160]


def test_gum_h3_thermometer():
    fit = line(np.array(H3_T) - 20, H3_B)
    assert fit.intercept == pytest.approx(-0.1712, abs=5e-5)
    assert fit.u_intercept == pytest.approx(0.0029, abs=5e-5)
    assert fit.slope == pytest.approx(0.00218, abs=5e-6)
    assert fit.u_slope == pytest.approx(0.00067, abs=5e-6)
    assert fit.covariance / (fit.u_intercept * fit.u_slope) == pytest.approx(-0.930, abs=5e-4)
    assert fit.residual_sd == pytest.approx(0.0035, abs=5e-5)
    assert fit.dof == 9


def test_gum_h3_prediction_needs_the_covariance():
    # GUM H.3.4: b(30 °C) = -0.1494 with u = 0.0041; without the correlation u would be 0.0073.
    fit = line(np.array(H3_T) - 20, H3_B)
    value, u = fit.predict(10.0)
    assert value == pytest.approx(-0.1494, abs=5e-5)
    assert u == pytest.approx(0.0041, abs=5e-5)
    without = math.sqrt(fit.variance_intercept + 100 * fit.variance_slope)
    assert without == pytest.approx(0.0073, abs=5e-5)
    assert abs(u - without) > 0.003


def test_gum_h3_does_not_depend_on_the_reference_temperature():
    # GUM H.3.5: another t_0 gives the same prediction with the same uncertainty.
    for reference in (0.0, 20.0, 24.0085, 273.15):
        value, u = line(np.array(H3_T) - reference, H3_B).predict(30 - reference)
        assert (value, u) == pytest.approx((-0.149377, 0.0041386), abs=1e-6)


# K. Pearson, Phil. Mag. 2 (1901) 559, with the weights of D. York, Can. J. Phys. 44 (1966) 1079.
# Data and weights from memory, as reprinted in York et al., Am. J. Phys. 72 (2004) 367, Table I.
PEARSON_X = [0.0, 0.9, 1.8, 2.6, 3.3, 4.4, 5.2, 6.1, 6.5, 7.4]
PEARSON_Y = [5.9, 5.4, 4.4, 4.6, 3.5, 3.7, 2.8, 2.8, 2.4, 1.5]
YORK_U_X = np.array([1000, 1000, 500, 800, 200, 80, 60, 20, 1.8, 1]) ** -0.5
YORK_U_Y = np.array([1, 1.8, 4, 8, 20, 20, 70, 70, 100, 500]) ** -0.5


def fitted(x, y, u_x, u_y, u_zero=1e9):
    """All rows alike; with nothing said, next to nothing is known of the zero."""
    return york(Rows.of(np.array(x), np.array(y)), u_x, u_y, u_zero)


def searched(x, y, u_x, u_y):
    """Intercept, slope and their covariance (2, 2) where scipy.optimize, over both the line and the true places of all
    points, finds the least sum of squares: a fit of any uncertainties on both axes, that knows nothing of York's.
    """
    x, y, u_x, u_y = map(np.array, (x, y, u_x, u_y))

    def residuals(parameters):
        off_x = (x - parameters[2:] * u_x) / u_x  # places in units of their u: all parameters of one size
        return np.concatenate([off_x, (y - parameters[0] - parameters[1] * parameters[2:] * u_x) / u_y])

    slope, zero = np.polyfit(x, y, 1)
    found = optimize.least_squares(residuals, [zero, slope, *x / u_x], xtol=1e-15, ftol=1e-15, gtol=1e-15)
    return *found.x[:2], np.linalg.inv(found.jac.T @ found.jac)[:2, :2]


def test_the_search_finds_what_york_printed():
    # York et al. 2004, section VI: a = 5.47991022403 ± 0.295, b = -0.48053340745 ± 0.058. From memory; the minimum is
    # confirmed below in exact fractions, and by GTC (Measurement Standards Laboratory of New Zealand).
    zero, slope, covariance = searched(PEARSON_X, PEARSON_Y, YORK_U_X, YORK_U_Y)
    assert (zero, slope) == pytest.approx((5.47991022403, -0.48053340745), rel=1e-7)
    assert np.sqrt(np.diag(covariance)) == pytest.approx((0.295, 0.058), abs=5e-4)
    of_gtc = type_a.line_fit_wtls(PEARSON_X, PEARSON_Y, YORK_U_X, YORK_U_Y).a_b
    assert (zero, slope) == pytest.approx([one.x for one in of_gtc], rel=1e-7)


def test_the_printed_york_slope_has_the_least_sum_in_exact_fractions():
    w_x = [Fraction(w) for w in ("1000", "1000", "500", "800", "200", "80", "60", "20", "1.8", "1")]
    w_y = [Fraction(w) for w in ("1", "1.8", "4", "8", "20", "20", "70", "70", "100", "500")]
    points = [(Fraction(str(x)), Fraction(str(y))) for x, y in zip(PEARSON_X, PEARSON_Y, strict=True)]

    def least_sum(slope):
        weights = [a * b / (a + slope * slope * b) for a, b in zip(w_x, w_y, strict=True)]
        off = [y - slope * x for x, y in points]
        intercept = sum(w * one for w, one in zip(weights, off, strict=True)) / sum(weights)
        return intercept, sum(w * (one - intercept) ** 2 for w, one in zip(weights, off, strict=True))

    printed, step = Fraction("-0.48053340745"), Fraction(1, 10**10)
    (intercept, least), (_, left), (_, right) = (least_sum(printed + d * step) for d in (0, -1, 1))
    assert left > least < right
    assert float(intercept) == pytest.approx(5.47991022403, abs=1e-10)


def test_pearson_line_of_closest_fit():
    # Pearson 1901: y = 5.784 - 0.546 x, equal errors on both axes (from memory); also the principal axis.
    fit = fitted(PEARSON_X, PEARSON_Y, 1, 1)
    assert fit.zero == pytest.approx(5.784, abs=5e-4)
    assert fit.slope == pytest.approx(-0.546, abs=5e-4)
    _, vectors = np.linalg.eigh(np.cov(PEARSON_X, PEARSON_Y))
    assert fit.slope == pytest.approx(vectors[1, 1] / vectors[0, 1], rel=1e-9)


@pytest.mark.parametrize(("u_x", "u_y", "u_zero"), [(1, 1, 1e4), (0.3, 0.1, 0.05), (0.1, 0.3, 2), (0.02, 0.6, 0.3)])
@pytest.mark.parametrize("turned", [1, -1])
def test_york_fit_is_where_a_direct_search_finds_the_least_sum(u_x, u_y, u_zero, turned):
    x, y = np.array(PEARSON_X) + 3, turned * (9 - np.array(PEARSON_Y))
    n, sure = len(x), 1e-7  # of the zero, which stands exactly at x = 0
    zero, slope, covariance = searched([*x, 0], [*y, 0], [u_x] * n + [sure], [u_y] * n + [u_zero])
    fit = fitted(x, y, u_x, u_y, u_zero)
    assert fit.zero == pytest.approx(zero, abs=1e-6 * math.sqrt(covariance[0, 0]))
    assert fit.slope == pytest.approx(slope, abs=1e-6 * math.sqrt(covariance[1, 1]))
    ours = (fit.variance_zero, fit.covariance, fit.variance_slope)
    assert ours == pytest.approx((covariance[0, 0], covariance[0, 1], covariance[1, 1]), rel=1e-5)


def test_gtc_agrees_on_a_zero_known_beforehand():
    # One more row that says "at zero it reads zero within 0.05", as GTC is told it.
    x, y, q = [15.2, 15.3, 15.5, 15.4], [15.42, 15.51, 15.68, 15.60], 0.05
    fit = gain_with_zero_prior(x, y, Instrument(resolution=q), q, u_zero=0.05)
    u = q / math.sqrt(12)
    zero, gain = type_a.line_fit_wtls([*x, 0.0], [*y, 0.0], [u] * 4 + [1e-6], [u] * 4 + [0.05]).a_b
    assert (fit.zero.value, fit.gain.value) == pytest.approx((zero.x, gain.x), rel=1e-4)


def test_scipy_agrees_on_the_anscombe_quartet():
    # F. J. Anscombe, American Statistician 27 (1973) 17: every set has y = 3.00 + 0.500 x, u 1.125 and 0.118,
    # R² 0.667, F 17.99. First and fourth set from memory; scipy.stats.linregress as a second implementation.
    sets = [
        ([10, 8, 13, 9, 11, 14, 6, 4, 12, 7, 5],
         [8.04, 6.95, 7.58, 8.81, 8.33, 9.96, 7.24, 4.26, 10.84, 4.82, 5.68]),
        ([8, 8, 8, 8, 8, 8, 8, 19, 8, 8, 8],
         [6.58, 5.76, 7.71, 8.84, 8.47, 7.04, 5.25, 12.50, 5.56, 7.91, 6.89]),
    ]  # fmt: skip
    for x, y in sets:
        fit, other = line(x, y), stats.linregress(x, y)
        assert (fit.intercept, fit.slope) == pytest.approx((3.00, 0.500), abs=2e-3)
        assert (fit.u_intercept, fit.u_slope) == pytest.approx((1.125, 0.118), abs=2e-3)
        assert (fit.r_squared, fit.f) == pytest.approx((0.667, 17.99), abs=2e-2)
        assert (fit.intercept, fit.slope) == pytest.approx((other.intercept, other.slope), rel=1e-12)
        assert (fit.u_intercept, fit.u_slope) == pytest.approx((other.intercept_stderr, other.stderr), rel=1e-12)
