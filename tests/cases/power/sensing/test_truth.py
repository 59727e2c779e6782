"""Settings and verdicts against a model of sensor and display that uses nothing of ours.

A display shows input × setting. The input is the true value through the real divider or sensor. The model
knows the truth, the rules only what is written; a setting that they offer, entered into the model, must show
the truth.
"""

import math
import re

from hypothesis import given, settings
from hypothesis import strategies as st
from making.comparisons import amperes, volts
from making.manifests import answer, expect, manifest

from preflint.api import Clear, Finding, Unproven
from preflint.testing import computed, inspect_text, outcome

VOLTAGE, CURRENT = "power_sensing/voltage-scale", "power_sensing/current-scale"


def shown_volts(true_v, real_ratio, set_ratio):
    return true_v / real_ratio * set_ratio


def shown_amperes(true_a, real_mv_per_a, real_zero_mv, set_mv_per_a, set_zero_mv):
    return (real_zero_mv + true_a * real_mv_per_a - set_zero_mv) / set_mv_per_a


def with_volts(cells, real_ratio, in_force, installed, accuracy):
    true = [round(cells * a_cell, 2) for a_cell in (3.6, 3.9, 4.15)]
    rows = [[round(shown_volts(v, real_ratio, in_force), 3), v] for v in true]
    reference = f"instrument: meter, accuracy_percent: {accuracy}, resolution_v: 0.01"
    return manifest(
        f"packs: [{{label: A1, chemistry: lipo, cells: {cells}}}]\npower_sensing: {{divider_ratio: {installed:.6f}}}\n",
        records={"voltage_comparison": volts(rows, reference, f"{in_force:.6f}")},
    )


def with_amperes(real, in_force, installed, accuracy):
    true = [0.0, 8.0, 16.0, 32.0]
    rows = [[t, round(shown_amperes(a, *real, *in_force), 2), a] for t, a in zip((0, 20, 40, 60), true, strict=True)]
    reference = f"instrument: clamp meter, accuracy_percent: {accuracy}, resolution_a: 0.01, zero_a: 0.0"
    scale = f"sensor_mv_per_a: {in_force[0]:.6f}, zero_mv: {in_force[1]:.6f}"
    return manifest(
        f"power_sensing: {{sensor_mv_per_a: {installed[0]:.6f}, zero_mv: {installed[1]:.6f}}}\n",
        records={"current_comparison": amperes(rows, reference, scale)},
    )


def number_after(words, text):
    return float(re.search(rf"{words} (-?[0-9.e+-]+)", text).group(1))


@settings(derandomize=True, deadline=None, max_examples=60)
@given(
    cells=st.integers(3, 12), real=st.floats(4, 30), error=st.floats(-0.2, 0.2),
    accuracy=st.sampled_from([0.1, 0.5, 1.0]),
)
def test_the_voltage_verdict_knows_the_true_error_and_its_remedy_removes_it(cells, real, error, accuracy):
    installed = round(real * (1 + error), 4)
    seen = inspect_text(with_volts(cells, real, installed, installed, accuracy))
    told = outcome(seen, VOLTAGE)
    true_error = installed / real - 1
    doubt = 2.2 * accuracy / 100 / math.sqrt(3) + 0.004  # generous: the meter, last digits and the zero
    if abs(true_error) > 0.01 + doubt:
        assert isinstance(told, Finding)
    if abs(true_error) < 0.01 - doubt:
        assert isinstance(told, Clear)
    if isinstance(told, Finding):
        assert abs(true_error) > 0.01 - 0.001
        assert ("over-reads" in told.message) == (true_error > 0)
        entered = number_after("set divider_ratio to", told.do)
        assert abs(shown_volts(cells * 3.7, real, entered) / (cells * 3.7) - 1) < 0.001
    corrected = computed(seen, "corrected_divider_ratio")
    assert abs(corrected.value / real - 1) < 0.001
    assert corrected.standard_uncertainty / corrected.value > 0.99 * accuracy / 100 / math.sqrt(3)


@settings(derandomize=True, deadline=None, max_examples=60)
@given(real=st.floats(4, 30), error=st.one_of(st.floats(-0.2, -0.02), st.floats(0.02, 0.2)))
def test_a_voltage_setting_changed_since(real, error):
    in_force = real * (1 + error)
    right = expect(Unproven, answer(with_volts(6, real, in_force, real, 0.2), VOLTAGE))
    assert right.cause == "stale"
    backwards = expect(Finding, answer(with_volts(6, real, in_force, in_force * (1 + error), 0.2), VOLTAGE))
    assert abs(number_after("set divider_ratio to", backwards.do) / real - 1) < 0.001


