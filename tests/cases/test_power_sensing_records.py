"""Records that cannot be what they say: nothing fitted, no meter without error, a display that stands still,
readings of another aircraft, columns exchanged, digits too coarse; and rows in any order."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from preflint.api import PACK_UNPLUGGED, Clear, Finding, NotApplicable, Unproven
from preflint.testing import computed, inspect_text, marked, outcome

VOLTAGE, CURRENT = "power_sensing/voltage-scale", "power_sensing/current-scale"
HEAD = "preflint: 1\naircraft: {name: Trial, layout: quad-x}\npacks: [{label: A1, chemistry: lipo, cells: 4}]\n"
FITTED = (
    "power_sensing: {divider_ratio: 6.2, sensor_mv_per_a: 26.4, zero_mv: 512, input_full_scale_mv: 3300}\nrecords:\n"
)
NONE = "power_sensing: none\nrecords:\n"


def volts(rows="[[15.45, 15.46]]", reference="accuracy_percent: 0.5, resolution_v: 0.01"):
    return (
        "  voltage_comparison:\n    - date: 2026-05-16\n      in_force: {divider_ratio: 6.2}\n      loaded: false\n"
        f"      reference: {{{reference}}}\n"
        f"      columns: [indicated_v, reference_v]\n      rows: {rows}\n"
    )


def amperes(
    rows="[[0, 0.1, 0.0], [35, 8.8, 9.0], [55, 20.9, 21.4]]", reference="accuracy_percent: 1.5, resolution_a: 0.1"
):
    return (
        "  current_comparison:\n    - date: 2026-05-16\n      route: restrained\n"
        "      in_force: {sensor_mv_per_a: 26.4, zero_mv: 512}\n"
        f"      reference: {{{reference}}}\n"
        f"      columns: [throttle_percent, indicated_a, reference_a]\n      rows: {rows}\n"
    )


def answer(text, rule):
    return outcome(inspect_text(text), rule)


@pytest.mark.parametrize(
    ("record", "rule"),
    [
        (volts(), VOLTAGE),
        ("  hover:\n    - {date: 2026-05-16, mean_voltage_v: 15.2}\n", VOLTAGE),
        (amperes(), CURRENT),
        ("  hover:\n    - {date: 2026-05-16, mean_current_a: 24}\n", CURRENT),
        ("  recharge:\n    - {date: 2026-05-16, counted_mah: 4000, put_back_mah: 4100}\n", CURRENT),
    ],
)
def test_none_is_not_believed_where_its_readings_are_recorded(record, rule):
    text = HEAD + NONE + record
    told = answer(text, rule)
    assert (told.cause, marked(text, told.place), told.precaution) == ("absent", "none", PACK_UNPLUGGED)
    assert told.message == "power_sensing is none, but its readings of 2026-05-16 are recorded"
    assert told.how == "write down the power sensing that is fitted, or its removal in the logbook"
    assert [related.message for related in told.related] == ["read from power sensing on 2026-05-16"]
    other = CURRENT if rule == VOLTAGE else VOLTAGE
    assert answer(text, other) == NotApplicable("no power sensing is fitted")


@pytest.mark.parametrize(
    ("day", "part", "kind"),
    [
        ("2026-05-17", "power-sensor", NotApplicable),
        ("2026-05-16", "power-sensor", NotApplicable),  # which came first is open; the removal explains it
        ("2026-05-15", "power-sensor", Unproven),
        ("2026-05-17", "barometer", Unproven),
    ],
)
def test_a_removal_since_explains_it(day, part, kind):
    logbook = f"logbook:\n  - {{date: {day}, kind: removed, part: {part}}}\n"
    assert isinstance(answer(HEAD + NONE + volts() + logbook, VOLTAGE), kind)


def test_readings_after_the_day_judged_contradict_nothing():
    told = outcome(inspect_text(HEAD + NONE + volts(), judged_on="2026-05-15"), VOLTAGE)
    assert told == NotApplicable("no power sensing is fitted")


@pytest.mark.parametrize(
    ("reference", "mark"),
    [
        ("accuracy_percent: 0, resolution_v: 0.01", "0"),
        ("accuracy_percent: 0.0, accuracy_v: 0", "0.0"),
        ("accuracy_v: 0", "0"),
    ],
)
def test_no_meter_is_without_error(reference, mark):
    text = HEAD + FITTED + volts(reference=reference)
    told = answer(text, VOLTAGE)
    assert (told.cause, marked(text, told.place)) == ("absent", mark)
    assert told.message == "the meter's accuracy is written as 0, but no meter is without error"
    assert told.how == ("read the accuracy in the meter's manual: accuracy_percent, and accuracy_v for its fixed part")
    with pytest.raises(LookupError):
        computed(inspect_text(text), "voltage_gain", "gain-only")


@pytest.mark.parametrize(
    "reference",
    ["accuracy_percent: 0, accuracy_v: 0.02", "accuracy_v: 0.02", "accuracy_percent: 0.1, accuracy_v: 0"],
)
def test_one_of_the_two_accuracies_is_enough(reference):
    told = answer(HEAD + FITTED + volts(reference=f"{reference}, resolution_v: 0.01"), VOLTAGE)
    assert isinstance(told, Clear)
    assert "good to 0 " not in told.evidence


def test_no_clamp_meter_is_without_error():
    text = HEAD + FITTED + amperes(reference="accuracy_percent: 0")
    told = answer(text, CURRENT)
    assert (told.cause, marked(text, told.place)) == ("absent", "0")
    assert told.how.endswith("accuracy_percent, and accuracy_a for its fixed part")


@pytest.mark.parametrize(
    ("rows", "message"),
    [
        (
            "[[15.12, 15.40], [15.12, 14.90], [15.12, 15.90]]",
            "the display stands at 15.12 V while the meter goes from 14.9 to 15.9 V in the readings of 2026-05-16",
        ),
        (
            "[[14.92, 15.41], [15.43, 15.41]]",
            "the meter stands at 15.41 V while the display goes from 14.92 to 15.43 V in the readings of 2026-05-16",
        ),
    ],
)
def test_one_stands_still_while_the_other_moves(rows, message):
    told = answer(HEAD + FITTED + volts(rows), VOLTAGE)
    assert (told.cause, told.message) == ("uncertain", message)
    assert told.how == "look whether display and meter follow the pack at all, then compare again"


# 4·(0.01 + 0.01) V + 1 % of the highest reading: 0.08 + 0.156 V.
@pytest.mark.parametrize(("meter", "stands"), [(15.63, False), (15.66, True)])
def test_how_much_the_other_must_move(meter, stands):
    told = answer(HEAD + FITTED + volts(f"[[15.52, 15.41], [15.52, {meter}]]"), VOLTAGE)
    assert ("stands at" in getattr(told, "message", "")) is stands


def test_a_current_that_stands_still():
    told = answer(HEAD + FITTED + amperes("[[0, 0.1, 0.0], [35, 0.1, 9.0], [55, 0.1, 21.4]]"), CURRENT)
    assert told.message == (
        "the display stands at 0.1 A while the meter goes from 0 to 21.4 A in the readings of 2026-05-16"
    )


# The input goes to 3300 mV × 6.2 = 20.46 V, 1 % more being left to last digits: 20.66 V.
@pytest.mark.parametrize(("shown", "beyond"), [(20.65, False), (20.68, True)])
def test_volts_that_this_input_cannot_show(shown, beyond):
    text = HEAD + FITTED + volts(f"[[15.45, 15.46], [{shown}, 15.46], [15.46, 15.46]]")
    told = answer(text, VOLTAGE)
    if not beyond:
        assert not getattr(told, "message", "").startswith("the display is said")
        return
    assert (told.cause, marked(text, told.place)) == ("uncertain", "[20.68, 15.46]")
    assert told.message == (
        "the display is said to have shown 20.68 V on 2026-05-16, but with divider_ratio 6.2 it shows 20.46 V at most"
    )
    assert told.how == (
        "look whether the readings are of this aircraft, and whether divider_ratio and input_full_scale_mv are "
        "written as they were set; then take the readings again"
    )
    assert told.evidence == "input_full_scale_mv 3300 × divider_ratio 6.2 = 20.46 V"
    assert [marked(text, related.place) for related in told.related] == ["6.2", "3300"]
    with pytest.raises(LookupError):
        computed(inspect_text(text), "voltage_gain", "gain-only")


# (3300 - 512) mV / 26.4 mV/A = 105.6 A, 1 % more being left to last digits: 106.7 A.
@pytest.mark.parametrize(("shown", "beyond"), [(106.6, False), (106.7, True)])
def test_amperes_that_this_sensor_cannot_show(shown, beyond):
    text = HEAD + FITTED + amperes(f"[[0, 0.1, 0.0], [80, {shown}, 100.0], [55, 60.9, 61.4]]")
    told = answer(text, CURRENT)
    if beyond:
        assert (told.cause, marked(text, told.place)) == ("uncertain", "[80, 106.7, 100.0]")
        assert "go up to 106.7 A" in told.message
    else:
        assert "go up to" not in getattr(told, "message", "")


def test_throttle_that_does_not_rise_with_the_current():
    text = HEAD + FITTED + amperes("[[55, 0.1, 0.0], [35, 8.8, 9.0], [0, 20.9, 21.4]]")
    told = answer(text, CURRENT)
    assert (told.cause, told.message) == ("absent", "the meter read 21.4 A at 0 % throttle, but 0.0 A at 55 %")
    assert told.how == "look whether columns are exchanged, and compare again"
    alike = answer(text.replace("[0, 20.9", "[55, 20.9"), CURRENT)
    assert alike.message == "the meter read 21.4 A at 55 % throttle, but 0.0 A at 55 %"
    assert isinstance(answer(text.replace("[55, 0.1", "[0, 0.1").replace("[0, 20.9", "[55, 20.9"), CURRENT), Clear)


@pytest.mark.parametrize(
    ("rows", "message"),
    [
        ("[[0, 0.1, 0.0], [35, 8.8, 9.0], [101, 20.9, 21.4]]", "a throttle of 101 % is recorded"),
        (
            "[[0, 0, 0.0], [8.8, 35, 9.0], [20.9, 55, 21.4]]",
            "throttle_percent has the meter's numbers, and indicated_a has not",
        ),
    ],
)
def test_throttle_and_amperes_exchanged(rows, message):
    told = answer(HEAD + FITTED + amperes(rows), CURRENT)
    assert (told.cause, told.message) == ("absent", message)
    assert told.how == "look whether columns are exchanged, and compare again"


@pytest.mark.parametrize(
    "rows",
    [
        "[[0, 0.1, 0.0], [35, 8.8, 9.0], [100, 20.9, 21.4]]",
        "[[0, 0, 0.0], [9.5, 35, 9.0], [20.9, 55, 21.4]]",  # 5.6 % from what the meter read
        "[[0, 0.1, 0.0], [9.0, 8.8, 9.0], [21.4, 20.9, 21.4]]",  # a throttle that has the meter's numbers by chance
        "[[0, 0.1, 0.0], [21.4, 12.0, 21.4]]",  # a single row under load: chance, and found
    ],
)
def test_throttle_and_amperes_not_exchanged(rows):
    assert "exchanged" not in getattr(answer(HEAD + FITTED + amperes(rows), CURRENT), "how", "")


def test_a_last_digit_too_coarse_to_tell():
    told = answer(HEAD + FITTED + volts("[[16.0, 16.02]]"), VOLTAGE)
    assert (told.cause, told.message) == (
        "uncertain",
        "the display under-reads volts by 0.12 % ± 3.58 % at 12.00 V: too uncertain to tell from 1 %",
    )
    assert told.how == "compare again with more digits: the last one of the display counts as 1 V"
    told = answer(HEAD + FITTED + volts("[[16.01, 16.02]]", "accuracy_percent: 0.1, resolution_v: 1"), VOLTAGE)
    assert told.how.endswith("with more digits: the last one of the meter counts as 1 V")


def test_a_last_digit_that_more_readings_average():
    reference = "accuracy_percent: 0.1, resolution_v: 0.01"
    told = answer(HEAD + FITTED + volts("[[15.6, 15.71]]", reference), VOLTAGE)
    assert told.message.startswith("the display under-reads volts by 0.70 % ± 0.42 % at 12.00 V")
    assert told.how == (
        "compare again with 4 readings or more at different pack voltages, or with more digits: "
        "the last one of the display counts as 0.1 V"
    )
    three = [[15.6, 15.71], [15.9, 16.01], [15.3, 15.41]]
    assert isinstance(answer(HEAD + FITTED + volts(str(three), reference), VOLTAGE), Unproven)
    assert isinstance(answer(HEAD + FITTED + volts(str([*three, [15.0, 15.10]]), reference), VOLTAGE), Clear)


def test_a_row_repeated_tells_no_more_than_once():
    reference = "accuracy_percent: 0.1, resolution_v: 0.01"
    once, often = (answer(HEAD + FITTED + volts(str([[15.6, 15.71]] * n), reference), VOLTAGE) for n in (1, 9))
    assert (once.message, once.how) == (often.message, often.how)
    assert often.evidence.startswith("9 readings of 2026-05-16")


def test_readings_that_scatter_more_than_their_digits():
    told = answer(HEAD + FITTED + volts("[[15.10, 15.22], [15.60, 15.41], [16.20, 16.29]]"), VOLTAGE)
    assert told.cause == "uncertain"
    assert told.how == "compare again with 5 readings or more at different pack voltages"
    assert "V that last digits do not explain; error of indication" in told.evidence


def test_more_readings_are_counted_from_five_on():
    off = (0.14, -0.1, 0.06, -0.12, 0.08)
    rows = [[v, round(v + d, 2)] for v, d in zip((14.51, 14.83, 15.22, 15.61, 16.0), off, strict=True)]
    told = answer(HEAD + FITTED + volts(str(rows), "accuracy_percent: 0.1, resolution_v: 0.01"), VOLTAGE)
    assert told.how == "compare again with 7 readings or more at different pack voltages"
    assert told.cause == "uncertain"


def test_a_reading_near_the_lowest_voltage_is_asked_for_where_the_zero_is_the_doubt():
    reference = "accuracy_percent: 0.05, resolution_v: 0.001"
    told = answer(HEAD + FITTED + volts("[[16.652, 16.801]]", reference), VOLTAGE)
    assert told.how == "compare again with a reading near 12 V among them"
    settled = answer(HEAD + FITTED + volts("[[16.652, 16.801], [11.902, 12.001]]", reference), VOLTAGE)
    assert not isinstance(settled, Unproven)


@pytest.mark.parametrize(
    ("packs", "used"),
    # 12.16 % too little is counted, so that 1/0.8784 of the count is used.
    [
        ("[{label: A1, capacity_mah: 6000}]", "when 4800 of 6000 mAh are counted, 5464 are used"),
        (
            "[{label: A1, capacity_mah: 6000}, {label: B1, capacity_mah: 8000}]",
            "when 6400 of 8000 mAh are counted, 7286 are used",
        ),
        ("[{label: A1}]", "when 1000 mAh are counted, 1138 are used"),
    ],
)
def test_what_an_error_of_the_current_does_to_the_charge(packs, used):
    text = HEAD.replace("[{label: A1, chemistry: lipo, cells: 4}]", packs) + FITTED
    found = answer(text + amperes("[[0, 0.0, 0.0], [35, 7.9, 9.0], [55, 18.8, 21.4]]"), CURRENT)
    assert found.message == f"the display under-reads amperes by 12.2 % ± 1.5 % at 21.4 A: dangerous, {used}"


def test_amperes_that_read_high():
    text = HEAD.replace("cells: 4", "capacity_mah: 5000") + FITTED
    found = answer(text + amperes("[[0, 0.0, 0.0], [55, 24.0, 21.4]]"), CURRENT)
    assert found.message == (
        "the display over-reads amperes by 12.1 % ± 3.3 % at 21.4 A: when 4000 of 5000 mAh are counted, 3567 are used"
    )


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
    text = HEAD.replace("lipo", chemistry) + FITTED + volts("[[12.288, 12.0], [15.36, 15.0]]")
    found = answer(text, VOLTAGE)
    assert isinstance(found, Finding)
    assert found.message.endswith(f": {means}")


ROWS = st.lists(st.tuples(st.floats(11.5, 17), st.floats(-0.3, 0.3)), min_size=1, max_size=6)


@settings(derandomize=True, deadline=None, max_examples=60)
@given(rows=ROWS, seed=st.randoms(use_true_random=False))
def test_the_order_of_the_rows_changes_nothing(rows, seed):
    written = [[round(true, 2), round(true * 1.01 + off, 2)] for true, off in rows]
    shuffled = list(written)
    seed.shuffle(shuffled)
    once, again = (inspect_text(HEAD + FITTED + volts(str(one))) for one in (written, shuffled))
    one, other = outcome(once, VOLTAGE), outcome(again, VOLTAGE)
    assert type(one) is type(other)
    for field in ("message", "evidence", "remedy", "how"):
        assert getattr(one, field, None) == getattr(other, field, None)
    figures = [
        [(f.quantity, f.case, f.value, f.standard_uncertainty) for f in s.judgement.computed] for s in (once, again)
    ]
    assert figures[0] == figures[1]


def test_every_measured_figure_carries_its_uncertainty():
    seen = inspect_text(HEAD + FITTED + volts("[[15.1, 15.11], [16.2, 16.22]]") + amperes())
    ours = [f for f in seen.judgement.computed if f.quantity.startswith(("voltage_", "current_", "corrected_"))]
    assert len(ours) == 6 + 6 + 3
    for figure in ours:
        held = figure.case == "gain-only" and "zero" in figure.quantity
        assert figure.standard_uncertainty == 0 if held else figure.standard_uncertainty > 0
