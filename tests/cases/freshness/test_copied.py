"""Readings under a new date: found where they are many, with or without work in between; not where they may agree."""

import numpy as np
import pytest
from making.manifests import answer, answers, expect, manifest

from preflint.api import Clear, Finding, NotApplicable, Unproven
from preflint.testing import inspect_text, marked, outcome

RULE = "freshness/copied-readings"
MAGNETIC = "compass: {}\nbarometer: {}\n"
VOLTS = "loaded: false, columns: [indicated_v, reference_v], rows: [[16.67, 16.68], [15.76, 15.78], [14.86, 14.88]]"
AMPERES = "columns: [throttle_percent, indicated_a, reference_a], rows: "
FIELD = (
    "columns: [current_a, field_x_ut, field_y_ut, field_z_ut], "
    "rows: [[0.2, 18.13, 1.42, 45.07], [9.8, 18.91, 1.66, 44.85], [20.3, 19.77, 1.89, 44.52]]"
)


def twice(kind, first, second=None, dates=("2026-05-16", "2026-05-20"), **more):
    entries = [f"date: {day}, {said}" for day, said in zip(dates, (first, second or first), strict=True)]
    return manifest(MAGNETIC, records={kind: entries}, **more)


def test_a_pasted_run_in_full():
    text = twice("interference_run", FIELD)
    first, found = answers(text, RULE)
    assert first == NotApplicable("there is no earlier interference run")
    assert expect(Finding, found).message == (
        "the interference run of 2026-05-20 has the readings of that of 2026-05-16"
    )
    assert found.evidence == "alike to the last digit, which readings taken anew are less than once in 1000 times"
    assert found.do.startswith("take the interference run of 2026-05-20 out, and take it anew: log time, current and")
    assert marked(text, found.place) == "2026-05-20"
    assert [marked(text, one.place) for one in found.related] == ["2026-05-16"]


@pytest.mark.parametrize("work", ["kind: flown", "kind: moved, part: power-lead", "kind: crashed"])
def test_with_work_in_between(work):
    expect(Finding, answers(twice("interference_run", FIELD, logbook=f"date: 2026-05-18, {work}"), RULE)[1])


def test_they_vouch_for_nothing():
    taken = f"in_force: {{divider_ratio: 6.2}}, reference: {{accuracy_percent: 0.2}}, {VOLTS}"
    text = twice("voltage_comparison", taken)
    text += "power_sensing: {divider_ratio: 6.2}\npacks: [{label: A1, chemistry: lipo, cells: 4}]\n"
    told = expect(Unproven, answer(text, "power_sensing/voltage-scale"))
    assert told.message == (
        "the voltage comparison of 2026-05-20 has the readings of that of 2026-05-16"
    )
    own = text.replace(VOLTS.partition("rows: ")[2], "[[16.61, 16.63], [15.7, 15.71], [14.9, 14.92]]", 1)
    assert not isinstance(answer(own, "power_sensing/voltage-scale"), Unproven)


# Three rows of a voltage comparison agree by chance once in 9100 times; where each lies near two rows of the earlier
# record it may agree with either, 8 in 9100, where near three 27 in 9100, more than 1 in 1000.
@pytest.mark.parametrize(("steps", "expected"), [
    ((), Finding), ((0.02,), Finding), ((0.02, -0.02), Clear),
    ((0.05, -0.05), Finding),  # of 14.86 V 0.3 % and half a digit are 0.0496 V: 9 in 9150
])
def test_a_row_may_agree_with_any_that_it_lies_near(steps, expected):
    rows = [[16.67, 16.68], [15.76, 15.78], [14.86, 14.88]]
    beside = [[round(one + step, 2) for one in row] for row in rows for step in steps]
    earlier = VOLTS.replace("[[16.67, 16.68]", f"[{', '.join(map(str, beside))}{', ' if beside else ''}[16.67, 16.68]")
    expect(expected, answers(twice("voltage_comparison", earlier, VOLTS), RULE)[1])


