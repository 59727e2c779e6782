"""What an error means for the charge, the reading that would settle a doubt, rows in any order and of any numbers."""

from math import isfinite

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from making.comparisons import FITTED, PACK, amperes, read, volts
from making.manifests import answer, expect
from preflint_rules.power.fit import Comparison, Judged
from preflint_rules.power.sensing.settling import settling

from preflint.api import Clear, Finding, Unproven
from preflint.compute.calibration import Instrument, gain_with_zero_prior
from preflint.testing import inspect_text, outcome

VOLTAGE, CURRENT = "power_sensing/voltage-scale", "power_sensing/current-scale"
METER = "accuracy_percent: 0.001, resolution_v: 0.01"


def test_a_last_digit_too_coarse_to_tell():
    told = answer(read(volts("[[16, 16.02]]")), VOLTAGE)
    assert (told.cause, told.message) == (
        "uncertain", "the display under-reads volts by 0.12 ± 3.58 % at 12.00 V: too near 1 % to tell",
    )
    assert told.do == "compare again with more digits: the last one of the display counts as 1 V"
    told = answer(read(volts("[[16.01, 16.02]]", "accuracy_percent: 0.1, resolution_v: 1")), VOLTAGE)
    assert told.do.endswith("with more digits: the last one of the meter counts as 1 V")


def test_a_last_digit_that_more_readings_average():
    reference = "accuracy_percent: 0.1, resolution_v: 0.01"
    told = answer(read(volts("[[15.6, 15.71]]", reference)), VOLTAGE)
    assert told.message.startswith("the display under-reads volts by 0.70 ± 0.42 % at 12.00 V")
    assert told.do == (
        "compare again with 4 readings or more at different pack voltages, or with more digits: "
        "the last one of the display counts as 0.1 V"
    )
    three = [[15.6, 15.71], [15.9, 16.01], [15.3, 15.41]]
    assert isinstance(answer(read(volts(three, reference)), VOLTAGE), Unproven)
    assert isinstance(answer(read(volts([*three, [15.0, 15.10]], reference)), VOLTAGE), Clear)


def test_a_row_repeated_tells_no_more_than_once():
    reference = "accuracy_percent: 0.1, resolution_v: 0.01"
    once, often = (answer(read(volts([[15.6, 15.71]] * n, reference)), VOLTAGE) for n in (1, 9))
    assert (once.message, once.do) == (often.message, often.do)
    assert often.evidence.startswith("9 readings of 2026-05-16")


def test_readings_that_scatter_more_than_their_digits():
    told = answer(read(volts("[[15.10, 15.22], [15.60, 15.41], [16.20, 16.29]]")), VOLTAGE)
    assert told.cause == "uncertain"
    assert told.do == "compare again with 5 readings or more at different pack voltages"
    assert "V that last digits do not explain; error of indication" in told.evidence


# Last digits of 0.01 V explain 0.0041 V a row, and 1.96·√2 times that, 0.0113 V, between two rows. Up to that U rests
# on the digits; beyond it on t at 97.5 % with one row to spare, 25.5, and a scatter of the difference / √2.
@pytest.mark.parametrize(
    ("meter", "at_full"), [(15.690, "± 0.14 %"), (15.691, "± 0.14 %"), (15.692, "± 0.98 %"), (15.710, "± 2.43 %")]
)
def test_where_two_readings_refute_their_digits(meter, at_full):
    told = answer(read(volts(f"[[15.32, 15.32], [15.68, {meter}]]", METER)), VOLTAGE)
    assert told.evidence.endswith(f"{at_full} at 16.80 V")
    assert ("last digits do not explain" in told.evidence) is (meter > 15.6913)
    assert isinstance(told, Unproven if meter > 15.6913 else Clear)


def test_a_digit_of_the_display_grows_with_the_setting():
    # 12.4 / 6.2 = 2, so that the 0.1 V shown then stand for 0.2 V shown now: 1.96·0.2/√12 V of 2·15.4 V, with the
    # meter's digit and what is known of the zero 0.74 % at 16.8 V and 0.82 % at 12 V.
    fitted = FITTED.replace("divider_ratio: 6.2", "divider_ratio: 12.4")
    text = read(volts("[[15.4, 15.46]]", METER), before=PACK + fitted)
    found = expect(Finding, answer(text, VOLTAGE))
    assert found.evidence.endswith("error of indication +99.22 % ± 0.85 % at 12.00 V and +99.22 % ± 0.78 % at 16.80 V")


def test_more_readings_are_counted_from_five_on():
    off = (0.14, -0.1, 0.06, -0.12, 0.08)
    rows = [[v, round(v + d, 2)] for v, d in zip((14.51, 14.83, 15.22, 15.61, 16.0), off, strict=True)]
    told = answer(read(volts(rows, "accuracy_percent: 0.1, resolution_v: 0.01")), VOLTAGE)
    assert told.do == "compare again with 7 readings or more at different pack voltages"
    assert told.cause == "uncertain"


