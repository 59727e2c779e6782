"""Logs of an interference run that cannot be readings, or not those of this aircraft, vouch for nothing."""

from dataclasses import replace

import numpy as np
import pytest
from making.logs import (
    AGAIN,
    AMPERES,
    COLUMNS,
    COVERAGE,
    EARTH,
    ERROR,
    THROTTLE,
    TIME,
    answer,
    csv,
    field,
    inspected,
    manifest,
)
from making.manifests import expect
from preflint_rules.interference.log import steps_of

from preflint.api import Clear, Known, Unproven
from preflint.load.tables.table import Table
from preflint.testing import inspect_text, marked, outcome


def implausible(log, **aircraft):
    """What both rules that read the log say of it, and the text that they mark."""
    told = answer(log, **aircraft)
    assert answer(log, COVERAGE, **aircraft) == told
    assert isinstance(told, Unproven)
    text = log if told.place.file == "log.csv" else manifest(**aircraft)
    return told.cause, told.message, told.do, marked(text, told.place)


def test_throttle_and_current_exchanged():
    cause, message, how, row = implausible(csv(COLUMNS, TIME, AMPERES, THROTTLE, field(AMPERES)))
    assert (cause, how) == ("uncertain", AGAIN)
    assert message == (
        "the run of 2026-05-16 shows 70.0 A at 31 % throttle, but 84 A at 100 % means under 26 A"
    )
    assert ",31.000,70.000," in row


@pytest.mark.parametrize(("axis", "message"), [
    (0, "the run of 2026-05-16 shows 9.1 A at 0 % throttle, where motors draw next to nothing"),
    (1, "in the run of 2026-05-16 current does not rise with throttle: 24."),
    (2, "the run of 2026-05-16 shows 38.2 A at 0 % throttle, where motors draw next to nothing"),
])
def test_current_and_field_exchanged(axis, message):
    columns = [AMPERES, *field(AMPERES).T]
    columns[0], columns[axis + 1] = columns[axis + 1], columns[0]
    cause, told, how, _ = implausible(csv(COLUMNS, TIME, THROTTLE, *columns))
    assert (cause, how, told[: len(message)]) == ("uncertain", AGAIN, message)


def test_a_current_that_falls_as_the_throttle_rises():
    told = implausible(csv(COLUMNS[1:], 70 - THROTTLE, AMPERES, field(AMPERES)))
    assert told[1] == (
        "in the run of 2026-05-16 current does not rise with throttle: 31.0 A at 0 %, 0.2 A at 70 %"
    )
    assert told[3] == "date: 2026-05-16"


@pytest.mark.parametrize(("noise", "rows", "dead"), [(0.05, 12, True), (0.05, 7, False), (0.005, 12, False)])
def test_a_dead_axis_shows_in_a_few_rows_that_scatter(noise, rows, dead):
    """Written to 0.01 µT: a noise of half a digit may leave an axis alone, one of five digits does not."""
    amperes = np.resize([0.2, 7.0, 14.0, 22.6, 31.0], rows)
    shown = np.round(field(amperes, noise=noise), 2)
    shown[:, 2] = shown[0, 2]
    log = csv(COLUMNS[2:], amperes, shown, decimals=(1, 2, 2, 2))
    said = getattr(answer(log), "message", "")
    assert ("field_z_ut stands still in 12 rows" in said) is dead


@pytest.mark.parametrize(("up", "down", "dead"), [(2, -1, False), (3, -2, True)])
def test_axes_that_scatter_by_two_last_digits_tell_of_a_dead_one(up, down, dead):
    """So many last digits by turns: 1.5 and 2.5 off their middle."""
    amperes = np.resize([0.2, 7.0, 14.0, 22.6, 31.0], 12)
    by_turns = np.resize([up, down], amperes.size) / 100
    log = csv(COLUMNS[2:], amperes, 9.1 + by_turns, 24.4 + by_turns, 38.2 + 0 * by_turns, decimals=(1, 2, 2, 2))
    said = getattr(answer(log), "message", "")
    assert ("field_z_ut stands still in 12 rows" in said) is dead


