"""Volts shown: what is found, in which words and where; what is not known; both sides of the limit."""

import math

import pytest
from making.comparisons import volts
from making.manifests import answer, expect, manifest

from preflint.api import PACK_IN_PROPS_OFF, Clear, Finding, NotApplicable, Unproven
from preflint.testing import computed, inspect_text, marked

PACK = "packs: [{label: A1, chemistry: lipo, cells: 4}]\n"
VOLTAGE = "power_sensing/voltage-scale"
HOW_VOLTS = "pack plugged in, motors still: read the display and a meter at the same moment, at two pack voltages"


def compared(rows, installed="6.2", taken="loaded: false", pack=PACK, accuracy="accuracy_percent: 0.5", logbook=()):
    entry = volts(rows, f"instrument: meter, {accuracy}, resolution_v: 0.01", taken=taken)
    fitted = f"power_sensing: {{divider_ratio: {installed}}}\n"
    return manifest(pack, fitted, records={"voltage_comparison": entry}, logbook=logbook)


def test_a_display_that_reads_low():
    # Common practice, no source: 15.12 V shown against 15.46 V, meter good to 0.5 %, is significant.
    text = compared("[[15.12, 15.46]]")
    found = answer(text, VOLTAGE)
    assert found.message == (
        "the display under-reads volts by 2.20 ± 0.58 % at 12.00 V (66 mV a cell): the pack is fuller than shown"
    )
    assert found.evidence == (
        "the pack holds 7 to 19 % more charge than shown, and warnings come early; "
        "1 reading of 2026-05-16 against meter good to 0.5 % of the reading, divider_ratio 6.2 in force; reference = "
        "zero + gain × indicated: gain-only 1.0225; gain-with-zero-prior 1.0225 and +0.000 V; error of indication "
        "-2.20 % ± 0.58 % at 12.00 V and -2.20 % ± 0.56 % at 16.80 V"
    )
    assert found.do == "set divider_ratio to 6.3394, then compare again"  # 6.2 × 15.46 / 15.12
    assert (found.place.line, found.place.column, marked(text, found.place)) == (4, 32, "6.2")
    assert [(marked(text, r.place), r.message) for r in found.related] == [
        ("date: 2026-05-16", "the readings of 2026-05-16")
    ]


def test_it_is_judged_from_the_emptiest_pack_to_the_fullest():
    """Three cells, empty at 9.0 V, and four, full at 16.8 V."""
    packs = "packs: [{label: A1, chemistry: lipo, cells: 3}, {label: B2, chemistry: lipo, cells: 4}]\n"
    told = expect(Clear, answer(compared("[[9.4, 9.4], [12.0, 12.0], [16.4, 16.4]]", pack=packs), VOLTAGE))
    assert " at 9.00 V and " in told.evidence
    assert told.evidence.endswith(" at 16.80 V")


def test_a_display_that_reads_high_is_the_dangerous_one():
    found = answer(compared("[[15.81, 15.46]]"), VOLTAGE)
    assert found.message == (
        "the display over-reads volts by 2.26 ± 0.61 % at 12.00 V (68 mV a cell): the pack is emptier than shown"
    )
    assert found.evidence.startswith("dangerous, the pack holds 7 to 19 % less charge than shown; ")
    assert found.do == "set divider_ratio to 6.0627, then compare again"  # 6.2 × 15.46 / 15.81


@pytest.mark.parametrize(("rows", "says", "remedy"), [
    ("[[17.50, 16.50]]", "dangerous, the pack holds 18 to 52 % less",
     "set divider_ratio to 5.8457,"),
    ("[[19.80, 16.50]]", "dangerous, the pack holds at least 60 % less charge", "set divider_ratio to 5.1667,"),
    (
        "[[4.17, 16.68]]",  # the display shows volts a cell, or the meter reads the pack and the display a cell
        "the pack holds far more charge than shown",
        (
            "look first whether both columns are in volts and the meter was across the same pack; if so, set "
            "divider_ratio to 24.8,"
        ),
    ),
])
def test_errors_larger_than_any_charge(rows, says, remedy):
    found = answer(compared(rows), VOLTAGE)
    assert says in found.evidence
    assert found.do == f"{remedy} then compare again"


def test_a_hundredth_of_a_volt_is_not_significant():
    # Common practice, no source: 15.45 V shown against 15.46 V is not.
    assert answer(compared("[[15.45, 15.46], [14.44, 14.45]]"), VOLTAGE) == Clear(
        "2 readings of 2026-05-16 against meter good to 0.5 % of the reading, divider_ratio 6.2 in force; reference = "
        "zero + gain × indicated: gain-only 1.0007; gain-and-zero 1.0000 and +0.010 V; gain-with-zero-prior "
        "1.0005 and +0.003 V; error of indication -0.07 % ± 0.58 % at 12.00 V and -0.06 % ± 0.57 % at 16.80 V"
    )


