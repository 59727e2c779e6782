"""Cells and warmth of the pack of the day: full texts, both sides of each limit, what is missing, nothing twice."""

import pytest
from making.manifests import answer, expect, manifest

from preflint.api import Clear, Finding, NotApplicable, Unproven
from preflint.testing import computed, inspect_text, marked

CELLS, SPREAD, COLD, RESTED = "packs/cells", "packs/spread", "packs/cold", "packs/rested"
FULL = "packs/full"
METER = ", reference: {instrument: meter, accuracy_percent: 0.2, resolution_v: 0.001}"


def packs(chemistry="lipo"):
    return f"packs: [{{label: A1, chemistry: {chemistry}, cells: 4}}]\n"


def read(*cells, chemistry="lipo", more=METER, date="2026-05-21", beside=None):
    records = {"pack_check": f"date: {date}, pack: A1, cells_v: {list(cells)}{more}"}
    return manifest(packs(chemistry), records=records | (beside or {}))


def test_cells_that_part_in_full():
    text = read(4.17, 4.08, 4.17, 4.16)
    found = expect(Finding, answer(text, SPREAD, "A1"))
    assert found.message == "cell 2 of 4 reads 4.08 V, 90 mV below the highest"
    assert found.evidence == (
        "cells of 4.17, 4.08, 4.17, 4.16 V on 2026-05-21: 90 mV ± 1 mV (95 %) apart, at most 50 mV"
    )
    expect(Clear, answer(text, CELLS, "A1"))


# U = 1.96·√2·1/√12 = 0.8 mV of a meter that shows mV.
@pytest.mark.parametrize(("apart_mv", "kind"), [(0, Clear), (49, Clear), (50, Unproven), (51, Finding), (299, Finding)])
def test_both_sides_of_the_spread(apart_mv, kind):
    assert isinstance(answer(read(4.17, 4.17, 4.17, round(4.17 - apart_mv / 1000, 3)), SPREAD, "A1"), kind)


@pytest.mark.parametrize(("cells", "chemistry"), [
    ((3.70, 3.60, 3.70, 3.70), "lipo"), ((3.80, 3.70, 3.80, 3.80), "lipo"), ((3.5, 3.6, 3.5, 3.5), "li-ion"),
])
def test_towards_empty_good_cells_part(cells, chemistry):
    expect(NotApplicable, answer(read(*cells, chemistry=chemistry), SPREAD, "A1"))


@pytest.mark.parametrize(("cells", "message"), [
    ((4.17, 3.41, 4.17, 4.16), "cell 2 of 4 reads 3.41 V, 0.76 V below the highest"),
    ((2.5, 4.1, 4.1, 4.1), "cell 1 of 4 reads 2.50 V, less than the 3.0 V at which a cell is empty"),
    ((4.36, 4.17, 4.17, 4.17),
     "a cell reads 4.36 V, 160 mV above full: overcharged, or the meter reads high"),
])
def test_cells_that_ground(cells, message):
    text = read(*cells)
    assert expect(Finding, answer(text, CELLS, "A1")).message == message
    assert inspect_text(text).verdict == "no-go"


def test_a_dead_cell_is_told_by_one_rule():
    assert answer(read(4.17, 3.41, 4.17, 4.16), SPREAD, "A1") in (
        NotApplicable("said by packs/cells"),
        NotApplicable("at 3.41 V cells part by themselves; above 3.7 V it is judged"),
    )


def test_the_same_cells_under_cell_voltages_are_told_there():
    beside = {"cell_voltages": f"date: 2026-05-21, pack: A1, cells_v: [4.17, 4.08, 4.17, 4.16]{METER}"}
    text = read(4.17, 4.08, 4.17, 4.16, beside=beside)
    assert answer(text, SPREAD, "A1") == NotApplicable("said by power_sensing/cells-apart")
    expect(Finding, answer(text, "power_sensing/cells-apart", "A1"))
    assert expect(NotApplicable, answer(text, CELLS, "A1")).because.startswith("said by power_sensing/dead-cell")