@settings(derandomize=True, deadline=None, max_examples=60)
@given(
    scale=st.floats(10, 60), zero=st.floats(0, 1500), error=st.floats(-0.3, 0.3), zero_error=st.floats(-1.5, 1.5),
    accuracy=st.sampled_from([0.5, 1.5]),
)
def test_the_current_verdict_knows_the_true_error_and_its_remedy_removes_it(scale, zero, error, zero_error, accuracy):
    real = (scale, zero)
    in_force = (scale * (1 + error), zero - zero_error * scale)
    seen = inspect_text(with_amperes(real, in_force, in_force, accuracy))
    found = outcome(seen, CURRENT)
    true_error = shown_amperes(32.0, *real, *in_force) / 32.0 - 1
    doubt = 2.2 * accuracy / 100 / math.sqrt(3) + 0.01
    if abs(true_error) > 0.05 + doubt:
        assert isinstance(found, Finding)
    if abs(true_error) < 0.05 - doubt:
        assert isinstance(found, Clear)
    if isinstance(found, Finding):
        assert ("under-reads" in found.message) == (true_error < 0)
        entered = (number_after("set sensor_mv_per_a to", found.do), number_after("and zero_mv to", found.do))
        for true_a in (0.0, 10.0, 32.0):
            assert abs(shown_amperes(true_a, *real, *entered) - true_a) < 0.15
    assert abs(computed(seen, "corrected_sensor_mv_per_a").value / scale - 1) < 0.005
    told = computed(seen, "corrected_zero_mv")  # by luck all readings may be whole amperes, and count as that coarse
    assert abs(told.value - zero) < 0.02 * scale + 0.05 + told.standard_uncertainty


def test_no_digit_of_a_zero_is_offered_that_no_input_tells_apart():
    # The display shows 0.01 A, which is 0.24 mV of a sensor of 24 mV/A.
    found = expect(Finding, answer(with_amperes((24.0, 3.3), (26.4, 0.0), (26.4, 0.0), 0.5), CURRENT))
    offered = found.do.split("zero_mv to ")[1].split(", ")[0]
    assert abs(float(offered) - 3.3) < 0.24
    assert len(offered.partition(".")[2]) <= 2


def zero_of_sensor(scale, rows, accuracy):
    """The zero_mv offered, and how well it is known, with a display set to this scale and 552.8 mV."""
    reference = f"instrument: clamp meter, accuracy_percent: {accuracy}, resolution_a: 0.1, zero_a: 0.0"
    set_as = f"sensor_mv_per_a: {scale}, zero_mv: 552.8"
    records = {"current_comparison": amperes(rows, reference, set_as)}
    told = computed(inspect_text(manifest(f"power_sensing: {{{set_as}}}\n", records=records)), "corrected_zero_mv")
    return told.value, told.standard_uncertainty


def test_how_well_the_zero_of_a_sensor_is_known_hangs_on_no_setting_and_no_factor_of_the_meter():
    """Of 2.64 mV/A the display shows ten times what it shows of 26.4; the millivolts of the sensor are the same.

    A meter that reads all currents too high by one factor leaves the millivolts at which it reads nothing.
    """
    once = zero_of_sensor(26.4, "[[0, -2.1, 0.0], [20, 5.9, 8.0], [40, 14.0, 16.0], [60, 30.1, 32.0]]", 1.5)
    tenfold = "[[0, -21, 0.0], [20, 59, 8.0], [40, 140, 16.0], [60, 301, 32.0]]"
    for accuracy in (0.5, 1.5, 5):
        told = zero_of_sensor(2.64, tenfold, accuracy)
        assert all(math.isclose(one, other, rel_tol=1e-9) for one, other in zip(told, once, strict=True))


@settings(derandomize=True, deadline=None, max_examples=40)
@given(scale=st.floats(10, 60), error=st.one_of(st.floats(-0.25, -0.08), st.floats(0.08, 0.25)))
def test_a_current_setting_changed_since(scale, error):
    real, in_force = (scale, 500.0), (scale * (1 + error), 500.0)
    right = expect(Unproven, answer(with_amperes(real, in_force, real, 1.0), CURRENT))
    assert right.cause == "stale"
    doubled = (scale * (1 + error) ** 2, 500.0)
    assert isinstance(answer(with_amperes(real, in_force, doubled, 1.0), CURRENT), Finding)


@settings(derandomize=True, deadline=None, max_examples=40)
@given(ratio=st.floats(0.95, 1.05), factor=st.sampled_from([2.0, 0.5, 3.0]))
def test_a_verdict_does_not_hang_on_the_divider(ratio, factor):
    once = answer(with_volts(6, 10.0, 10.0 * ratio, 10.0 * ratio, 0.5), VOLTAGE)
    scaled = factor * 10.0
    again = answer(with_volts(6, scaled, scaled * ratio, scaled * ratio, 0.5), VOLTAGE)
    assert type(once) is type(again)
