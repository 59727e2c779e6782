"""Logs of an interference run as files beside the manifest: steps, memory, drift, hovers, no logs at all."""

import numpy as np
import pytest
from making.logs import AMPERES, COLUMNS, ERROR, THROTTLE, TIME, answer, csv, field, inspected, manifest
from making.manifests import expect

from preflint.api import Clear, Finding, Unproven
from preflint.errors import NotRead
from preflint.testing import computed, marked, outcome

GOOD = csv(COLUMNS, TIME, THROTTLE, AMPERES, field(AMPERES))


def hover_log(ground=True, n=3000, seed=2):
    """Current that wavers slowly about 24 A, and throttle with it; on the ground before and after."""
    rng = np.random.default_rng(seed)
    amperes = 24 + 4 * np.sin(np.arange(n) / 90) + rng.normal(0, 0.5, n)
    if ground:
        amperes[:300] = amperes[-300:] = 0.2
    throttle = np.where(amperes > 1, 48 + (amperes - 24) + rng.normal(0, 2, n), 0)
    return csv(COLUMNS, np.arange(n) * 0.1, throttle, amperes, field(amperes, seed, 0.2, 0.95))


def test_the_steps_of_a_log():
    told = expect(Clear, answer(GOOD))
    assert "raw run of 2026-05-16, 6 steps to 31.0 A: " in told.evidence
    assert "not back to still motors" not in told.evidence
    by_current = answer(csv(COLUMNS[2:], AMPERES, field(AMPERES)))
    assert "6 steps to 31.0 A" in by_current.evidence


def test_rows_that_remember_each_other_say_less():
    def u(memory):
        """Median over logs of the standard uncertainty of the slope."""
        logs = [csv(COLUMNS, TIME, THROTTLE, AMPERES, field(AMPERES, seed, 0.2, memory)) for seed in range(9)]
        found = [computed(inspected(log), "interference_ut_per_a", "x").standard_uncertainty for log in logs]
        return float(np.median(found))

    # First-order noise of 0.9 in long stretches: (1 + 0.9) / (1 - 0.9) = 19 rows are worth one; here they are shorter.
    assert 2.5 * u(0.0) < u(0.9) < 5.5 * u(0.0)


def test_what_comes_right_after_a_change_does_not_count():
    lag = field(AMPERES)
    for start in range(0, 300, 50):
        lag[start : start + 5] += [2.0, 0, 0]  # the first second of each step
    log = csv(COLUMNS, TIME, THROTTLE, AMPERES, lag)
    clean = computed(inspected(GOOD), "interference_ut_per_a", "x").value
    assert computed(inspected(log), "interference_ut_per_a", "x").value == pytest.approx(clean, abs=1e-9)


def test_steps_whose_settled_rows_are_just_half_of_the_log_are_steps():
    """Four rows each, half a second apart: the first second, of two rows, does not count."""
    amperes = np.repeat([0.2, 7.0, 14.0, 22.6, 31.0, 14.0, 0.2], 4)
    log = csv(COLUMNS, np.arange(28) * 0.5, 2 * amperes, amperes, field(amperes, noise=0.01))
    assert "raw run of 2026-05-16, 7 steps to 31.0 A: " in expect(Clear, answer(log)).evidence


def test_one_wild_row_moves_nothing():
    wild = field(AMPERES)
    wild[120] = [1000, -1000, 1000]
    found = computed(inspected(csv(COLUMNS, TIME, THROTTLE, AMPERES, wild)), "interference_ut_per_a", "x")
    assert found.value == pytest.approx(computed(inspected(GOOD), "interference_ut_per_a", "x").value, abs=0.002)


def test_a_slow_drift_is_told_by_the_times():
    def slope(drift_ut, *columns):
        drifting = field(AMPERES) + np.outer(np.linspace(0, 1, 300), [drift_ut, 0, 0])
        values = {"time_s": TIME, "throttle_percent": THROTTLE, "current_a": AMPERES}
        log = csv((*columns, *COLUMNS[3:]), *(values[name] for name in columns), drifting)
        return computed(inspected(log), "interference_ut_per_a", "x")

    for drift in (0.0, 1.0, -1.5):
        assert slope(drift, *COLUMNS[:3]).value == pytest.approx(0.11, abs=0.004)
    # Without times the drift is not taken away, but seen as scatter.
    assert abs(slope(1.0, *COLUMNS[1:3]).value - 0.11) < 3 * slope(1.0, *COLUMNS[1:3]).standard_uncertainty
    assert slope(1.0, *COLUMNS[1:3]).standard_uncertainty > 3 * slope(0.0, *COLUMNS[1:3]).standard_uncertainty


