"""The comparison with a reference instrument: what enters, how often it holds, and what it refuses."""

import math

import numpy as np
import pytest
from GTC import get_covariance, ureal
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats

from preflint.compute.calibration import Instrument, gain_and_zero, gain_only, gain_with_zero_prior
from preflint.compute.decision import decide, t_factor
from preflint.compute.least_squares import Indeterminate

METER = Instrument(accuracy_percent=0.5, resolution=0.01)
PRIOR = 0.05  # volts


def every_fit(indicated, reference, instrument=METER, resolution=0.01):
    return (
        gain_only(indicated, reference, instrument, resolution),
        gain_and_zero(indicated, reference, instrument, resolution),
        gain_with_zero_prior(indicated, reference, instrument, resolution, u_zero=PRIOR),
    )


@pytest.mark.parametrize(
    ("indicated", "reference", "decision"),
    # Common practice, no source: a pack monitor against a meter good to 0.5 %, tolerance 1 %.
    [(15.12, 15.46, "found"), (15.45, 15.46, "clear")],
)
def test_a_pack_monitor_against_a_meter(indicated, reference, decision):
    fit = gain_with_zero_prior([indicated], [reference], METER, 0.01, u_zero=PRIOR)
    error = fit.error_of_indication(indicated)
    assert error.value == pytest.approx(indicated / reference - 1)
    assert decide(error.value, error.u, error.dof, 0.01) == decision
    assert fit.gain.value == pytest.approx(reference / indicated)  # the setting is multiplied by this


def test_one_row_by_hand():
    # u = sqrt((0.5 % of 15.46 / √3)² + 2 (0.01 / √12)²) volts on the reference, exact: no row is to spare.
    fit = gain_only([15.12], [15.46], METER, 0.01)
    at = fit.reference_at(15.12)
    resolution = math.hypot(0.01 / math.sqrt(12), 15.46 / 15.12 * 0.01 / math.sqrt(12))
    assert (at.value, at.dof) == (pytest.approx(15.46), math.inf)
    assert at.u == pytest.approx(math.hypot(0.005 * 15.46 / math.sqrt(3), resolution))
    with_prior = gain_with_zero_prior([15.12], [15.46], METER, 0.01, u_zero=PRIOR)
    assert with_prior.reference_at(15.12).u == pytest.approx(at.u)  # at the row, the zero does not matter
    assert with_prior.gain.u == pytest.approx(math.hypot(fit.gain.u, PRIOR / 15.12), rel=1e-9)
    assert gain_and_zero([15.12], [15.46], METER, 0.01) is None


def test_the_accuracy_of_the_instrument_never_averages_down():
    rng = np.random.default_rng(3)
    true = rng.uniform(15, 25, 2000)
    for fit in every_fit(true, 1.01 * true + rng.normal(0, 0.02, 2000)):
        u_scale = 0.005 / math.sqrt(3)
        assert fit.error_of_indication(24).u >= u_scale / 1.01
        assert fit.error_of_indication(24).u == pytest.approx(u_scale / 1.01, rel=0.02)


def test_an_absolute_error_of_the_instrument_moves_the_zero_and_not_the_gain():
    instrument = Instrument(accuracy_absolute=0.3)
    fit = gain_and_zero([10, 20, 30], [10, 20, 30], instrument)
    assert fit.zero.u == pytest.approx(0.3 / math.sqrt(3))
    assert fit.gain.u == pytest.approx(0, abs=1e-8)
    held = gain_only([10, 20, 30], [10, 20, 30], instrument)
    assert held.gain.u == pytest.approx(0.3 / math.sqrt(3) * 60 / 1400)  # Σx / Σx²


