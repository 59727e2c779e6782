"""Records that cannot be what they say: nothing fitted, no meter without error, a display that stands still,
readings of another aircraft, columns exchanged."""

import pytest
from making.comparisons import FITTED, PACK, amperes, read, volts
from making.manifests import answer, expect, manifest

from preflint.api import DESK, Clear, Finding, NotApplicable, Unproven
from preflint.testing import computed, inspect_text, marked, outcome

VOLTAGE, CURRENT = "power_sensing/voltage-scale", "power_sensing/current-scale"
TWO = "[[15.45, 15.46], [14.44, 14.45]]"
NONE = f"{PACK}power_sensing: none\n"


@pytest.mark.parametrize(("record", "rule"), [
    ({"voltage_comparison": volts()}, VOLTAGE),
    ({"hover": "date: 2026-05-16, mean_voltage_v: 15.2"}, VOLTAGE),
    ({"current_comparison": amperes()}, CURRENT),
    ({"hover": "date: 2026-05-16, mean_current_a: 24"}, CURRENT),
    ({"recharge": "date: 2026-05-16, counted_mah: 4000, put_back_mah: 4100"}, CURRENT),
])
def test_none_is_not_believed_where_its_readings_are_recorded(record, rule):
    text = manifest(NONE, records=record)
    told = answer(text, rule)
    assert (told.cause, marked(text, told.place), told.mind) == ("absent", "none", DESK)
    assert told.message == "power_sensing is none, but its readings of 2026-05-16 are recorded"
    assert told.do == "write down the power sensing that is fitted, or its removal in the logbook"
    assert [related.message for related in told.related] == ["read from power sensing on 2026-05-16"]
    other = CURRENT if rule == VOLTAGE else VOLTAGE
    assert answer(text, other) == NotApplicable("no power sensing is fitted")


@pytest.mark.parametrize(("day", "part", "kind"), [
    ("2026-05-17", "power-sensor", NotApplicable),
    ("2026-05-16", "power-sensor", NotApplicable),  # which came first is open; the removal explains it
    ("2026-05-15", "power-sensor", Unproven),
    ("2026-05-17", "barometer", Unproven),
])
def test_a_removal_since_explains_it(day, part, kind):
    text = read(volts(), before=NONE, logbook=f"date: {day}, kind: removed, part: {part}")
    assert isinstance(answer(text, VOLTAGE), kind)


def test_readings_after_the_day_judged_contradict_nothing():
    told = answer(read(volts(), before=NONE), VOLTAGE, judged_on="2026-05-15")
    assert told == NotApplicable("no power sensing is fitted")


@pytest.mark.parametrize(("reference", "mark"), [
    ("accuracy_percent: 0, resolution_v: 0.01", "0"),
    ("accuracy_percent: 0.0, accuracy_v: 0", "0.0"),
    ("accuracy_v: 0", "0"),
])
def test_no_meter_is_without_error(reference, mark):
    text = read(volts(reference=reference))
    told = answer(text, VOLTAGE)
    assert (told.cause, marked(text, told.place)) == ("absent", mark)
    assert told.message == "the meter's accuracy is written as 0, but no meter is without error"
    assert told.do == ("read the accuracy in the meter's manual: accuracy_percent, and accuracy_v for its fixed part")
    with pytest.raises(LookupError):
        computed(inspect_text(text), "voltage_gain", "gain-only")


@pytest.mark.parametrize(
    "reference", ["accuracy_percent: 0, accuracy_v: 0.02", "accuracy_v: 0.02", "accuracy_percent: 0.1, accuracy_v: 0"]
)
def test_one_of_the_two_accuracies_is_enough(reference):
    told = expect(Clear, answer(read(volts(TWO, f"{reference}, resolution_v: 0.01")), VOLTAGE))
    assert "good to 0 " not in told.evidence