@pytest.mark.parametrize(("moved", "too_much"), [(1.45, False), (1.75, True)])
def test_both_sides_of_a_drift_that_is_too_much(moved, too_much):
    # The current makes 0.2598 µT/A × 30.8 A = 8.0 µT; a fifth of that is 1.6 µT. The noise moves it by up to 0.1 µT.
    after = field(AMPERES)
    after[-50:] += [moved, 0, 0]
    for first in (0, 1):  # with times and without
        told = answer(csv(COLUMNS[first:], *[TIME, THROTTLE, AMPERES][first:], after), offset="[0, 0, 0]")
        assert getattr(told, "evidence", "").endswith(" µT; something moved") == too_much
        if too_much:
            assert told.cause == "uncertain"
            assert told.message.startswith("the still field after the run of 2026-05-16 is 1.")


def test_a_drift_inside_its_own_uncertainty_is_none():
    # Two rows, 0.9 µT apart with the motors still, in a log whose steps scatter by half a microtesla.
    rows = field(np.array([0, 8, 16, 24, 16, 8, 0.1]), seed=5, noise=0.5)
    rows[-1] = rows[0] + [0.9, 0, 0]
    log = csv(COLUMNS[2:], [0, 8, 16, 24, 16, 8, 0.1], rows)
    assert "something moved" not in getattr(answer(log), "evidence", "")


@pytest.mark.parametrize("times", [True, False])
def test_a_log_that_ends_under_load(times):
    first = 0 if times else 1
    values = [column[:250] for column in (TIME, THROTTLE, AMPERES)][first:]
    told = expect(Clear, answer(csv(COLUMNS[first:], *values, field(AMPERES)[:250])))
    assert "; not back to still motors: 0.1 µT allowed for a drift unseen; " in told.evidence
    assert told.evidence.count("0.1 µT allowed") == 1
    radius = float(told.evidence.split(" ± ")[1].split()[0])
    assert radius > 2.8 * 0.1 / 30.8


def test_of_four_steps_that_end_under_load_the_times_tell_a_large_drift():
    levels = np.repeat([0.0, 24.0, 8.0, 16.0], 50)
    drifting = field(levels) + np.outer(np.linspace(0, 1, 200), [3.0, 0, 0])
    log = csv(COLUMNS, TIME[:200], 2 * levels, levels, drifting)
    assert "; not back to still motors: drift told by the times; " in expect(Unproven, answer(log)).evidence
    assert computed(inspected(log), "interference_ut_per_a", "x").value == pytest.approx(0.11, abs=0.002)


def test_a_hover_log_without_steps():
    told = expect(Clear, answer(hover_log(), route="hover-log"))
    assert "30 pieces without steps" in told.evidence
    assert isinstance(answer(hover_log(), offset="[0.11, -0.23, 0.05]", route="hover-log"), Finding)
    in_the_air = expect(Finding, answer(hover_log(ground=False), offset="[0, 0, 0]", route="hover-log"))
    assert "not back to still motors: " in in_the_air.evidence


def test_a_log_longer_than_what_is_kept():
    many = 80_000
    amperes = np.repeat([0.2, 10.0, 31.0, 20.0, 0.2], many)
    rows = np.column_stack([amperes, field(amperes, noise=0.3)])
    log = ",".join(COLUMNS[2:]) + "\n" + "".join(f"{a:.1f},{x:.2f},{y:.2f},{z:.2f}\n" for a, x, y, z in rows)
    seen = inspected(log)
    assert seen.aircraft.records.interference_run[0].table.value.condensed_by > 1
    assert isinstance(outcome(seen, ERROR), Clear)
    assert computed(seen, "interference_ut_per_a", "y").value == pytest.approx(-0.23, abs=1e-3)