@pytest.mark.parametrize("said", [
    "date: 2026-05-20, pack: A1, cells_v: [4.17, 4.08, 4.17, 4.16]",
    "date: 2026-05-21, pack: B2, cells_v: [4.17, 4.08, 4.17, 4.16]",
    "date: 2026-05-21, cells_v: [4.17, 4.08, 4.17, 4.16]",
    "date: 2026-05-21, pack: A1, cells_v: [4.17, 4.09, 4.17, 4.16]",
])
def test_others_under_cell_voltages_are_told_beside(said):
    text = read(4.17, 4.08, 4.17, 4.16, beside={"cell_voltages": said + METER})
    text = text.replace("packs: [", "packs: [{label: B2, chemistry: lipo, cells: 4}, ")
    assert not isinstance(answer(text, SPREAD, "A1"), NotApplicable)


def test_a_swollen_pack_is_not_charged_for_its_cells():
    text = read(4.17, 4.08, 4.17, 4.16, more=f"{METER}, rocks_on_flat: true")
    assert answer(text, SPREAD, "A1") == NotApplicable("a swollen pack is not charged any more: see packs/swollen")


def test_a_cell_that_nobody_read():
    told = expect(Unproven, answer(read(4.17, 4.17, 4.17), CELLS, "A1"))
    assert told.message == "3 cells are written down; the pack has 4"


def test_cells_not_read():
    text = manifest(packs(), records={"pack_check": "date: 2026-05-21, pack: A1, straps: 1"})
    for rule in (CELLS, SPREAD, COLD):
        assert expect(Unproven, answer(text, rule, "A1")).message == "no pack check is recorded"
    poor = read(4.19, 4.19, 4.19, 4.19, more="")
    assert expect(Unproven, answer(poor, CELLS, "A1")).cause == "uncertain"


def warm(celsius, run=None, date="2026-05-21 09:00"):
    run = {"sag_run": f"date: 2026-05-10, pack: A1, dwell_s: 10, temperature_c: {run}, "
           "columns: [current_a, voltage_v, used_mah], rows: [[1, 16.6, 1], [10, 16.5, 30]]"} if run is not None else {}
    return manifest(packs(), records={"pack_check": f"date: {date}, pack: A1, temperature_c: {celsius}"} | run)


def test_a_cold_pack_in_full():
    found = expect(Finding, answer(warm(5), COLD, "A1"))
    assert found.message == "the pack is cold: 5 °C"
    assert found.evidence == (
        "5 °C ± 1.7 °C (95 %) in the pack check of 2026-05-21 09:00; at least 10 °C; it resists at the most 3.8 times "
        "what it does at 20 °C (a bound)"
    )
    assert found.do.startswith("warm the pack, in a pocket or a box; or hover one minute low")


# U = 1.96·1.5/√3 = 1.70 K of one thermometer, 2.40 K of two.
@pytest.mark.parametrize(("celsius", "run", "kind"), [
    (-10, None, Finding), (8.2, None, Finding), (8.4, None, Unproven), (11.6, None, Unproven), (11.8, None, Clear),
    (20, 22, Clear), (20, 27.5, Clear), (20, 27.7, Unproven), (20, 32.3, Unproven), (20, 32.5, Finding),
    (32, 20, Clear),
])
def test_both_sides_of_cold(celsius, run, kind):
    assert isinstance(answer(warm(celsius, run), COLD, "A1"), kind)


def test_cold_is_of_the_day_and_no_defect():
    assert expect(Unproven, answer(warm(-5, date="2026-05-20"), COLD, "A1")).cause == "stale"
    assert inspect_text(warm(-5)).verdict != "no-go"


def test_how_much_more_a_cold_pack_resists_is_a_figure():
    one = computed(inspect_text(warm(0)), "cold_resistance_factor", "bound", "A1")
    assert one.value == pytest.approx(6.13, abs=0.005)
    assert one.standard_uncertainty is None
    for text in (warm(25), warm(0, date="2026-05-20")):
        with pytest.raises(LookupError):
            computed(inspect_text(text), "cold_resistance_factor", "bound", "A1")