def test_too_uncertain_to_tell():
    text = compared("[[15.32, 15.46]]")
    told = answer(text, VOLTAGE)
    assert (told.cause, told.place.line) == ("uncertain", 7)
    assert told.message == (
        "the display under-reads volts by 0.91 ± 0.59 % at 12.00 V: too near 1 % to tell"
    )
    assert told.do == "the error lies close to the limit: enter the corrected setting and compare again"


def test_a_better_meter_settles_it():
    told = answer(compared("[[15.38, 15.46]]", accuracy="accuracy_percent: 1.0"), VOLTAGE)
    assert told.message == (
        "the display under-reads volts by 0.52 ± 1.14 % at 12.00 V: too near 1 % to tell"
    )
    assert told.do == "compare again with a meter good to 0.39 % of the reading"
    better = compared("[[15.38, 15.46], [14.38, 14.45]]", accuracy="accuracy_percent: 0.3")
    assert isinstance(answer(better, VOLTAGE), Clear)


@pytest.mark.parametrize(
    ("indicated", "told"),
    # No meter is taken as better than 0.1 %, 1.96/√3 of which are 0.11 %; beside it the zero, 0.05 V·|1 - V/15.46|/V
    # at one sigma, and the last digits. So U is 0.22 % at 12 V, which must clear 1 %, and 0.13 % at 16.8 V, which may
    # show more than 1 %. What would be clear is one reading all the same.
    [
        *((15.281, "found"), (15.289, "uncertain"), (15.331, "uncertain"), (15.341, "alone")),
        *((15.579, "alone"), (15.589, "uncertain"), (15.631, "uncertain"), (15.641, "found")),
    ],
)
def test_both_sides_of_the_limit(indicated, told):
    said = answer(compared(f"[[{indicated}, 15.46]]", accuracy="accuracy_percent: 0.001"), VOLTAGE)
    assert ("found" if isinstance(said, Finding) else "alone" if "by chance" in said.message else "uncertain") == told


@pytest.mark.parametrize(("rows", "kind"), [
    ("[[15.45, 15.46]]", Unproven),
    ("[[15.45, 15.46], [15.45, 15.46]]", Unproven),
    ("[[15.45, 15.46], [15.15, 15.16]]", Unproven),  # 2 % of 15.46 V are 0.309 V
    ("[[15.45, 15.46], [15.14, 15.15]]", Clear),
])
def test_one_voltage_vouches_for_nothing(rows, kind):
    told = expect(kind, answer(compared(rows), VOLTAGE))
    if kind is Unproven:
        assert told == Unproven(
            cause="uncertain", place=told.place, mind=PACK_IN_PROPS_OFF,
            message="display and meter agree at 15.46 V only: one voltage may agree by chance",
            do="record a second reading 0.31 V or more away, pack plugged in and motors still",
            record="voltage_comparison",
        )


def test_a_single_cell_by_an_ordinary_display():
    # Last digits of 10 mV and a divider as small as the pack: a zero of 50 mV would be 1.7 % of an empty cell.
    rows, cell = "[[4.16, 4.17], [3.98, 3.98], [3.75, 3.76]]", PACK.replace("cells: 4", "cells: 1")
    assert isinstance(answer(compared(rows, pack=cell), VOLTAGE), Clear)
    found = expect(Finding, answer(compared("[[4.25, 4.17], [4.06, 3.98], [3.83, 3.76]]", pack=cell), VOLTAGE))
    assert "over-reads" in found.message


def test_a_correction_entered_the_wrong_way_round():
    text = compared("[[15.12, 15.46]]", installed="6.0636")  # 6.2 divided by the gain
    found = answer(text, VOLTAGE)
    assert found.message == (
        "the display under-reads volts by 4.35 ± 0.57 % at 12.00 V (131 mV a cell), as set now: "
        "the pack is fuller than shown"
    )
    assert found.evidence.startswith("the pack holds 13 to 37 % more charge than shown, and warnings come early; ")
    assert "divider_ratio 6.2 in force, converted to 6.0636 as installed" in found.evidence
    assert found.do == "set divider_ratio to 6.3394, then compare again"
    assert marked(text, found.place) == "6.0636"


def test_a_correction_entered_is_measured_again():
    text = compared("[[15.12, 15.46]]", installed="6.3394")
    told = answer(text, VOLTAGE)
    assert (told.cause, marked(text, told.place)) == ("stale", "6.3394")
    assert told.message == "divider_ratio is 6.3394, but the readings were taken with 6.2"
    assert told.do == f"compare again with the setting installed: {HOW_VOLTS}"


CHANGED = "date: 2026-05-17, kind: settings-changed, part: power-sensor"


def test_settings_changed_since_are_converted_but_prove_nothing():
    backwards = compared("[[15.12, 15.46]]", installed="6.0636", logbook=CHANGED)
    assert isinstance(answer(backwards, VOLTAGE), Finding)
    forwards = answer(compared("[[15.12, 15.46]]", installed="6.3394", logbook=CHANGED), VOLTAGE)
    assert (forwards.cause, forwards.message) == (
        "stale",
        ("the voltage comparison of 2026-05-16 is outdated: power sensor settings changed on 2026-05-17"),
    )