# The chance by hand, as the manual page reckons it.
@pytest.mark.parametrize(("kind", "readings", "expected"), [
    ("voltage_comparison", VOLTS, Finding),  # 0.3 %: 11 · 10.5 · 9.9 values of volts · 2³ = 1 in 9100
    ("voltage_comparison", VOLTS.replace(", [14.86, 14.88]", ""), Clear),  # two rows: 1 in 460
    ("voltage_comparison", VOLTS.replace("7, 16.68", "0, 16.6").replace("76, 15.78", "8, 15.8"), Finding),
    ("current_comparison", AMPERES + "[[0, 0.0, 0.0], [25, 3.9, 3.9], [40, 8.6, 8.7], [55, 14, 14]]", Clear),
    ("current_comparison", AMPERES + "[[0, 0.1, 0.0], [25, 13.9, 13.8], [40, 28.6, 28.7], [55, 44.1, 44.3]]", Finding),
    ("heading_check", "columns: [true_deg, indicated_deg], rows: [[0, 1.2], [90, 91.5], [180, 178.9], [270, 269.1]]",
     Finding),  # 0.5°: 11 values each, 1 in 14641
    ("heading_check", "columns: [true_deg, indicated_deg], rows: [[0, 1], [90, 91], [180, 179], [270, 269]]", Clear),
    ("cell_voltages", "cells_v: [4.2, 4.2, 4.19, 4.2, 4.2, 4.19], pack_v: 25.18, full: true", Clear),
    ("cell_voltages", "cells_v: [3.8514, 3.8497, 3.8522, 3.8509, 3.8513, 3.8531], pack_v: 23.1086", Finding),
    ("recharge", "counted_mah: 3606, put_back_mah: 3630", Finding),  # 727 values · 2
    ("recharge", "counted_mah: 3600, put_back_mah: 3600", Clear),
    ("hover", "mean_current_a: 22.3456, mean_voltage_v: 15.2", Finding),  # 1 %: 4470 values · 2
    ("barometer_check", "indicated_hpa: 991.6, station_pressure_hpa: 991.3", Clear),
    ("hover", "mean_current_a: 15.4, mean_voltage_v: 15.2, throttle_percent: 58", Clear),
    ("range_test", "distance_m: 40, control_held: true", Clear),
])  # fmt: skip
def test_how_many_digits_it_takes(kind, readings, expected):
    expect(expected, answers(twice(kind, readings), RULE)[1])


def test_half_of_the_rows_are_enough_and_fewer_are_not():
    rng = np.random.default_rng(5)

    def log(rows):
        return f"columns: [field_x_ut, field_y_ut, field_z_ut], rows: {np.round(rows, 2).tolist()}"

    one, other = rng.normal(0, 30, (2, 12, 3))
    for copied, expected in ((12, Finding), (6, Finding), (5, Clear), (0, Clear)):
        mixed = np.vstack([one[:copied][::-1], other[copied:]])  # in another order
        expect(expected, answers(twice("compass_rotation", log(one), log(mixed)), RULE)[1])


def test_of_a_long_log():
    rows = np.round(np.random.default_rng(6).normal(0, 30, (1100, 3)), 2)
    for first, second, expected in ((rows, rows, Finding), (rows, rows[40:60], Finding), (rows[:20], rows, Clear)):
        logs = (f"columns: [field_x_ut, field_y_ut, field_z_ut], rows: {one.tolist()}" for one in (first, second))
        expect(expected, answers(twice("compass_rotation", *logs), RULE)[1])


def test_readings_taken_anew_are_never_found():
    """A still aircraft and a coarse sensor: noise of 0.1 µT seen in tenths, currents that come back within 1 %."""
    rng, truth = np.random.default_rng(9), np.array([[0.2, 18, 1, 45], [9.8, 19, 2, 44], [20.3, 20, 2, 44]])
    for _ in range(20):
        pair = [np.round(truth * [1, 1, 1, 1] + rng.normal(0, [0.1, 0.1, 0.1, 0.1], truth.shape), 1) for _ in "ab"]
        said = [
            f"columns: [current_a, field_x_ut, field_y_ut, field_z_ut], rows: {abs(rows).tolist()}" for rows in pair
        ]
        expect(Clear, answers(twice("interference_run", *said), RULE)[1])


@pytest.mark.parametrize(("dates", "expected"), [
    (("2026-05-16", "2026-05-16"), NotApplicable),  # which was first is not said
    (("2026-05-16 10:00", "2026-05-16 10:00"), NotApplicable),
    (("2026-05-16 10:00", "2026-05-16 18:00"), Finding),
])  # fmt: skip
def test_one_log_for_two_records_of_a_date(dates, expected):
    assert expected in [type(one) for one in answers(twice("interference_run", FIELD, dates=dates), RULE)]
    assert (expected is Finding) is bool(
        [one for one in answers(twice("interference_run", FIELD, dates=dates), RULE) if isinstance(one, Finding)]
    )


def test_one_file_under_two_dates():
    rows = np.random.default_rng(3).normal(0, 30, (12, 3)).round(2)
    log = "field_x_ut,field_y_ut,field_z_ut\n" + "".join(",".join(map(str, row)) + "\n" for row in rows.tolist())
    text = twice("compass_rotation", "file: log.csv")
    seen = inspect_text(text, "2026-05-21", files={"log.csv": log})
    told = [result.outcome for result in seen.results if result.rule.id == RULE]
    assert [type(one) for one in told] == [NotApplicable, Finding]


def test_out_of_the_question():
    text = twice("interference_run", FIELD).replace("compass: {}", "compass: none")
    assert {type(one) for one in answers(text, RULE)} == {NotApplicable}
    assert outcome(inspect_text(manifest(records={"interference_run": f"date: 2026-05-16, {FIELD}"})), RULE)