def test_no_clamp_meter_is_without_error():
    text = read(of_amperes=amperes(reference="accuracy_percent: 0"))
    told = answer(text, CURRENT)
    assert (told.cause, marked(text, told.place)) == ("absent", "0")
    assert told.do.endswith("accuracy_percent, and accuracy_a for its fixed part")


@pytest.mark.parametrize(("rows", "message"), [
    ("[[15.12, 15.40], [15.12, 14.90], [15.12, 15.90]]",
     "the display stands at 15.12 V while the meter goes from 14.9 to 15.9 V in the readings of 2026-05-16"),
    ("[[14.92, 15.41], [15.43, 15.41]]",
     "the meter stands at 15.41 V while the display goes from 14.92 to 15.43 V in the readings of 2026-05-16"),
])
def test_one_stands_still_while_the_other_moves(rows, message):
    told = answer(read(volts(rows)), VOLTAGE)
    assert (told.cause, told.message) == ("uncertain", message)
    assert told.do == "look whether display and meter follow the pack at all, then compare again"


# 4·(0.01 + 0.01) V + 1 % of the highest reading: 0.08 + 0.156 V.
@pytest.mark.parametrize(("meter", "stands"), [(15.63, False), (15.66, True)])
def test_how_much_the_other_must_move(meter, stands):
    told = answer(read(volts(f"[[15.52, 15.41], [15.52, {meter}]]")), VOLTAGE)
    assert ("stands at" in getattr(told, "message", "")) is stands


def test_a_current_that_stands_still():
    told = answer(read(of_amperes=amperes("[[0, 0.1, 0.0], [35, 0.1, 9.0], [55, 0.1, 21.4]]")), CURRENT)
    assert told.message == (
        "the display stands at 0.1 A while the meter goes from 0 to 21.4 A in the readings of 2026-05-16"
    )


# The input goes to 3300 mV × 6.2 = 20.46 V, 1 % more being left to last digits: 20.66 V.
@pytest.mark.parametrize(("shown", "beyond"), [(20.65, False), (20.68, True)])
def test_volts_that_this_input_cannot_show(shown, beyond):
    text = read(volts(f"[[15.45, 15.46], [{shown}, 15.46], [15.46, 15.46]]"))
    told = answer(text, VOLTAGE)
    if not beyond:
        assert not getattr(told, "message", "").startswith("the display is said")
        return
    assert (told.cause, marked(text, told.place)) == ("uncertain", "[20.68, 15.46]")
    assert told.message == (
        "the display showed 20.68 V on 2026-05-16; at divider_ratio 6.2 it shows 20.46 V at most"
    )
    assert told.do == (
        "look whether the readings are of this aircraft; compare divider_ratio and input_full_scale_mv with what "
        "was set; then take the readings again"
    )
    assert told.evidence == "input_full_scale_mv 3300 × divider_ratio 6.2 = 20.46 V"
    assert [marked(text, related.place) for related in told.related] == ["6.2", "3300"]
    with pytest.raises(LookupError):
        computed(inspect_text(text), "voltage_gain", "gain-only")


# (3300 - 512) mV / 26.4 mV/A = 105.6 A, 1 % more being left to last digits: 106.7 A.
@pytest.mark.parametrize(("shown", "beyond"), [(106.6, False), (106.7, True)])
def test_amperes_that_this_sensor_cannot_show(shown, beyond):
    text = read(of_amperes=amperes(f"[[0, 0.1, 0.0], [80, {shown}, 100.0], [55, 60.9, 61.4]]"))
    told = answer(text, CURRENT)
    if beyond:
        assert (told.cause, marked(text, told.place)) == ("uncertain", "[80, 106.7, 100.0]")
        assert "go up to 106.7 A" in told.message
    else:
        assert "go up to" not in getattr(told, "message", "")