def test_other_work_since_ends_what_was_read():
    work = [CHANGED, "date: 2026-05-18, kind: rewired, part: power-sensor"]
    told = expect(Unproven, answer(compared("[[15.12, 15.46]]", installed="6.0636", logbook=work), VOLTAGE))
    assert told.cause == "stale"


def test_a_drop_in_the_leads():
    told = answer(compared("[[15.12, 15.46]]", taken="loaded: true\nsame_terminals: false"), VOLTAGE)
    assert told == Unproven(
        place=told.place,
        message="motors ran with the meter off the sensed terminals: the leads' drop is read too",
        do=f"{HOW_VOLTS}, or with the meter at the same terminals",
    )
    same = compared("[[15.12, 15.46]]", taken="loaded: true\nsame_terminals: true")
    assert isinstance(answer(same, VOLTAGE), Finding)


@pytest.mark.parametrize(("text", "message"), [
    (manifest(), "power_sensing is not recorded"),
    (manifest("power_sensing: {divider_ratio: 6.2}\n"), "no voltage comparison is recorded"),
    (compared("[[15.45, 15.46]]", taken="pack: A1"), "loaded of the voltage comparison of 2026-05-16 is not recorded"),
    (compared("[[15.45, 15.46]]", taken="loaded: true"),
     "same_terminals of the voltage comparison of 2026-05-16 is not recorded"),
    (compared("[[15.45, 15.46]]", pack=""), "no pack is recorded, so full and lowest voltage are not known"),
    (compared("[[15.45, 15.46]]", pack="packs: [{label: A1, cells: 4}]\n"), "chemistry of the pack A1 is not recorded"),
    (compared("[[15.45, 15.46]]", accuracy="accuracy_deg: 1"),
     "reference.accuracy_percent of the voltage comparison of 2026-05-16 is not recorded"),
])
def test_what_is_missing(text, message):
    told = answer(text, VOLTAGE)
    assert (told.cause, told.message) == ("absent", message)


def test_a_display_that_shows_nothing_is_no_exchanged_column():
    told = answer(compared("[[0.0, 15.46]]"), VOLTAGE)
    assert told.message == (
        "the display showed 0 V in all readings of 2026-05-16; the meter read up to 15.46 V"
    )
    assert told.do == "look at the sensor's plug and wires and at what is set, then compare again"


def test_columns_exchanged():
    told = answer(compared("[[-15.12, 15.46]]"), VOLTAGE)
    assert told.message == "the display does not rise with the meter in the readings of 2026-05-16"
    assert told.do == "look whether the columns are exchanged, and compare again"


@pytest.mark.parametrize("rows", [
    "[[15.12, 15.46], [15.12, -15.46], [14.07, 14.31], [14.07, -14.31]]",
    "[[0.3, 0.1], [0.3, -0.1], [0.7, 0.2], [0.7, -0.2]]",
])  # fmt: skip
def test_readings_that_cancel_rise_by_no_rounding_error(rows):
    told = answer(compared(rows), VOLTAGE)
    assert told.message == "the display does not rise with the meter in the readings of 2026-05-16"


@pytest.mark.parametrize(("rows", "message"), [
    ("[[1, 1.0e-100]]", "the display does not rise with the meter in the readings of 2026-05-16"),
    ("[[1.0e-160, 15.46]]", "the display showed 0 V in all readings of 2026-05-16; the meter read up to 15.46 V"),
    ("[[-1, 1.0e-170], [2, 1.0e-170]]", "the display does not rise with the meter in the readings of 2026-05-16"),
])
def test_what_no_instrument_shows_is_nothing(rows, message):
    assert answer(compared(rows), VOLTAGE).message == message


def test_no_power_sensing():
    assert answer(manifest("power_sensing: none\n"), VOLTAGE) == NotApplicable("no power sensing is fitted")


def test_figures_of_a_pure_gain():
    seen = inspect_text(compared("[[12.0, 12.24], [15.0, 15.3], [16.0, 16.32]]"))
    for case in ("gain-only", "gain-and-zero", "gain-with-zero-prior"):
        gain, zero = computed(seen, "voltage_gain", case), computed(seen, "voltage_zero_v", case)
        assert (gain.value, zero.value) == (pytest.approx(1.02), pytest.approx(0, abs=1e-9))
        assert gain.standard_uncertainty >= 1.02 * 0.005 / 3**0.5
        assert gain.dof == math.inf  # last digits explain the rows, and the meter is known
    assert computed(seen, "corrected_divider_ratio").value == pytest.approx(6.2 * 1.02)


def test_figures_of_rows_that_scatter():
    # Three rows about a straight line leave one to spare, and their scatter is all that counts.
    seen = inspect_text(compared("[[14.0, 14.1], [15.0, 14.7], [16.0, 16.1]]"))
    assert computed(seen, "voltage_gain", "gain-and-zero").dof == pytest.approx(1, abs=0.05)