def test_means_of_rows_show_no_finer_digit_than_the_rows():
    amperes, shown = np.repeat(AMPERES, 70), np.round(field(np.repeat(AMPERES, 70)), 1)
    record = inspected(csv(COLUMNS[2:], AMPERES, field(AMPERES))).aircraft.records.interference_run[0]
    means = np.column_stack([amperes, shown]).reshape(-1, 7, 4).mean(axis=1)
    table = Table(COLUMNS[2:], means, len(shown), 7, record.place, [record.place] * len(means), (0.1,) * 4)
    steps = steps_of(replace(record, table=Known(table, record.place)))
    assert (steps.digit, steps.u_current[0]) == (0.1, pytest.approx(0.1 / np.sqrt(12)))


ALL_OF_IT = (ERROR, COVERAGE, *(f"interference/{slug}" for slug in ("offset-sign", "double-compensation", "run-field")))


@pytest.mark.parametrize("share", [1.0, 0.03])
def test_a_current_that_flows_backwards_asks_for_no_opposite_offset(share):
    log = csv(("current_a", *COLUMNS[3:]), -share * AMPERES, field(AMPERES))
    for rule in ALL_OF_IT:
        told = answer(log, rule)
        assert isinstance(told, Unproven), rule
        assert told.message.startswith("the run of 2026-05-16 shows -")
        assert told.message.endswith(" A, flowing backwards: a wrong sign or zero")
        assert told.do == "set right the zero or the direction of the current sensor; log the run again"


@pytest.mark.parametrize(("times", "shown"), [(10, "462"), (1000, "4.62e+04"), (0.01, "0.462")])
def test_a_field_of_no_place_asks_for_no_offset_in_its_unit(times, shown):
    log = csv(COLUMNS, TIME, THROTTLE, AMPERES, times * field(AMPERES))
    for rule in ALL_OF_IT:
        for offset in ("[-0.11, 0.23, -0.05]", "[0.11, -0.23, 0.05]"):
            told = answer(log, rule, offset=offset)
            assert told.message == (
                f"the run of 2026-05-16 shows {shown} µT at the least current; the Earth has 22 to 67 µT"
            ), rule


def test_a_log_of_another_aircraft():
    cause, message, how, row = implausible(csv(COLUMNS[2:], 4 * AMPERES, field(AMPERES)))
    assert message == "the run of 2026-05-16 shows 124.0 A, but all motors at full throttle draw 84 A"
    assert (cause, how) == ("uncertain", AGAIN)
    assert row.startswith("124.000,")


RANGE = "sensor_mv_per_a: 26.4, zero_mv: 330, input_full_scale_mv: 3300"


def with_one_row_of(amperes):
    """One row, that no median shows."""
    current = AMPERES.copy()
    current[120] = amperes
    return csv(COLUMNS, TIME, THROTTLE, current, field(AMPERES))


def test_a_current_that_the_sensor_cannot_show():
    # (3300 mV - 330 mV) / 26.4 mV/A = 112.5 A, and one per cent for last digits.
    cause, message, how, row = implausible(with_one_row_of(114), sensing=RANGE)
    assert message == (
        "the readings of 2026-05-16 go up to 114.0 A; the sensor as set then shows 112.5 A at most"
    )
    assert how == (
        "look whether the readings are of this aircraft; compare sensor_mv_per_a, zero_mv and input_full_scale_mv "
        "with what was set; then take the readings again"
    )
    assert (cause, row.split(",")[2]) == ("uncertain", "114.000")


@pytest.mark.parametrize(("amperes", "full"), [(111.3, False), (111.4, True), (113.5, True)])
def test_a_sensor_at_the_end_of_its_range(amperes, full):
    # 99 % of 112.5 A is 111.375 A.
    log = with_one_row_of(amperes)
    if not full:
        assert isinstance(answer(log, sensing=RANGE), Clear)
        return
    cause, message, how, row = implausible(log, sensing=RANGE)
    assert message == (
        f"the run of 2026-05-16 goes up to {amperes} A, but the sensor shows 112.5 A at most"
    )
    assert (cause, how, row.split(",")[2]) == ("uncertain", "repeat the run below 111 A", f"{amperes:.3f}")