def test_an_absolute_error_leans_on_the_prior_as_a_refit_says():
    instrument = Instrument(accuracy_absolute=0.03, resolution=0.01)
    x, y = np.array([16.0, 20.0, 25.0]), np.array([16.08, 20.1, 25.13])
    plain = Instrument(resolution=0.01)
    fit = gain_with_zero_prior(x, y, instrument, 0.01, u_zero=PRIOR)
    without = gain_with_zero_prior(x, y, plain, 0.01, u_zero=PRIOR)
    moved = gain_with_zero_prior(x, y + 1e-4, plain, 0.01, u_zero=PRIOR)
    for name in ("zero", "gain"):
        ours = getattr(fit, name).u ** 2 - getattr(without, name).u ** 2
        leaning = (getattr(moved, name).value - getattr(without, name).value) / 1e-4
        assert ours == pytest.approx((leaning * 0.03 / math.sqrt(3)) ** 2, rel=0.02)


X, Y = [16.8, 18.2, 21.0, 22.4, 25.0], [17.01, 18.37, 21.25, 22.61, 25.29]


def test_gtc_agrees_on_the_straight_line_with_a_common_error():
    # GTC (Measurement Standards Laboratory of New Zealand): the same sums in uncertain numbers, where every
    # row carries its own error and all share the scale error of the meter.
    fit = gain_and_zero(X, Y, METER, 0.01)
    scale = ureal(1, 0.005 / math.sqrt(3))
    ys = [ureal(y, fit.row_sd) * scale for y in Y]
    mean_x, mean_y = sum(X) / 5, sum(ys) / 5
    slope = sum((x - mean_x) * (y - mean_y) for x, y in zip(X, ys, strict=True)) / sum((x - mean_x) ** 2 for x in X)
    zero = mean_y - slope * mean_x
    covariance = fit.covariance_rows + fit.covariance_common
    assert (fit.gain.value, fit.gain.u) == pytest.approx((slope.x, slope.u), rel=1e-9)
    assert (fit.zero.value, fit.zero.u) == pytest.approx((zero.x, zero.u), rel=1e-9)
    assert covariance[0, 1] == pytest.approx(get_covariance(zero, slope), rel=1e-9)
    at_full = zero + slope * 25.2
    assert fit.reference_at(25.2).u == pytest.approx(at_full.u, rel=1e-9)
    error = 25.2 / at_full - 1
    assert fit.error_of_indication(25.2).value == pytest.approx(error.x, rel=1e-9)
    assert fit.error_of_indication(25.2).u == pytest.approx(error.u, rel=1e-9)


def test_covariance_is_what_keeps_the_middle_sure():
    fit = gain_and_zero(X, Y, METER, 0.01)
    middle = sum(X) / 5
    without = math.hypot(fit.zero.u, fit.gain.u * middle)
    assert fit.reference_at(middle).u < without / 1.4


def test_scatter_takes_the_place_of_a_resolution_it_exceeds():
    quiet, loud = Instrument(resolution=0.5), Instrument(resolution=0.001)
    calm = gain_and_zero(X, Y, quiet, 0.0)
    assert calm.row_sd == pytest.approx(0.5 / math.sqrt(12))
    rough = gain_and_zero(X, Y, loud, 0.0)
    assert rough.row_sd > 20 * 0.001
    assert (calm.dof_rows, rough.dof_rows) == (math.inf, 3)


def test_rows_that_contradict_each_other_are_not_believed():
    # Nearly the same indication, half a volt apart on the meter: a typing error must not pass for precision.
    for fit in every_fit([24.0, 23.9], [24.1, 23.5]):
        error = fit.error_of_indication(24.0)
        dof_or_size = t_factor(error.dof) * error.u
        if fit.fit != "gain-and-zero":
            assert dof_or_size > 0.05
            assert decide(error.value, error.u, error.dof, 0.01) == "uncertain"


def test_equal_indications_give_no_straight_line_but_the_other_fits():
    held, line, prior = every_fit([24.0, 24.0, 24.0], [24.1, 24.12, 24.11])
    assert line is None
    assert held.gain.value == pytest.approx(24.11 / 24)
    assert prior.gain.value == pytest.approx(24.11 / 24, rel=1e-4)


def test_nothing_but_zero_indicated_gives_nothing():
    assert every_fit([0.0, 0.0], [0.1, 0.2]) == (None, None, None)