def test_a_display_at_the_end_of_its_range():
    rows = "[[0, 0.1, 0.0], [35, 20.1, 20.0], [70, 99.6, 100.0], [90, 104.9, 131.2]]"
    text = read(of_amperes=amperes(rows))
    told = answer(text, CURRENT)
    assert (told.cause, marked(text, told.place)) == ("uncertain", "[90, 104.9, 131.2]")
    assert told.message == (
        "the display stood at 104.9 A of its range of 105.6 A; the meter read 131.2 A"
    )
    assert told.do == "leave such readings out, or compare again below 105 A"
    assert isinstance(answer(read(of_amperes=amperes(rows.replace(", [90, 104.9, 131.2]", ""))), CURRENT), Clear)


# 0.99·105.6 A = 104.5 A, and 5 % more than the display: 110.1 A beside 104.9 A.
@pytest.mark.parametrize(
    ("shown", "meter", "at_end"),
    [(104.9, 110.2, True), (104.9, 110.1, False), (104.5, 131.2, False), (104.6, 131.2, True)],
)
def test_both_sides_of_the_end_of_the_range(shown, meter, at_end):
    told = answer(read(of_amperes=amperes(f"[[0, 0.1, 0.0], [70, 99.6, 100.0], [90, {shown}, {meter}]]")), CURRENT)
    assert ("end of its range" in getattr(told, "evidence", "")) is at_end


def test_throttle_that_does_not_rise_with_the_current():
    text = read(of_amperes=amperes("[[55, 0.1, 0.0], [35, 8.8, 9.0], [0, 20.9, 21.4]]"))
    told = answer(text, CURRENT)
    assert (told.cause, told.message) == ("absent", "the meter read 21.4 A at 0 % throttle, but 0.0 A at 55 %")
    assert told.do == "look whether columns are exchanged, and compare again"
    alike = answer(text.replace("[0, 20.9", "[55, 20.9"), CURRENT)
    assert alike.message == "the meter read 21.4 A at 55 % throttle, but 0.0 A at 55 %"
    assert isinstance(answer(text.replace("[55, 0.1", "[0, 0.1").replace("[0, 20.9", "[55, 20.9"), CURRENT), Clear)


def test_throttle_and_amperes_exchanged():
    told = answer(read(of_amperes=amperes("[[0, 0, 0.0], [8.8, 35, 9.0], [20.9, 55, 21.4]]")), CURRENT)
    assert (told.cause, told.message) == ("absent", "throttle_percent has the meter's numbers, and indicated_a has not")
    assert told.do == "look whether columns are exchanged, and compare again"


# What the meter read is the measure: 9.46 A are 5.1 % more than 9.0 A, which are 4.9 % less than 9.46 A. 5 % is near.
@pytest.mark.parametrize(("shown", "exchanged"), [((9.44, 22.44), False), ((9.46, 22.5), True)])
def test_both_sides_of_a_display_that_has_the_meters_numbers_too(shown, exchanged):
    rows = f"[[0, 0.0, 0.0], [9.0, {shown[0]}, 9.0], [21.4, {shown[1]}, 21.4]]"
    assert ("exchanged" in getattr(answer(read(of_amperes=amperes(rows)), CURRENT), "do", "")) is exchanged


@pytest.mark.parametrize("rows", [
    "[[0, 0.1, 0.0], [35, 8.8, 9.0], [100, 20.9, 21.4]]",
    "[[0, 0, 0.0], [9.5, 35, 9.0], [20.9, 55, 21.4]]",  # 5.6 % from what the meter read
    "[[0, 0.1, 0.0], [9.0, 8.8, 9.0], [21.4, 20.9, 21.4]]",  # a throttle that has the meter's numbers by chance
    "[[0, 0.1, 0.0], [21.4, 12.0, 21.4]]",  # a single row under load: chance, and found
])
def test_throttle_and_amperes_not_exchanged(rows):
    assert "exchanged" not in getattr(answer(read(of_amperes=amperes(rows)), CURRENT), "do", "")