@pytest.mark.parametrize(("log", "message", "line", "column"), [
    ("", "the file is empty; its first line must name the columns", 1, 1),
    (",".join(COLUMNS) + "\n", "the table has a heading but no rows", 1, 1),
    (GOOD + "60,0,nan,1,2,3\n", 'column "current_a": "nan" is not a reading', 302, 6),
    (GOOD + "60,0,0.2,1,-inf,3\n", 'column "field_y_ut": "-inf" is not a reading', 302, 12),
    (GOOD + "60,0,0.2,1,2\n", "", 302, 1),
])
def test_files_that_are_no_logs(log, message, line, column):
    with pytest.raises(NotRead) as refused:
        inspected(log)
    problem = refused.value.problems[0]
    assert problem.message.startswith(message)
    assert (problem.place.file, problem.place.line, problem.place.column) == ("log.csv", line, column)


@pytest.mark.parametrize(("rows", "message"), [
    (1, "the run of 2026-05-16 shows one current only, 0.2 A: what follows it cannot be told"),
    (50, "the run of 2026-05-16 shows one current only, 0.2 A: what follows it cannot be told"),
])
def test_one_row_or_one_current(rows, message):
    told = answer("".join(line + "\n" for line in GOOD.splitlines()[: rows + 1]))
    assert (told.cause, told.message) == ("uncertain", message)


def test_a_hover_log_that_ends_facing_another_way():
    # Set down 20° to the right of where it took off: 18 µT across the nose turn by 6 µT.
    lines = hover_log().splitlines()
    for row in range(len(lines) - 300, len(lines)):
        cells = lines[row].split(",")
        lines[row] = ",".join([*cells[:4], f"{float(cells[4]) - 6:.3f}", cells[5]])
    told = answer("\n".join(lines) + "\n", route="hover-log")
    assert told.cause == "uncertain"
    assert told.evidence.endswith(" µT; something moved, or it was set down facing another way")
    assert told.do.startswith("let nothing shift or turn; warm the compass up for some minutes with the pack in; ")


def test_a_sign_that_the_run_does_not_tell():
    rough = csv(COLUMNS[2:], [0.01, 8, 16, 24, 0.01], field(np.array([0, 8, 16, 24, 0]), seed=3, noise=2.0))
    told = expect(Unproven, answer(rough, "interference/offset-sign", offset="[-0.4, -0.4, 0.8]"))
    assert told.cause == "uncertain"
    assert told.message == "the run of 2026-05-16 is too uncertain to tell the sign of the interference offset"
    assert marked(manifest(), told.place) == "date: 2026-05-16"
    # An offset smaller than what the run leaves open is left to heading-error.
    assert isinstance(answer(rough, "interference/offset-sign", offset="[0, 0, 0]"), Clear)
    assert isinstance(answer(rough), Unproven)


def test_what_would_settle_it():
    def how(amperes, noise=0.001, noted=2, forward=0.075):
        log = csv(COLUMNS[2:], amperes, field(np.array(amperes, dtype=float), noise=noise), decimals=(noted, 3, 3, 3))
        return answer(log, offset=f"[-{forward}, 0.23, -0.05]").do

    log_on = (
        "; log time, current and field: motors still, five steps or more of ten seconds and two rows each up to "
        "hover or more, motors still again; payload on, away from steel; "
    )
    assert how([0, 8, 16, 24, 0], noted=0).startswith(f"repeat the run with the current noted to 0.1 A{log_on}")
    assert how([0, 8, 16, 24, 0], noted=1, forward=0.072).startswith(
        f"repeat the run with the current noted to 0.01 A{log_on}"
    )
    assert how([0.01, 8, 16, 24, 0], 0.05).startswith(f"repeat the run with more steps and a higher current{log_on}")
    # 0.1 A / √12 make 0.26 · 0.029 = 0.0075 µT, less than the noise of 0.05 µT.
    assert how([0, 8, 16, 24, 0], 0.05, noted=1).startswith(
        f"repeat the run with more steps and a higher current{log_on}"
    )
    assert how([0.01, 8, 16, 24]).startswith(
        f"repeat the run until the motors are still again, with more steps and a higher current{log_on}"
    )