def test_a_poor_span_does_not_flatten_the_gain():
    # Readings 30 mV apart on a display of 50 mV: the plain line is flattened by the coarse axis.
    rng = np.random.default_rng(8)
    plain, sound = [], []
    for _ in range(300):
        true = rng.uniform(24.0, 24.1, 6)
        shown = np.round(true / 0.05) * 0.05
        seen = np.round(1.02 * true, 3)
        if np.ptp(shown) > 0:
            plain.append(gain_and_zero(shown, seen, Instrument(resolution=0.001), 0.05).gain.value)
            sound.append(gain_with_zero_prior(shown, seen, Instrument(resolution=0.001), 0.05, u_zero=PRIOR).gain.value)
    assert abs(np.mean(plain) - 1.02) > 0.05
    assert np.mean(sound) == pytest.approx(1.02, abs=0.002)


def simulated(rng, rows, gain, zero, instrument, resolution):
    """Readings of a comparison, from true values through both displays (a forward model of its own)."""
    true = rng.uniform(18, 25, rows)
    scale = 1 + rng.uniform(-1, 1) * instrument.accuracy_percent / 100
    reference = np.round(true * scale / instrument.resolution) * instrument.resolution
    indicated = np.round((true - zero) / gain / resolution) * resolution
    return indicated, reference


@pytest.mark.parametrize("rows", [1, 2, 3, 5, 20])
@pytest.mark.parametrize("resolution", [0.01, 0.1])
def test_the_interval_holds_the_truth_as_often_as_it_says(rows, resolution):
    rng = np.random.default_rng([rows, round(1000 * resolution)])
    instrument = Instrument(accuracy_percent=0.2, resolution=resolution)
    held = 0
    for _ in range(400):
        zero = rng.normal(0, PRIOR)
        indicated, reference = simulated(rng, rows, 1.015, zero, instrument, resolution)
        fit = gain_with_zero_prior(indicated, reference, instrument, resolution, u_zero=PRIOR)
        error = fit.error_of_indication(22.0)
        truth = 22.0 / (zero + 1.015 * 22.0) - 1
        held += abs(error.value - truth) <= t_factor(error.dof) * error.u
    assert held >= 0.92 * 400  # 95 % less what chance takes from 400 runs


def test_rates_of_the_decision():
    # Sound aircraft found at most in 1 %, faults of twice the tolerance cleared at most in 0.1 %.
    rng = np.random.default_rng(77)
    instrument = Instrument(accuracy_percent=0.5, resolution=0.01)
    found = cleared = 0
    for run in range(600):
        for gain in (1.0, 1.02):
            indicated, reference = simulated(rng, 2 + run % 4, gain, 0.0, instrument, 0.01)
            fit = gain_with_zero_prior(indicated, reference, instrument, 0.01, u_zero=PRIOR)
            error = fit.error_of_indication(25.0)
            said = decide(error.value, error.u, error.dof, 0.01)
            found += gain == 1.0 and said == "found"
            cleared += gain == 1.02 and said == "clear"
    assert (found, cleared) == (0, 0)


@settings(derandomize=True, deadline=None, max_examples=40)
@given(
    st.lists(st.tuples(st.floats(10, 30), st.floats(-0.2, 0.2)), min_size=1, max_size=6), st.floats(0.9, 1.1),
    st.sampled_from([0.001, 1000.0]),
)
def test_a_change_of_unit_changes_nothing_but_the_unit(rows, gain, scale):
    x = np.round([one for one, _ in rows], 2)
    y = np.round([gain * one + noise for one, noise in rows], 2)
    scaled_meter = Instrument(accuracy_percent=0.5, resolution=0.01 * scale)
    for here, there in (
        (gain_only(x, y, METER, 0.01), gain_only(x * scale, y * scale, scaled_meter, 0.01 * scale)),
        (gain_with_zero_prior(x, y, METER, 0.01, u_zero=PRIOR),
         gain_with_zero_prior(x * scale, y * scale, scaled_meter, 0.01 * scale, u_zero=PRIOR * scale)),
    ):
        assert there.gain.value == pytest.approx(here.gain.value, rel=1e-7)
        assert there.gain.u == pytest.approx(here.gain.u, rel=1e-5)
        assert there.zero.value == pytest.approx(here.zero.value * scale, rel=1e-5, abs=1e-8 * scale)
        error, same = here.error_of_indication(20.0), there.error_of_indication(20.0 * scale)
        assert (same.value, same.u) == pytest.approx((error.value, error.u), rel=1e-5, abs=1e-9)


