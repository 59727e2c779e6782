"""Cells against the pack, recharge against the count, sag and agreement of instruments; texts in full."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats

from preflint.api import Clear, Finding, NotApplicable, Unproven
from preflint.testing import computed, inspect_text, marked, outcome

SUM, RECHARGE = "power_sensing/cell-sum", "power_sensing/recharge"
HEAD = "preflint: 1\naircraft: {name: Trial, layout: quad-x}\n"


def cells(cells_v="[3.85, 3.84, 3.85]", pack_v="11.55", accuracy="accuracy_percent: 0.5", count=3):
    return (
        HEAD + f"packs: [{{label: A1, chemistry: lipo, cells: {count}}}]\nrecords:\n  cell_voltages:\n"
        f"    - {{date: 2026-05-17, pack: A1, cells_v: {cells_v}, pack_v: {pack_v}, "
        f"reference: {{instrument: meter, {accuracy}}}}}\n"
    )


def recharge(counted=4280, put_back=4300, accuracy=1.0, then=26.4, now=26.4, full="true"):
    return (
        HEAD + f"power_sensing: {{sensor_mv_per_a: {now}}}\nrecords:\n  recharge:\n"
        f"    - {{date: 2026-05-17, counted_mah: {counted}, put_back_mah: {put_back}, full_before: {full}, "
        f"in_force: {{sensor_mv_per_a: {then}}}, reference: {{instrument: charger, accuracy_percent: {accuracy}}}}}\n"
    )


def test_a_cell_that_reads_low_in_full():
    text = cells("[3.85, 3.84, 3.62]")
    found = outcome(inspect_text(text), SUM, "A1")
    assert isinstance(found, Finding)
    assert found.message == "the cells add up to 11.31 V, 0.24 V less than the whole pack"
    assert found.evidence == (
        "3.85 + 3.84 + 3.62 = 11.31 V, the whole pack 11.55 V on 2026-05-17: difference -0.24 V, "
        "of which the instrument explains 0.09 V (95 %)"
    )
    assert found.remedy == (
        "read every cell and the whole pack again; if it stays, look at the contacts of the balance plug"
    )
    assert marked(text, found.place) == "11.55"
    assert marked(text, found.related[0].place) == "[3.85, 3.84, 3.62]"


BOTH_SIDES = [("11.45", Clear), ("11.44", Finding), ("11.63", Clear), ("11.64", Finding)]


# Worked out by hand: 1.96 · √((0.005·11.54)²/3 + (0.005·11.54)²/3 + 4·0.01²/12) = 0.093 V.
@pytest.mark.parametrize(("pack_v", "answer"), BOTH_SIDES)
def test_both_sides_of_what_the_instrument_explains(pack_v, answer):
    assert isinstance(outcome(inspect_text(cells(pack_v=pack_v)), SUM, "A1"), answer)


def test_a_fixed_accuracy_counts_for_every_cell():
    # 1.96 · √((3·0.02)²/3 + 0.02²/3 + 4·0.01²/12) = 0.073 V.
    for pack_v, answer in (("11.61", Clear), ("11.62", Finding)):
        assert isinstance(outcome(inspect_text(cells(pack_v=pack_v, accuracy="accuracy_v: 0.02")), SUM, "A1"), answer)


def test_cells_that_cannot_be_judged():
    assert isinstance(outcome(inspect_text(cells(accuracy="resolution_v: 0.01")), SUM, "A1"), Unproven)
    other = outcome(inspect_text(cells(count=4)), SUM, "A1")
    assert other == NotApplicable("3 cells are recorded, not 4: see cell-count")
    nothing = NotApplicable("no voltages of its cells and of the whole pack are recorded together")
    assert outcome(inspect_text(cells().partition("records:")[0]), SUM, "A1") == nothing
    assert outcome(inspect_text(cells().replace(" pack_v: 11.55,", "")), SUM, "A1") == nothing
    other_pack = cells().replace("pack: A1", "pack: B2").replace("packs: [", "packs: [{label: B2}, ")
    assert outcome(inspect_text(other_pack), SUM, "A1") == nothing


def test_a_charge_counted_too_low_in_full():
    text = recharge(3870)
    found = outcome(inspect_text(text), RECHARGE)
    assert isinstance(found, Finding)
    assert found.message == (
        "charge is under-counted by 10.0 % ± 1.0 %: when 1000 mAh are counted, 1111 are used"
    )
    assert found.evidence == (
        "3870 mAh counted, 4300 mAh put back on 2026-05-17, sensor_mv_per_a 26.4 in force: "
        "under-counted by 10.0 % ± 1.0 %, at most 3 %"
    )
    assert found.remedy == "compare the current with a meter, and expect sensor_mv_per_a near 23.8"
    assert marked(text, found.place) == "26.4"
    assert marked(text, found.related[0].place) == "3870"


# U = 1.96 · (1 + e) · 1 % / √3, about 1.13 %.
@pytest.mark.parametrize(
    ("counted", "answer"),
    [
        (9570, Finding), (9600, Unproven), (9800, Unproven), (9820, Clear),
        (10180, Clear), (10190, Unproven), (10430, Finding),
    ],
)
def test_both_sides_of_three_per_cent(counted, answer):
    assert isinstance(outcome(inspect_text(recharge(counted, 10000)), RECHARGE), answer)


def test_what_a_recharge_needs():
    missing = outcome(inspect_text(recharge(full="false")), RECHARGE)
    assert isinstance(missing, Unproven)
    assert missing.message == "the pack was not full before the flight, so that more was put back than the flight took"
    for gone in (", accuracy_percent: 1.0", " full_before: true,"):
        text = recharge()
        assert gone in text
        assert isinstance(outcome(inspect_text(text.replace(gone, "")), RECHARGE), Unproven)
    assert isinstance(outcome(inspect_text(recharge(0, 0)), RECHARGE), Unproven)
    none = outcome(inspect_text(recharge().partition("records:")[0]), RECHARGE)
    assert none == NotApplicable("no recharge is recorded")


def test_nothing_counted_at_all():
    found = outcome(inspect_text(recharge(0)), RECHARGE)
    assert isinstance(found, Finding)
    assert found.message == "no charge was counted"
    assert "sensor_mv_per_a near" not in found.remedy


def test_a_setting_changed_since():
    right = outcome(inspect_text(recharge(3870, then=26.4, now=23.76)), RECHARGE)
    assert isinstance(right, Unproven)
    assert right.cause == "stale"
    backwards = outcome(inspect_text(recharge(3870, then=26.4, now=29.3)), RECHARGE)
    assert isinstance(backwards, Finding)
    assert backwards.remedy.endswith("near 23.8")


@settings(derandomize=True, deadline=None, max_examples=40)
@given(
    real=st.floats(10, 60),
    error=st.one_of(st.floats(-0.3, -0.06), st.floats(0.06, 0.3)),
    used=st.integers(900, 12000),
)
def test_the_setting_to_expect_is_the_real_one(real, error, used):
    """A sensor of ``real`` mV/A, set to something else: amperes counted are true · real / set."""
    set_to = round(real * (1 + error), 4)
    found = outcome(inspect_text(recharge(round(used * real / set_to), used, 0.5, set_to, set_to)), RECHARGE)
    assert isinstance(found, Finding)
    assert float(found.remedy.rpartition(" ")[2]) == pytest.approx(real, rel=0.008)


def sag(rows, label="A1"):
    return (
        HEAD + f"packs: [{{label: A1, chemistry: lipo, cells: 4}}]\nrecords:\n  sag_run:\n"
        f"    - {{date: 2026-05-17, pack: {label}, route: restrained, dwell_s: 10, "
        f"columns: [current_a, voltage_v, used_mah], rows: {rows}}}\n"
    )


def test_pack_resistance_as_built_into_the_readings():
    # V = 16.6 - 0.025·I - 0.0004·Q, exact.
    drawn = ((0, 0), (10, 30), (20, 90), (30, 200), (5, 230))
    rows = [[i, round(16.6 - 0.025 * i - 0.0004 * q, 4), q] for i, q in drawn]
    told = computed(inspect_text(sag(rows)), "pack_resistance_ohm", "dwell-10-s", "A1")
    assert told.value == pytest.approx(0.025, rel=1e-9)
    assert 0 < told.standard_uncertainty < 2e-5


def test_pack_resistance_where_no_charge_is_told_apart_is_the_line_of_scipy():
    # scipy.stats.linregress, a second implementation.
    current, volts = [0.0, 8.0, 16.0, 24.0, 31.0], [16.52, 16.31, 16.12, 15.89, 15.74]
    told = computed(
        inspect_text(sag([[i, v, 100] for i, v in zip(current, volts, strict=True)])),
        "pack_resistance_ohm", "dwell-10-s", "A1",
    )
    line = stats.linregress(current, volts)
    assert told.value == pytest.approx(-line.slope, rel=1e-9)
    assert told.standard_uncertainty == pytest.approx(line.stderr, rel=1e-9)


def test_three_parameters_against_the_normal_equations():
    rng = np.random.default_rng(5)
    current, used = np.array([0, 10, 20, 30, 5, 15, 25.0]), np.array([0, 20, 60, 130, 180, 240, 330.0])
    volts = np.round(16.6 - 0.025 * current - 0.0004 * used + rng.normal(0, 0.02, 7), 3)
    rows = [[float(a), float(b), float(c)] for a, b, c in zip(current, volts, used, strict=True)]
    told = computed(inspect_text(sag(rows)), "pack_resistance_ohm", "dwell-10-s", "A1")
    design = np.column_stack([np.ones(7), -current, -used])
    inverse = np.linalg.inv(design.T @ design)
    best = inverse @ design.T @ volts
    scatter = math.sqrt(float(np.sum((volts - design @ best) ** 2)) / 4)
    assert told.value == pytest.approx(best[1], rel=1e-9)
    assert told.standard_uncertainty == pytest.approx(scatter * math.sqrt(inverse[1, 1]), rel=1e-9)


@pytest.mark.parametrize(
    "rows",
    [
        [[10, 16.0, 50]],
        [[10, 16.0, 50], [10, 15.9, 90], [10, 15.8, 150]],
        [[0, 16, 0], [10, 15.7, 100], [20, 15.4, 200]],
    ],
)
def test_rows_that_tell_no_resistance(rows):
    with pytest.raises(LookupError):
        computed(inspect_text(sag(rows)), "pack_resistance_ohm", "dwell-10-s", "A1")


def two(first, second, names=("bench meter", "clamp"), work=""):
    records = "".join(
        f"    - date: {day}\n      in_force: {{divider_ratio: {ratio}}}\n      loaded: false\n"
        f"      reference: {{instrument: {name}, accuracy_percent: {percent}, resolution_v: 0.001}}\n"
        f"      columns: [indicated_v, reference_v]\n      rows: [[16.001, {volts}]]\n"
        for day, name, (ratio, percent, volts) in zip(("2026-05-10", "2026-05-17"), names, (first, second), strict=True)
    )
    return HEAD + f"power_sensing: {{divider_ratio: 10.0}}\nrecords:\n  voltage_comparison:\n{records}{work}"


def test_two_instruments_that_agree_or_do_not():
    # By hand: ratios asked for 10.0 and 10.09999, U = 2 · 0.5 % / √3 each: 0.1 / √(0.0577² + 0.0583²) = 1.218.
    seen = inspect_text(two((10.0, 0.5, "16.001"), (10.0, 0.5, "16.161")))
    assert computed(seen, "normalised_error", "volts").value == pytest.approx(1.218, rel=1e-3)
    # The setting corrected in between: the display then read 1 % more, and the second meter confirms it.
    seen = inspect_text(two((10.0, 0.5, "16.161"), (10.1, 0.5, "16.001")))
    assert computed(seen, "normalised_error", "volts").value == pytest.approx(0, abs=2e-4)


def test_no_agreement_is_told_of_one_instrument_or_two_sensors():
    for text in (
        two((10.0, 0.5, "16.001"), (10.0, 0.5, "16.161"), ("Bench meter", "bench meter")),
        two((10.0, 0.5, "16.001"), (10.0, 0.5, "16.161"),
            work="logbook:\n  - {date: 2026-05-12, kind: replaced, part: power-sensor}\n"),
    ):
        with pytest.raises(LookupError):
            computed(inspect_text(text), "normalised_error", "volts")