def rest(said):
    return manifest(packs(), records={"cell_voltages": f"date: 2026-05-16, pack: A1, cells_v: [3.9, 3.9]{said}"})


def test_cells_read_too_soon_in_full():
    found = expect(Finding, answer(rest(", rested_min: 2, temperature_c: 18"), RESTED, "A1"))
    assert found.message == "the cells were read after 2 minutes of rest: they were still settling"
    assert found.evidence == "at least 10 min"
    cold = expect(Finding, answer(rest(", rested_min: 30, temperature_c: 5"), RESTED, "A1"))
    assert cold.evidence == "at 5 °C at least 38 min"


@pytest.mark.parametrize(("said", "kind"), [
    (", rested_min: 9, temperature_c: 18", Finding), (", rested_min: 10, temperature_c: 18", Clear),
    (", rested_min: 37, temperature_c: 5", Finding), (", rested_min: 39, temperature_c: 5", Clear),
    (", rested_min: 9", Finding), (", rested_min: 30", Unproven), (", rested_min: 61", Unproven),
    (", rested_min: 62", Clear), ("", Unproven),  # ten times 6.13 at 0 °C
    (", rested_min: 90, temperature_c: -10", Finding),
    (", rested_min: 12, temperature_c: 10", Clear), (", rested_min: 12, temperature_c: 9.9", Finding),
])
def test_both_sides_of_the_rest(said, kind):
    assert isinstance(answer(rest(said), RESTED, "A1"), kind)


def test_a_rest_that_is_not_recorded_is_a_line_at_the_desk():
    told = expect(Unproven, answer(rest(""), RESTED, "A1"))
    assert told.message == "rested_min of the cell voltages of 2026-05-16 is not recorded"
    assert isinstance(answer(manifest(packs()), RESTED, "A1"), NotApplicable)


def test_a_pack_at_its_storage_charge_in_full():
    text = read(3.82, 3.82, 3.81, 3.82)
    found = expect(Finding, answer(text, FULL, "A1"))
    assert found.message == "the pack is not full: 3.82 V a cell"
    assert found.evidence == (
        "the highest cell 3.82 ± 0.009 V (95 %) on 2026-05-21; at least 4.00 V, and 4.20 V when full"
    )
    assert found.do == "charge it full; read the cells again and write another pack_check"
    assert marked(text, found.place) == "[3.82, 3.82, 3.81, 3.82]"
    assert found.record == "pack_check"


# U of 0.2 % of 4 V and of a digit of 1 mV: 1.96·0.008/√3 = 9 mV.
@pytest.mark.parametrize(("chemistry", "cell", "kind"), [
    ("lipo", 3.990, Finding), ("lipo", 3.992, Unproven), ("lipo", 4.008, Unproven), ("lipo", 4.010, Clear),
    ("li-ion", 3.98, Finding), ("li-ion", 4.10, Clear),
    ("lipo-hv", 4.13, Finding), ("lipo-hv", 4.19, Clear),  # charged as plain lipo
    # A full one at rest: 3.65 V less 0.2 and 0.15 V; U of 0.2 % of 3.3 V and of the digit is 7.5 mV.
    ("life", 3.292, Finding), ("life", 3.293, Unproven), ("life", 3.307, Unproven), ("life", 3.308, Clear),
])  # fmt: skip
def test_both_sides_of_full(chemistry, cell, kind):
    expect(kind, answer(read(cell, cell, cell, cell, chemistry=chemistry), FULL, "A1"))


def test_a_dead_cell_of_a_full_pack_is_no_empty_pack():
    expect(Clear, answer(read(4.17, 3.41, 4.17, 4.16), FULL, "A1"))


def test_cells_of_another_day_tell_nothing_of_the_charge():
    expect(NotApplicable, answer(read(3.82, 3.82, 3.82, 3.82, date="2026-05-20"), FULL, "A1"))
    expect(NotApplicable, answer(manifest(packs()), FULL, "A1"))