@pytest.mark.parametrize(("of_limit", "refuted"), [(0.98, False), (1.02, True)])
def test_rows_refute_their_resolution_beyond_the_95_point_of_chi_squared(of_limit, refuted):
    """Residuals across the line alone, so that line and chi-squared are known; the limit is scipy.stats.chi2's."""
    x, sigma = np.array([10.0, 14.0, 19.0, 25.0, 30.0]), 0.01 / math.sqrt(12)
    columns = np.column_stack([np.ones(5), x])
    across = np.linalg.svd(columns.T)[2][-1]
    zero_variance = np.linalg.inv(columns.T @ columns / sigma**2 + np.diag([1 / PRIOR**2, 0]))[0, 0]
    spare = 3 + min(1, zero_variance / PRIOR**2)
    y = x + across * sigma * math.sqrt(of_limit * stats.chi2.ppf(0.95, spare))
    fit = gain_with_zero_prior(x, y, Instrument(resolution=0.01), u_zero=PRIOR)
    assert fit.dof_rows == pytest.approx(spare if refuted else math.inf, abs=0.2)


@pytest.mark.parametrize("scale", [0.02, 50.0])
def test_a_reference_in_another_unit_is_weighed_alike(scale):
    """A display of one unit against a reference of another, rows that scatter: zero and gain change by the unit."""
    x, y = np.array([10.0, 15.0, 20.0, 30.0]), np.array([10.3, 14.8, 20.5, 29.6])
    here = gain_with_zero_prior(x, y, METER, 0.05, u_zero=PRIOR)
    meter = Instrument(accuracy_percent=0.5, resolution=0.01 * scale)
    there = gain_with_zero_prior(x, y * scale, meter, 0.05, u_zero=PRIOR * scale)
    for told, as_here in ((there.gain, here.gain), (there.zero, here.zero)):
        assert (told.value, told.u) == pytest.approx((as_here.value * scale, as_here.u * scale), rel=1e-6)


@pytest.mark.parametrize("indicated", [0.0, 0.05, -3.0])
def test_no_relative_error_where_there_is_nothing_to_relate_to(indicated):
    fit = gain_and_zero([1, 2, 3], [0.9, 1.9, 2.9], METER)  # zero -0.1
    if indicated == -3.0:
        assert fit.error_of_indication(indicated).value < 0
    else:
        with pytest.raises(Indeterminate, match="no relative error"):
            fit.error_of_indication(indicated)


@pytest.mark.parametrize(("call", "says"), [
    (lambda: gain_only([1, 2], [1], METER), "equally many"),
    (lambda: gain_and_zero([], [], METER), "at least one"),
    (lambda: gain_with_zero_prior([1, math.nan], [1, 2], METER, u_zero=1), "finite"),
    (lambda: gain_with_zero_prior([1, 2], [1, 2], METER, u_zero=0), "prior of the zero"),
    (lambda: gain_only([1, 2], [1, 2], METER, -0.1), "resolution is a finite number"),
    (lambda: Instrument(accuracy_percent=-1), "accuracy and resolution"),
    (lambda: Instrument(resolution=math.nan), "accuracy and resolution"),
])
def test_nonsense_is_refused(call, says):
    with pytest.raises(ValueError, match=says):
        call()


def test_rows_that_contradict_each_other_beyond_all_resolution_still_give_a_fit():
    # A slip of the pen: 24 mV apart on the display, half a volt on the meter.
    fit = gain_with_zero_prior([14.82, 14.796], [15.01, 14.461], Instrument(resolution=0.001), 0.001, u_zero=0.05)
    assert fit.dof_rows == 1
    assert fit.row_sd > 0.2
    assert fit.gain.value == pytest.approx(29.471 / 29.616, rel=2e-3)