def test_a_reading_near_the_lowest_voltage_is_asked_for_where_the_zero_is_the_doubt():
    reference = "accuracy_percent: 0.05, resolution_v: 0.001"
    told = answer(read(volts("[[16.652, 16.801]]", reference)), VOLTAGE)
    assert told.do == "compare again with a reading near 12 V among them"
    settled = answer(read(volts("[[16.652, 16.801], [11.902, 12.001]]", reference)), VOLTAGE)
    assert not isinstance(settled, Unproven)


@pytest.mark.parametrize(
    ("packs", "used"),
    # 12.16 % too little is counted, so that 1/0.8784 of the count is used.
    [
        ("[{label: A1, capacity_mah: 6000}]", "when 4800 of 6000 mAh are counted, 5464 are used"),
        ("[{label: A1, capacity_mah: 6000}, {label: B1, capacity_mah: 8000}]",
         "when 6400 of 8000 mAh are counted, 7286 are used"),
        ("[{label: A1}]", "when 1000 mAh are counted, 1138 are used"),
    ],
)
def test_what_an_error_of_the_current_does_to_the_charge(packs, used):
    low = amperes("[[0, 0.0, 0.0], [35, 7.9, 9.0], [55, 18.8, 21.4]]")
    found = answer(read(of_amperes=low, before=f"packs: {packs}\n{FITTED}"), CURRENT)
    assert found.message == (
        "the display under-reads amperes by 12.2 ± 1.5 % at 21.4 A: more is drawn than counted"
    )
    assert found.evidence.startswith(f"dangerous, {used}; ")


def test_amperes_that_read_high():
    high = amperes("[[0, 0.0, 0.0], [55, 24.0, 21.4]]")
    found = answer(read(of_amperes=high, before=PACK.replace("cells: 4", "capacity_mah: 5000") + FITTED), CURRENT)
    assert found.message == "the display over-reads amperes by 12.1 ± 2.0 % at 21.4 A: less is drawn than counted"
    assert found.evidence.startswith("when 4000 of 5000 mAh are counted, 3567 are used; ")
    assert found.evidence.startswith("when 4000 of 5000 mAh are counted, 3567 are used; ")


@pytest.mark.parametrize(
    ("chemistry", "means"),
    # 4.2 V·2.4 % = 101 mV a cell by 3.5 and 10 mV for each per cent, by 5 and 12; life is too flat to say.
    [
        ("lipo", "dangerous, the pack holds 7 to 21 % less charge than shown"),
        ("lipo-hv", "dangerous, the pack holds 7 to 21 % less charge than shown"),
        ("li-ion", "dangerous, the pack holds 5 to 12 % less charge than shown"),
        ("life", "dangerous, the pack holds less charge than shown"),
    ],
)
def test_how_much_charge_an_error_of_the_volts_hides(chemistry, means):
    text = read(volts("[[12.288, 12.0], [15.36, 15.0]]"), before=PACK.replace("lipo", chemistry) + FITTED)
    found = expect(Finding, answer(text, VOLTAGE))
    assert found.evidence.startswith(f"{means}; ")


@pytest.mark.parametrize("chemistry", ["lipo", "lipo-hv"])
# Of 3 V a cell: 240 mV for 8 %, 360 mV for 12 %, 1020 mV for 34 %.
@pytest.mark.parametrize(("times", "means"), [
    (1.08, "dangerous, the pack holds 24 to 69 % less charge than shown"),
    (1.12, "dangerous, the pack holds at least 36 % less charge than shown"),
    (1.34, "dangerous, the pack holds far less charge than shown"),
    (0.88, "the pack holds at least 36 % more charge than shown, and warnings come early"),
])
def test_an_error_may_hide_all_the_charge(times, means, chemistry):
    rows = [[round(12.0 * times, 3), 12.0], [round(15.0 * times, 3), 15.0]]
    found = expect(Finding, answer(read(volts(rows), before=PACK.replace("lipo", chemistry) + FITTED), VOLTAGE))
    assert found.evidence.startswith(f"{means}; ")


ROWS = st.lists(st.tuples(st.floats(11.5, 17), st.floats(-0.3, 0.3)), min_size=1, max_size=6)


@settings(derandomize=True, deadline=None, max_examples=60)
@given(rows=ROWS, seed=st.randoms(use_true_random=False))
def test_the_order_of_the_rows_changes_nothing(rows, seed):
    written = [[round(true, 2), round(true * 1.01 + off, 2)] for true, off in rows]
    shuffled = list(written)
    seed.shuffle(shuffled)
    once, again = (inspect_text(read(volts(one))) for one in (written, shuffled))
    one, other = outcome(once, VOLTAGE), outcome(again, VOLTAGE)
    assert type(one) is type(other)
    for field in ("message", "evidence", "do"):
        assert getattr(one, field, None) == getattr(other, field, None)
    figures = [[(f.quantity, f.case, f.value, f.standard_uncertainty) for f in s.computed] for s in (once, again)]
    assert figures[0] == figures[1]


