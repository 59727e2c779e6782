"""A cell under full throttle at the warning: the worked aircraft, both sides, and what its inputs leave open."""

import pytest
from making.manifests import answer, expect, manifest

from preflint.api import Clear, Finding, NotApplicable, Unproven
from preflint.testing import inspect_text, marked

RULE = "warnings/full-throttle-cell"
OHM, TOPS = 0.0126, (10, 20, 35, 20, 10)
COMPARED = {
    "voltage_comparison": (
        "date: 2026-05-16, in_force: {divider_ratio: 6.2}, loaded: false, "
        "reference: {accuracy_percent: 0.1, resolution_v: 0.01}, columns: [indicated_v, reference_v], "
        "rows: [[16.50, 16.50], [14.50, 14.50], [13.00, 13.00]]"
    ),
    "current_comparison": (
        "date: 2026-05-16, route: restrained, in_force: {sensor_mv_per_a: 20, zero_mv: 330}, "
        "reference: {accuracy_percent: 1.0, resolution_a: 0.1, zero_a: 0}, columns: [indicated_a, reference_a], "
        "rows: [[0, 0], [10, 10], [20, 20], [35, 35]]"
    ),
    "hover": "date: 2026-05-17, mean_current_a: 15.4, in_force: {sensor_mv_per_a: 20, zero_mv: 330}",
}


def sagged(ohm=OHM, tops=TOPS, open_v=16.5, fall=0.0002):
    used, rows = 0.0, [[0.2, round(open_v - 0.2 * ohm, 2), 0]]
    for ampere in tops:
        used += ampere / 0.36
        rows.append([ampere, round(open_v - ohm * ampere - fall * used, 2), round(used)])
    return f"date: 2026-05-16, pack: A1, dwell_s: 10, columns: [current_a, voltage_v, used_mah], rows: {rows}"


def warned(warning, records=None, draw=17, cells=4, chemistry="lipo"):
    return manifest(
        f"packs: [{{label: A1, chemistry: {chemistry}, cells: {cells}}}]\n",
        f"every_rotor: {{motor: {{full_throttle_draw_a: {draw}}}}}\n",
        "power_sensing: {divider_ratio: 6.2, sensor_mv_per_a: 20, zero_mv: 330}\n",
        f"battery_warnings: [{{{warning}, does: tells}}]\n",
        records={**COMPARED, "sag_run": sagged()} if records is None else records,
    )


def test_the_worked_aircraft_at_three_volts_a_cell():
    """R·(68 - 15.4) = 0.6628 V: 12.00 V are (12.00 - 0.66)/4 = 2.83 V."""
    text = warned("watches: pack-voltage, at_v: 12.00")
    found = expect(Finding, answer(text, RULE, "A1"))
    assert found.message == "at the warning full throttle pulls a cell to 2.83 V, below 3.00 V"
    assert marked(text, found.place) == "12.00"
    assert found.do.startswith("set the warning to 3.1")


@pytest.mark.parametrize(("at", "kind"), [(12.0, Finding), (12.55, Finding), (12.66, Unproven), (12.8, Clear),
                                          (13.2, Clear)])  # fmt: skip
def test_both_sides(at, kind):
    expect(kind, answer(warned(f"watches: pack-voltage, at_v: {at}"), RULE, "A1"))


def test_a_cell_of_the_worked_aircraft_at_its_warning():
    seen = inspect_text(warned("watches: pack-voltage, at_v: 13.2"))
    (cell,) = [one for one in seen.computed if one.quantity == "warning_full_throttle_cell_v"]
    assert cell.value == pytest.approx(3.134, abs=0.004)
    assert cell.at == "A1"
    assert cell.standard_uncertainty is not None


def test_a_display_that_reads_high_warns_late():
    """2.44 % too high: a warning set to 12.95 V comes at 12.64 V."""
    high = COMPARED | {"sag_run": sagged(), "voltage_comparison": COMPARED["voltage_comparison"].replace(
        "[[16.50, 16.50], [14.50, 14.50], [13.00, 13.00]]", "[[16.90, 16.50], [14.85, 14.50], [13.32, 13.00]]")}
    warning = "watches: pack-voltage, at_v: 12.8"
    expect(Clear, answer(warned(warning), RULE, "A1"))
    expect(Finding, answer(warned(warning, high), RULE, "A1"))


def test_more_resistance_or_more_draw_pulls_lower():
    warning = "watches: pack-voltage, at_cell_v: 3.3"
    expect(Clear, answer(warned(warning), RULE, "A1"))
    expect(Finding, answer(warned(warning, COMPARED | {"sag_run": sagged(0.03)}), RULE, "A1"))
    expect(Clear, answer(warned(warning, draw=20), RULE, "A1"))


def test_the_first_warning_counts():
    text = warned("watches: pack-voltage, at_v: 14, does: tells}, {watches: pack-voltage, at_v: 12")
    expect(Clear, answer(text, RULE, "A1"))


def test_a_run_that_goes_to_a_third_of_full_throttle_finds_nothing_beyond_itself():
    """What a table says of full throttle the pack may not give."""
    short = COMPARED | {"sag_run": sagged(tops=(8, 16, 22, 16, 8))}
    expect(Unproven, answer(warned("watches: pack-voltage, at_v: 12.3", short), RULE, "A1"))
    expect(Clear, answer(warned("watches: pack-voltage, at_v: 14", short), RULE, "A1"))


@pytest.mark.parametrize(("chemistry", "kind"), [("lipo", Finding), ("li-ion", Clear), ("life", Clear)])
def test_each_chemistry_has_its_floor(chemistry, kind):
    expect(kind, answer(warned("watches: pack-voltage, at_v: 12.2", chemistry=chemistry), RULE, "A1"))


def test_the_lowest_cell_is_taken_as_set():
    expect(Clear, answer(warned("watches: lowest-cell, at_cell_v: 3.3"), RULE, "A1"))
    expect(Finding, answer(warned("watches: lowest-cell, at_cell_v: 3.05"), RULE, "A1"))


@pytest.mark.parametrize("missing", ["voltage_comparison", "current_comparison", "hover", "sag_run"])
def test_missing_input_is_never_a_pass(missing):
    records = {**COMPARED, "sag_run": sagged()}
    del records[missing]
    expect(Unproven, answer(warned("watches: pack-voltage, at_v: 14", records), RULE, "A1"))


def test_no_warning_of_volts():
    expect(NotApplicable, answer(warned("watches: flight-time, at_min: 5"), RULE, "A1"))


def test_where_no_resistance_can_be_known():
    warning = "watches: pack-voltage, at_v: 12.00"
    bare = warned(warning).replace("{divider_ratio: 6.2, sensor_mv_per_a: 20, zero_mv: 330}", "none", 1)
    assert answer(bare, RULE, "A1") == NotApplicable("no power sensing is fitted, so that no resistance is known")
    rising = expect(Unproven, answer(warned(warning, COMPARED | {"sag_run": sagged(-0.01)}), RULE, "A1"))
    assert (rising.cause, rising.message) == (
        "uncertain", "the volts of the sag run of 2026-05-16 do not fall with the current: see pack-resistance",
    )