def test_rows_worth_a_quarter_each_are_four_times_as_uncertain():
    shown = np.array([12.0, 13.1, 14.2, 15.0, 16.1])
    read = shown * 1.01 + np.array([0.03, -0.05, 0.04, -0.03, 0.02])
    fit = gain_with_zero_prior(shown, read, Instrument(accuracy_percent=0.5, resolution=0.01), 0.01, u_zero=0.05)
    assert fit
    assert math.isfinite(fit.dof_rows)
    quarter = fit.with_rows_worth(0.25)
    np.testing.assert_allclose(quarter.covariance_rows, 4 * fit.covariance_rows)
    np.testing.assert_allclose(quarter.covariance_common, fit.covariance_common)
    assert (quarter.gain.value, quarter.dof_rows) == (fit.gain.value, max(1.0, fit.dof_rows / 4))
    assert quarter.gain.u == pytest.approx(math.sqrt(4 * fit.covariance_rows[1, 1] + fit.covariance_common[1, 1]))
    for share in (0.0, -1.0, 1.01, math.nan):
        with pytest.raises(ValueError, match="worth more than none and at most one"):
            fit.with_rows_worth(share)


@pytest.mark.parametrize("display_step", [0.001, 0.01, 0.1])
def test_scatter_that_nobody_declared_does_not_lean_on_the_coarser_display(display_step):
    # Rows as a display of true values, a meter that scatters by a fifth: the gain's mean over many is that of a fit
    # with both axes alike (scipy.odr would call it total least squares), whatever the steps of the display.
    def mean_gain(step: float) -> float:
        rng = np.random.default_rng(8)
        gains = []
        for _ in range(150):
            true = np.append(0.0, rng.uniform(24, 36, 12))
            fit = gain_with_zero_prior(
                np.round(true, 3), true + rng.normal(0, 5, 13), Instrument(1.0, 0.0, 0.001), step, u_zero=1.0
            )
            assert fit
            gains.append(fit.gain.value)
        return float(np.mean(gains))

    assert mean_gain(display_step) == pytest.approx(mean_gain(0.001), abs=0.002)
    assert mean_gain(display_step) < 1.025


def test_a_shift_of_the_meter_lifts_one_reading_and_leaves_the_zero():
    """Of 15 shown and read, 10 % and 0.1 are 1.5/√3 and 0.1/√3; the zero is known by its prior alone, to 2: by hand."""
    fit = gain_with_zero_prior([15.0], [15.0], Instrument(10, 0.1, 0), 0, u_zero=2)
    assert fit.zero.u == pytest.approx(2, rel=1e-9)
    assert fit.reference_at(15).u == pytest.approx(math.hypot(1.5, 0.1) / math.sqrt(3), rel=1e-6)
    assert fit.gain.u == pytest.approx(math.hypot(1.5 / 15, 0.1 / 15, 2 * math.sqrt(3) / 15) / math.sqrt(3), rel=1e-6)


@pytest.mark.parametrize("u_zero", [0.01, 0.03, 0.3])
def test_a_shift_of_the_meter_does_to_a_fit_what_it_does_to_the_readings(u_zero):
    """Without error in x the line is linear in y: all references one higher, and the zero known as before."""
    x, y, meter = np.array([4.0, 9.0, 15.0]), np.array([4.1, 9.1, 15.2]), Instrument(0, 0.2, 0.5)
    fit, lifted = (gain_with_zero_prior(x, y + more, meter, 0, u_zero=u_zero) for more in (0, 1e-3))
    leaning = np.array([lifted.zero.value - fit.zero.value, lifted.gain.value - fit.gain.value]) / 1e-3
    of_meter = fit.covariance_common - fit.covariance_prior
    assert of_meter == pytest.approx(0.2**2 / 3 * np.outer(leaning, leaning), rel=1e-6)