@pytest.mark.parametrize("axis", [0, 1, 2])
def test_one_axis_that_stands_still(axis):
    rows = field(AMPERES)
    rows[:, axis] = EARTH[axis]
    _, message, how, place = implausible(csv(COLUMNS, TIME, THROTTLE, AMPERES, rows))
    assert message == (
        f"field_{'xyz'[axis]}_ut stands still in 300 rows of the run of 2026-05-16"
    )
    assert (how, place) == (AGAIN, "date: 2026-05-16")


def test_an_axis_that_nothing_disturbs_may_look_the_same_in_a_few_rows():
    few = np.array([0.01, 8, 16, 24, 0.01])
    rows = np.column_stack([field(few, noise=0.001)[:, :2], np.full(5, 38.2)])
    assert isinstance(answer(csv(COLUMNS[2:], few, rows), offset="[-0.11, 0.23, 0]"), Clear)


@pytest.mark.parametrize(
    ("one", "other"), [("throttle_percent", "current_a"), ("field_x_ut", "field_z_ut"), ("current_a", "field_y_ut")]
)
def test_one_column_twice(one, other):
    values = dict(zip(COLUMNS, [TIME, THROTTLE, AMPERES, *field(AMPERES).T], strict=True))
    values[one] = values[other]
    told = implausible(csv(COLUMNS, *values.values()))
    assert told[1:3] == (f"{one} and {other} of the run of 2026-05-16 hold the same numbers", AGAIN)


def test_the_range_of_the_sensor_is_that_of_the_run():
    # 20 mV/A now; with the 26.4 mV/A of the run the sensor showed up to 112.5 A, and that counts.
    now = RANGE.replace("26.4", "20")
    assert answer(with_one_row_of(114), COVERAGE, sensing=now).message.endswith(" 112.5 A at most")
    then = manifest(sensing=RANGE).replace("in_force: {sensor_mv_per_a: 26.4}", "in_force: {zero_mv: 1650}")
    told = outcome(inspect_text(then, files={"log.csv": with_one_row_of(64)}), COVERAGE)
    assert told.message.endswith(" 62.5 A at most")  # (3300 - 1650) / 26.4


@pytest.mark.parametrize("missing", ["zero_mv: 330", "input_full_scale_mv: 3300"])
def test_no_range_is_guessed(missing):
    expect(Clear, answer(with_one_row_of(114), sensing=RANGE.replace(f", {missing}", "")))


# Up to 4 A, two fifths of which are 1.6 A; 3 A and a fifth are what larger aircraft are held to.
@pytest.mark.parametrize(("still_a", "found"), [(1.5, False), (1.6, False), (1.7, True)])
def test_what_flows_at_no_throttle_counts_by_the_size_of_the_aircraft(still_a, found):
    amperes = np.maximum(AMPERES / AMPERES.max() * 4, still_a)
    told = answer(csv(COLUMNS, TIME, THROTTLE, amperes, field(amperes)))
    assert ("where motors draw next to nothing" in getattr(told, "message", "")) is found


@pytest.mark.parametrize(("shown", "somewhere"), [(5.4, False), (5.6, True), (267, True), (269, False)])
def test_a_fourth_of_the_weakest_and_four_times_the_strongest_field_may_be_iron(shown, somewhere):
    """From 22 to 67 µT (World Magnetic Model), and iron on board; the 46.2 µT of the log made that strong."""
    log = csv(COLUMNS, TIME, THROTTLE, AMPERES, shown / float(np.linalg.norm(field(0 * AMPERES)[0])) * field(AMPERES))
    assert ("the Earth has 22 to 67 µT" in getattr(answer(log, COVERAGE), "message", "")) is not somewhere
