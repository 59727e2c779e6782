"""How often the voltage scale is judged rightly near its limit, counted over drawn readings.

The readings come from a model that uses nothing of ours. A display reads true × (1 + error). A meter reads
true × (1 + its own error), drawn once a record from a rectangle as wide as its accuracy says, and each row
scatters besides: *declared*, by a rectangle as wide as the meter's last digit, or *undeclared*, normally, with
a last digit that says nothing of it. u is the standard uncertainty of the mean of the rows from both, δ the
limit; half of u² is the meter's and half the rows' where the scatter is declared, all of it the rows' where it
is not: the hardest case, since two rows tell little about their own scatter.
"""

import math

import numpy as np
import pytest
from preflint_rules.power_sensing_fit import Comparison, last_digit, worst
from scipy import stats

from preflint.api import Clear, Finding, Unproven
from preflint.compute.calibration import Instrument, gain_with_zero_prior
from preflint.testing import inspect_text, outcome

DELTA = 0.01
CELLS = 4
LOWEST_V, FULL_V = 3.0 * CELLS, 4.2 * CELLS  # lipo: common practice, no source
MIDDLE_V = 3.85 * CELLS
U_ZERO_V = 0.05
SHARES, ROWS = (0.1, 0.3, 0.5, 1.0), (2, 3, 5, 20)
SCATTERS = {"declared": 0.5, "undeclared": 0.0}  # how much of u² is the meter's
WORDS = {Finding: "found", Clear: "clear", Unproven: "uncertain"}


def readings(rng, error, u, rows, scatter):
    """(display, meter) in volts, the meter's accuracy as a share, its last digit in volts."""
    of_meter = SCATTERS[scatter]
    accuracy = math.sqrt(3 * of_meter) * u
    each_v = math.sqrt((1 - of_meter) * rows) * u * MIDDLE_V
    true = CELLS * rng.uniform(3.55, 4.15, rows)
    if scatter == "declared":
        digit = each_v * math.sqrt(12)
        off = rng.uniform(-digit / 2, digit / 2, rows)
    else:
        digit, off = 0.001, rng.normal(0, each_v, rows)
    meter = true * (1 + rng.uniform(-accuracy, accuracy)) + off
    return np.round(true * (1 + error), 3), np.round(meter, 3), accuracy, digit


def answer(rng, error, u, rows, scatter):
    """What the rule makes of such a record, by the rule's own fit and judgement."""
    display, meter, accuracy, digit = readings(rng, error, u, rows, scatter)
    instrument = Instrument(accuracy_percent=100 * accuracy, resolution=digit)
    fit = gain_with_zero_prior(display, meter, instrument, last_digit(display), u_zero=U_ZERO_V)
    if fit is None or fit.gain.value <= 0:
        return "uncertain"
    judged = Comparison(display, meter, (fit,), fit)
    return worst([judged.judge(at, DELTA) for at in (LOWEST_V, FULL_V)]).decision


def share_of(said, error, share, rows, scatter, draws):
    """The share of records so answered; every other one has the error the other way."""
    rng = np.random.default_rng([rows, int(100 * share), int(1000 * error), len(scatter)])
    answers = [answer(rng, error * (-1) ** i, share * DELTA, rows, scatter) for i in range(draws)]
    return {word: answers.count(word) / draws for word in ("found", "clear", "uncertain")}[said]


def table(scatter, draws):
    """(u/δ, rows) -> share found and clear without error, found and clear with 2δ."""
    told = {}
    for share in SHARES:
        for rows in ROWS:
            rng = np.random.default_rng([rows, int(100 * share), len(scatter)])
            right = [answer(rng, 0.0, share * DELTA, rows, scatter) for _ in range(draws)]
            wrong = [answer(rng, 2 * DELTA * (-1) ** i, share * DELTA, rows, scatter) for i in range(draws)]
            told[share, rows] = tuple(
                answers.count(word) / draws for answers in (right, wrong) for word in ("found", "clear")
            )
    return told


@pytest.mark.parametrize("scatter", SCATTERS)
def test_the_rates_meet_the_goals(scatter, capsys):
    draws = 300
    told = table(scatter, draws)
    with capsys.disabled():
        print(f"\nvoltage scale, scatter {scatter}, {draws} records a cell, %")
        print("u/δ  rows   no error: found  clear    error of 2δ: found  clear")
        for (share, rows), (found, clear, found_wrong, cleared) in told.items():
            print(
                f"{share:3.1f} {rows:5d} {100 * found:16.2f} {100 * clear:6.1f} "
                f"{100 * found_wrong:20.1f} {100 * cleared:6.2f}"
            )
    assert np.mean([cell[0] for cell in told.values()]) <= 0.01
    assert np.mean([cell[3] for (share, _), cell in told.items() if share <= 0.5]) <= 0.001
    for (share, rows), (found, clear, found_wrong, cleared) in told.items():
        # In one cell of so few records, no more than a rate that just meets the goal gives in 999 of 1000 tables.
        assert round(draws * found) <= stats.binom.ppf(0.999, draws, 0.01), (share, rows)
        if share <= 0.5:
            assert round(draws * cleared) <= stats.binom.ppf(0.999, draws, 0.001), (share, rows)
        if share == 0.1 and rows >= 5:
            assert clear >= 0.95, (share, rows)
            assert found_wrong >= 0.95, (share, rows)


# Where the goals are nearest: few rows whose scatter nobody declared. Two rows of u = δ that agree by luck are found
# wrong with 2·E[Q(1 + 12.7·|z|)] = 1.05 %, z and Q normal; one more row or any declared scatter gives less than 1 %.
@pytest.mark.parametrize(("rows", "most"), [(2, 0.011), (3, 0.01)])
def test_few_rows_that_agree_by_luck_are_not_believed(rows, most):
    assert share_of("found", 0.0, 1.0, rows, "undeclared", 3000) <= most
    assert share_of("clear", 2 * DELTA, 0.5, rows, "undeclared", 3000) <= 0.001


@pytest.mark.parametrize("scatter", SCATTERS)
@pytest.mark.parametrize("error", [0.0, 2 * DELTA, -2 * DELTA])
def test_a_manifest_gets_the_same_answer(scatter, error):
    for share in SHARES:
        for rows in ROWS:
            seed = [rows, int(100 * share), int(1000 * abs(error))]
            display, meter, accuracy, digit = readings(
                np.random.default_rng(seed), error, share * DELTA, rows, scatter
            )
            manifest = (
                "preflint: 1\naircraft: {name: Trial, layout: quad-x}\n"
                f"packs: [{{label: A1, chemistry: lipo, cells: {CELLS}}}]\n"
                "power_sensing: {divider_ratio: 6.2}\nrecords:\n  voltage_comparison:\n"
                "    - date: 2026-05-16\n      in_force: {divider_ratio: 6.2}\n      loaded: false\n"
                f"      reference: {{instrument: meter, accuracy_percent: {100 * accuracy:.9f}, "
                f"resolution_v: {digit:.9f}}}\n      columns: [indicated_v, reference_v]\n"
                f"      rows: {[[float(a), float(b)] for a, b in zip(display, meter, strict=True)]}\n"
            )
            said = outcome(inspect_text(manifest), "power_sensing/voltage-scale")
            expected = answer(np.random.default_rng(seed), error, share * DELTA, rows, scatter)
            assert WORDS[type(said)] == expected, (share, rows)