ANY = st.one_of(st.sampled_from([0.0, 0.5, 15.0, 100.0, -1.0]), st.floats(-1e6, 1e6).map(lambda v: round(v, 3)))
GOOD = st.tuples(st.floats(12, 16.8), st.floats(0.998, 1.002)).map(lambda row: (round(row[0] * row[1], 2), row[0]))


def told_of(of_volts, of_amperes, fixed):
    """What is answered of comparisons with these rows; every figure is a number."""
    accuracy = f"accuracy_percent: 0.5, accuracy_v: {fixed}, accuracy_a: {fixed}"
    seen = inspect_text(read(volts([*map(list, of_volts)], accuracy), amperes([*map(list, of_amperes)], accuracy)))
    for figure in seen.computed:
        assert isfinite(figure.value)
        assert figure.standard_uncertainty is None or isfinite(figure.standard_uncertainty)
    return outcome(seen, VOLTAGE), outcome(seen, CURRENT)


def test_no_numbers_are_clear_where_a_fifth_more_is_clear_too():
    """The limits are 1 % of volts and 5 % of amperes: of two displays of which one shows a fifth more, one is wrong."""
    kinds = [set(), set()]

    @settings(derandomize=True, deadline=None, max_examples=100)
    @given(
        of_volts=st.one_of(
            st.lists(GOOD, min_size=3, max_size=5), st.lists(st.tuples(ANY, ANY), min_size=1, max_size=5)
        ),
        of_amperes=st.lists(st.tuples(st.integers(0, 100), ANY, ANY), max_size=3),
        sound=st.booleans(),
        fixed=st.sampled_from([0, 1e-3, 5]),
    )
    def tried(of_volts, of_amperes, sound, fixed):
        if sound or not of_amperes:
            of_amperes = [(0, 0.0, 0.0), (35, 8.95, 9.0), (55, 20.9, 21.0), *of_amperes[1:]]
        once = told_of(of_volts, of_amperes, fixed)
        higher = [(round(shown * 1.2, 4), true) for shown, true in of_volts]
        other = told_of(higher, [(t, round(shown * 1.2, 4), true) for t, shown, true in of_amperes], fixed)
        for rule, (one, more) in enumerate(zip(once, other, strict=True)):
            assert isinstance(one, Finding | Clear | Unproven)
            assert not (isinstance(one, Clear) and isinstance(more, Clear)), (of_volts, of_amperes, fixed)
            kinds[rule] |= {type(one), type(more)}

    tried()
    assert kinds == [{Finding, Clear, Unproven}] * 2


def test_every_measured_figure_carries_its_uncertainty():
    seen = inspect_text(read(volts("[[15.1, 15.11], [16.2, 16.22]]"), amperes()))
    ours = [f for f in seen.computed if f.quantity.startswith(("voltage_", "current_", "corrected_"))]
    assert len(ours) == 6 + 6 + 3
    for figure in ours:
        held = figure.case == "gain-only" and "zero" in figure.quantity
        assert figure.standard_uncertainty == 0 if held else figure.standard_uncertainty > 0


def advised(of_meter, step, best_percent=0.5):
    """For an error of 3 % at 20 A where 5 % are allowed: 2 % are left for U, of which the rows take 0.196 %."""
    fit = gain_with_zero_prior([20.0, 30.0], [20.0, 30.0], Instrument(resolution=step), 0.1, u_zero=0.5)
    fits = Comparison(np.array([20.0, 30.0]), np.array([20.0, 30.0]), (fit,), fit, 0.1, step)
    one = Judged(20.0, 0.03, 0.0216, 0.001, of_meter, 0.0, 1.959964, "uncertain")
    return settling(one, 0.05, fits, "a", best_percent)


# Half a last digit of 0.5 A is u = 0.25/√3/20 = 0.7217 %; without it the meter may have √(2² - 0.196²)/1.96 = 1.0155 %
# so with it √(1.0155² + 0.7217²) = 1.2458 %. Of 0.1 A it is 0.1443 %: without it the meter may have too little still.
# Alone a meter may have √3·1.0155 = 1.759 %, as the half width of a rectangle. Worked by hand.
@pytest.mark.parametrize(("of_meter", "step", "advice"), [
    (0.01240, 0.5, "compare again with a meter that shows 0.05 A, and note its zero (zero_a)"),
    (0.01252, 0.5, "compare again with a meter good to 1.7 % of the reading"),
    (0.01080, 0.1, "compare again with a meter good to 1.7 % of the reading"),
])  # fmt: skip
def test_what_settles_a_doubt_of_the_meter(of_meter, step, advice):
    assert advised(of_meter, step) == advice


@pytest.mark.parametrize(("best", "advice"), [
    (1.75, "compare again with a meter good to 1.7 % of the reading"),
    (1.77, "the error lies close to the limit: enter the corrected setting and compare again"),
])  # fmt: skip
def test_no_meter_is_asked_for_that_nobody_has(best, advice):
    assert advised(0.0125, 0.1, best) == advice