@pytest.mark.parametrize(("meter", "possible"), [(99.9, True), (101.0, False)])
def test_amperes_that_these_motors_cannot_draw(meter, possible):
    motors = "every_rotor: {motor: {full_throttle_draw_a: 21}}\n"  # 84 A together, and a fifth more
    rows = f"[[0, 0.0, 0.0], [35, 20.0, 20.0], [55, {meter}, {meter}]]"
    fitted = FITTED.replace(", input_full_scale_mv: 3300", "")
    text = read(of_amperes=amperes(rows), before=PACK + motors + fitted)
    told = answer(text, CURRENT)
    if possible:
        assert isinstance(told, Clear)
        return
    assert (told.cause, marked(text, told.place)) == ("uncertain", "[55, 101.0, 101.0]")
    assert told.message == (
        "the meter read 101.0 A on 2026-05-16, but all motors at full throttle draw 84 A"
    )
    assert told.do == (
        "look whether the readings are of this aircraft, and full_throttle_draw_a of its motors; compare again"
    )


def test_of_which_of_two_packs_a_comparison_was():
    two = PACK.replace("cells: 4}]", "cells: 4}, {label: B1, chemistry: lipo, cells: 6}]") + FITTED
    seen = inspect_text(read(volts(), before=two))
    for at in ("A1", "B1"):
        told = expect(Unproven, outcome(seen, "power_sensing/cell-count", at))
        assert told.message == "which pack was read on 2026-05-16 is not recorded, and the packs differ"
        assert told.do == "write the label of the pack in the voltage comparison"
    named = read(volts(taken="loaded: false\npack: A1"), before=two)
    assert isinstance(answer(named, "power_sensing/cell-count", "A1"), Clear)
    other = expect(Unproven, outcome(inspect_text(named), "power_sensing/cell-count", "B1"))
    assert other.message == "no meter reading of this pack is recorded"
    alike = read(volts(), before=two.replace("cells: 6", "cells: 4"))
    assert isinstance(answer(alike, "power_sensing/cell-count", "B1"), Clear)


@pytest.mark.parametrize(("rule", "kind"), [(VOLTAGE, "voltage"), (CURRENT, "current")])
def test_work_ends_nothing_where_nothing_is_recorded(rule, kind):
    text = manifest(PACK, FITTED, logbook="date: 2026-05-17, kind: settings-changed, part: flight-controller")
    told = expect(Unproven, answer(text, rule))
    assert (told.cause, told.message) == ("absent", f"no {kind} comparison is recorded")


def test_without_the_setting_in_force_no_setting_follows():
    told = read(volts(TWO), amperes())
    silent = told.replace("in_force: {divider_ratio: 6.2}", "in_force: {zero_mv: 512}").replace(
        "in_force: {sensor_mv_per_a: 26.4, zero_mv: 512}", "in_force: {zero_mv: 512}"
    )
    first, second = ({one.quantity for one in inspect_text(text).computed} for text in (told, silent))
    assert first - second == {"corrected_divider_ratio", "corrected_sensor_mv_per_a", "corrected_zero_mv"}


def test_an_input_that_ends_below_its_zero_tells_no_range():
    """One that ends at 512 mV, with the zero at 512 mV, can show no ampere: that is told of the input, not of these."""
    low = read((), amperes(), before=PACK + FITTED.replace("3300", "512"))
    assert answer(low, CURRENT) == answer(read((), amperes(), before=PACK + FITTED), CURRENT)


@pytest.mark.parametrize("pack", ["packs: [{label: A1}]\n", ""])
def test_of_a_pack_that_nobody_described_no_millivolts_of_a_cell_are_told(pack):
    for rows, means in (
        ("[[15.0, 15.46], [14.0, 14.45]]", "the pack holds more charge than shown, and warnings come early"),
        ("[[16.0, 15.46], [15.0, 14.45]]", "dangerous, the pack holds less charge than shown"),
    ):
        told = expect(Finding, answer(read(volts(rows), before=pack + FITTED), VOLTAGE))
        assert told.evidence.startswith(means)
        assert "a cell" not in told.message
