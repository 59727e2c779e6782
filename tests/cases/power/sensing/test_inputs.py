"""The input's range, and cells against volts: what is found, in which words and where; what is not known."""

import pytest
from making.manifests import answer, expect, manifest

from preflint.api import Clear, Finding, NotApplicable, Unproven
from preflint.testing import marked

PACK = "packs: [{label: A1, chemistry: lipo, cells: 4}]\n"
RANGE, CELLS = "power_sensing/input-range", "power_sensing/cell-count"


INPUT = "divider_ratio: 6.2, sensor_mv_per_a: 26.4, zero_mv: 512, input_full_scale_mv: 3300"


def ranged(settings=INPUT, draw="motor: {full_throttle_draw_a: 21}", pack=PACK):
    return manifest(pack, f"every_rotor: {{{draw}}}\npower_sensing: {{{settings}}}\n")


def test_no_power_sensing():
    assert answer(manifest("power_sensing: none\n"), RANGE) == NotApplicable("no power sensing is fitted")


def read(row, pack=PACK):
    comparison = f"date: 2026-05-16, columns: [indicated_v, reference_v], rows: [{row}]"
    return manifest(pack, records={"voltage_comparison": comparison})


def test_the_input_reads_it_all():
    assert answer(ranged(), RANGE) == Clear(
        "full pack 2710 mV, 84 A at full throttle 2730 mV, of 3300 mV; the display goes to 20.5 V and 106 A"
    )


@pytest.mark.parametrize(("text", "mark", "message", "remedy"), [
    (ranged(INPUT.replace("6.2", "5.0")),
     "5.0",
     "a full pack of 16.8 V gives 3360 mV, but the input reads no more than 3300 mV",
     "fit a divider of 5.1 or more, or an input of wider range"),
    (ranged(draw="motor: {full_throttle_draw_a: 27}"),
     "26.4",
     "full throttle draws 108 A, but the display stops at 106 A",
     "fit a sensor of fewer mV per ampere, or count no charge beyond that current"),
    (ranged(INPUT.replace("512", "-5")),
     "-5",
     "zero_mv -5 lies outside the input's range of 0 to 3300 mV",
     "read zero_mv again, or fit a sensor that suits the input"),
    (ranged(INPUT + ", input_bits: 6"),
     "6",
     "one step of the input is 0.32 V of pack voltage and 2.0 A: too coarse",
     "use an input of more bits, or a divider and sensor that fill its range"),
])
def test_the_input_does_not_read_it_all(text, mark, message, remedy):
    found = answer(text, RANGE)
    assert (marked(text, found.place), found.message, found.do) == (mark, message, remedy)


def test_one_step_of_an_input_of_few_bits():
    # 3300 mV / 2⁸ = 12.891 mV: · 6.2 = 79.92 mV of the pack, / 26.4 mV/A = 0.4883 A.
    told = expect(Clear, answer(ranged(INPUT + ", input_bits: 8"), RANGE))
    assert told.evidence.endswith("; one step is 79.9 mV of pack voltage and 488 mA")


def test_input_range_without_input():
    told = answer(ranged(draw="motor: {kv_rpm_per_v: 420}"), RANGE)
    assert told.message == "front-left.motor.full_throttle_draw_a is not recorded"
    told = answer(ranged(INPUT.replace(", input_full_scale_mv: 3300", "")), RANGE)
    assert told.message == "power_sensing.input_full_scale_mv is not recorded"


def test_cells_that_cannot_be():
    text = read("[24.02, 24.11]", PACK.replace("4}", "5}"))
    found = answer(text, CELLS, "A1")
    assert found.message == "a meter read 24.11 V, that is 4.82 V a cell of 5 cells"
    assert found.evidence == "5 cells of lipo lie between 15.0 and 21.0 V"
    assert found.do == ("count the wires of the balance plug less one, and read chemistry and cells off the pack")
    assert (marked(text, found.place), [marked(text, r.place) for r in found.related]) == ("5", ["[24.02, 24.11]"])


@pytest.mark.parametrize(("reference", "kind"), [(16.96, Clear), (16.98, Finding), (11.9, Unproven), (11.87, Finding)])
def test_cells_on_both_sides(reference, kind):
    assert isinstance(answer(read(f"[15, {reference}]"), CELLS, "A1"), kind)


def test_a_cell_too_many_in_full():
    text = read("[16.67, 16.68], [15.77, 15.78]", PACK.replace("4}", "5}"))
    told = expect(Unproven, answer(text, CELLS, "A1"))
    assert told.message == (
        "the highest voltage on record is 16.68 V, 3.34 V a cell of 5: a cell may be too many"
    )
    assert told.evidence == "a charged pack of lipo has at least 3.7 V a cell"
    assert told.do == (
        "read every cell at the balance plug and record its cell voltages, or compare the voltage with a full pack"
    )
    assert (told.cause, marked(text, told.place)) == ("uncertain", "5")


# Nominal voltages: common practice, from memory; 4 cells.
@pytest.mark.parametrize(("chemistry", "nominal"), [("lipo", 3.7), ("lipo-hv", 3.8), ("li-ion", 3.6), ("life", 3.2)])
def test_both_sides_of_a_charged_pack(chemistry, nominal):
    pack = f"packs: [{{label: A1, chemistry: {chemistry}, cells: 4}}]\n"
    for volts, kind in ((4 * nominal + 0.01, Clear), (4 * nominal - 0.01, Unproven)):
        assert isinstance(answer(read(f"[15, {volts:.2f}]", pack), CELLS, "A1"), kind)


@pytest.mark.parametrize(("more", "kind"), [
    ("cell_voltages: [{date: 2026-05-16, pack: A1, cells_v: [3.5, 3.5, 3.5, 3.5]}]", Clear),
    ("hover: [{date: 2026-05-16, mean_voltage_v: 15.2}]", Clear),
    ("hover: [{date: 2026-05-16, mean_voltage_v: 14.2}]", Unproven),
    ("sag_run: [{date: 2026-05-16, columns: [current_a, voltage_v, used_mah], rows: [[0, 16, 0]]}]", Clear),
    ("sag_run: [{date: 2026-05-16, columns: [current_a, voltage_v, used_mah], rows: [[0, 14, 0]]}]", Unproven),
])
def test_what_else_tells_that_the_pack_was_full(more, kind):
    assert isinstance(answer(f"{read('[14.1, 14.1]')}  {more}\n", CELLS, "A1"), kind)


def test_cells_counted_at_the_balance_plug():
    counted = "date: 2026-05-16, pack: A1, cells_v: [3.85, 3.85, 3.84]"
    text = manifest(PACK, records={"cell_voltages": counted})
    found = answer(text, CELLS, "A1")
    assert found.message == "the pack is written down with 4 cells, but 3 cells were measured on 2026-05-16"
    assert marked(text, found.place) == "4"


def test_a_pack_that_nobody_read():
    told = answer(manifest(PACK), CELLS, "A1")
    assert (told.cause, told.message) == ("absent", "no meter reading of this pack is recorded")


def test_without_a_pack_its_full_voltage_is_not_known():
    told = expect(Unproven, answer(ranged(pack=""), RANGE))
    assert (told.message, told.on_paper) == ("no pack is recorded, so the full voltage is not known", True)
