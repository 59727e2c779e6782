"""How often the heading error under load is judged rightly near its limit, counted over drawn logs.

The logs come from a model that uses nothing of ours: the Earth's field, a field that follows the current, and noise.
δ is what may be left over per ampere at the limit of 10°, u the standard uncertainty of each axis of the slope
that a straight line through such readings has, both worked out here. The offset installed leaves nothing over, or 2δ
straight across the nose. The noise of a row is *alike* in all directions, or *sideways* only, as of a nose that
wags; nobody declares it. Logs in steps have noise that remembers (first order, 0.9 from row to row), times, and a
slow drift of the field.
"""

import math
from dataclasses import replace

import numpy as np
import pytest
from making.earth import DOWN_UT, NORTH_UT, remembering
from making.full import FULL
from making.logs import last_digits
from making.manifests import answer, manifest
from preflint_rules.interference.log import steps_of
from preflint_rules.interference.run import DRIFT, Run, must_not_drift, told
from scipy import stats

from preflint.api import Clear, Finding, Known, Open, Unproven
from preflint.compute.decision import expanded_radius_3d, t_factor
from preflint.compute.regression import vector_line
from preflint.load.tables.table import Table
from preflint.testing import inspect_text

U_NORTH_UT = 0.133  # of the model: error model of WMM2025, horizontal intensity (from memory)
JUDGED_ON, LIMIT_DEG = "2027-07-02", 10.0
HOVER_A, FULL_A, TOP_A = 24.0, 60.0, 30.0
DELTA = NORTH_UT * math.sin(math.radians(LIMIT_DEG)) / FULL_A
EARTH = np.array([NORTH_UT, 0.0, DOWN_UT])
MADE = np.array([0.23, -0.11, 0.05])  # along a nose that points north, where no turn explains it
SHARES, STEPS = (0.1, 0.3, 0.5, 1.0), (3, 5, 20)
SCATTERS = {"alike": np.eye(3), "sideways": np.diag([0.0, 1.0, 0.0])}
COLUMNS = ("time_s", "throttle_percent", "current_a", "field_x_ut", "field_y_ut", "field_z_ut")
WORDS = {Finding: "found", Clear: "clear", Unproven: "uncertain"}


def currents(steps):
    """Up in equal steps, and the motors still again."""
    return np.append(np.linspace(0, TOP_A, steps - 1), 0.0)


def by_hand(rng, steps, u, scatter):
    """One row a step, no times: throttle, current, field. The slope of a line through them has u for each axis."""
    amperes = currents(steps)
    each = u * math.sqrt(np.sum((amperes - amperes.mean()) ** 2))
    field = EARTH + np.outer(amperes, MADE) + each * rng.normal(size=(steps, 3)) @ SCATTERS[scatter]
    return np.column_stack([amperes * 2, amperes + 0.01 * (np.arange(steps) % 2), np.round(field, 3)])


def log(rng, steps, u, scatter, drift_ut, memory=0.9, rows=50):
    """Five rows a second, ten seconds a step: time, throttle, current, field."""
    amperes = np.repeat(currents(steps), rows)
    n = amperes.size
    apart = np.abs(np.subtract.outer(np.arange(rows - 5), np.arange(rows - 5)))
    of_mean = math.sqrt(np.mean(memory**apart))  # of the rows after the first second
    design = np.column_stack([np.ones(steps), currents(steps), np.arange(steps)])
    each = u / math.sqrt(np.linalg.inv(design.T @ design)[1, 1]) / of_mean
    way = rng.normal(size=3)
    drift = np.outer(np.linspace(0, 1, n), drift_ut * way / np.linalg.norm(way))
    follows = amperes + np.round(rng.normal(0, 0.05, n), 2)
    noise = each * remembering(rng, n, memory) @ SCATTERS[scatter]
    field = EARTH + np.outer(follows, MADE) + drift + noise
    return np.column_stack([np.arange(n) * 0.2, amperes * 2, follows, np.round(field, 3)])


def recorded(values, left_over):
    offset = np.array([0.0, left_over, 0.0]) - MADE
    rows = [[float(value) for value in row] for row in values]
    entry = (
        "date: 2027-06-16\nroute: restrained\nfield_is: raw\nin_force: {sensor_mv_per_a: 26.4}\n"
        f"columns: [{', '.join(COLUMNS[-values.shape[1] :])}]\nrows: {rows}\n"
    )
    return manifest(
        "site: {latitude_deg: 0, longitude_deg: 120, elevation_m: 0}\n"
        f"every_rotor: {{motor: {{full_throttle_draw_a: {FULL_A / 4}}}}}\npower_sensing: {{sensor_mv_per_a: 26.4}}\n"
        "compass: {hard_iron_ut: [0, 0, 0], interference_offset_ut_per_a: "
        f"[{', '.join(f'{value:.9f}' for value in offset)}]}}\n",
        records={"interference_run": entry, "hover": f"date: 2027-06-17, mean_current_a: {HOVER_A}"},
    )


RECORD = (
    inspect_text(recorded(by_hand(np.random.default_rng(0), 5, 0.01, "alike"), 0.0), JUDGED_ON)
    .aircraft.records.interference_run[0]
)  # fmt: skip


def bounds(left, radius, reach):
    """Lowest and highest error of heading in degrees at full current, level and leaning by 25°, by hand."""
    across = math.hypot(left[0], left[1])
    leaning = np.linalg.norm(left) * math.sin(min(math.pi / 2, math.atan2(across, abs(left[2])) + math.radians(25)))
    found = []
    for part in (across, leaning):
        low = max(0.0, part - radius) * FULL_A / (NORTH_UT + 1.96 * U_NORTH_UT)
        high = (part + reach) * FULL_A / (NORTH_UT - 1.96 * U_NORTH_UT)
        found.append([math.degrees(math.asin(x)) if x < 1 else 180.0 for x in (low, high)])
    return max(low for low, _ in found), max(high for _, high in found)


def decided(values, left_over):
    """What the rule makes of such a log, by the rule's own fit of its slope and its own eye for drift."""
    place = RECORD.place
    digits = last_digits(values)
    table = Table(COLUMNS[-values.shape[1] :], values, len(values), 1, place, [place] * len(values), digits)
    record = replace(RECORD, table=Known(table, place))
    steps = steps_of(record)
    fit, _ = told(record, steps)
    run = Run(record, steps, fit.slope, fit.slope_covariance, fit.dof, np.zeros(3), 1.0, "raw")
    low, high = bounds(run.left_over(np.array([0.0, left_over, 0.0]) - MADE), run.radius, run.reach)
    if low <= LIMIT_DEG < high:
        return "uncertain"
    try:
        must_not_drift(record, run.steps, DRIFT.default / 100)
    except Open:
        return "uncertain"
    return "found" if low > LIMIT_DEG else "clear"


def rates(draw, seed, draws):
    """Share found and clear without error, found and clear with 2δ, every other one the other way."""
    rng = np.random.default_rng(seed)
    right = [decided(draw(rng), 0.0) for _ in range(draws)]
    wrong = [decided(draw(rng), 2 * DELTA * (-1) ** i) for i in range(draws)]
    return tuple(answers.count(word) / draws for answers in (right, wrong) for word in ("found", "clear"))


def check(told, draws, title, capsys):
    """``told``: (u/δ, steps) -> rates; ``draws`` of each, one number or as many. Prints and holds them to the goals."""
    counts = dict.fromkeys(told, draws) if isinstance(draws, int) else draws
    with capsys.disabled():
        print(f"\nheading error, {title}, %")
        print("u/δ  steps   logs  no error: found  clear    error of 2δ: found  clear")
        for (share, steps), (found, clear, found_wrong, cleared) in told.items():
            print(
                f"{share:3.1f} {steps:6d} {counts[share, steps]:6d} {100 * found:16.2f} {100 * clear:6.1f} "
                f"{100 * found_wrong:20.1f} {100 * cleared:6.2f}"
            )
    for (share, steps), (found, clear, found_wrong, cleared) in told.items():
        n = counts[share, steps]
        assert round(n * found) <= stats.binom.ppf(0.9999, n, 0.01), (share, steps)
        if share <= 0.5:
            assert round(n * cleared) <= stats.binom.ppf(0.9999, n, 0.001), (share, steps)
        if share == 0.1 and steps >= 5:
            assert clear >= 0.95, (share, steps)
            assert found_wrong >= 0.95, (share, steps)


@pytest.mark.parametrize("scatter", SCATTERS)
def test_steps_noted_by_hand(scatter, capsys):
    near = {(1.0, 3): 1000, (1.0, 5): 1000, (0.5, 3): 1000} if scatter == "sideways" and FULL else {}
    draws = {(share, steps): near.get((share, steps), 40) for share in SHARES for steps in STEPS}
    told = {
        (share, steps): rates(
            lambda rng, share=share, steps=steps: by_hand(rng, steps, share * DELTA, scatter),
            [steps, int(100 * share), len(scatter)], draws[share, steps],
        )
        for share, steps in draws
    }
    check(told, draws, f"one row a step, scatter {scatter}", capsys)


@pytest.mark.parametrize("scatter", SCATTERS)
def test_logs_with_times_that_remember_and_drift(scatter, capsys):
    draws = 40
    told = {
        (share, steps): rates(
            lambda rng, share=share, steps=steps: log(rng, steps, share * DELTA, scatter, drift_ut=0.5),
            [steps, int(100 * share), len(scatter), 1], draws,
        )
        for share in (0.1, 0.5, 1.0)
        for steps in (4, 6)
    }
    check(told, draws, f"50 rows a step with times and a drift of 0.5 µT, scatter {scatter}", capsys)


def test_logs_that_end_under_load(capsys):
    """A drift of 0.2 µT in any direction, that neither still motors nor the times can tell from the current."""
    draws, steps, rows = 60, 6, 50
    told = {
        (share, steps): rates(
            lambda rng, share=share: log(rng, steps, share * DELTA, "sideways", drift_ut=0.2)[:-rows],
            [steps, int(100 * share), 2], draws,
        )
        for share in (0.1, 0.5)
    }
    check(told, draws, "50 rows a step, not back to still motors, a drift of 0.2 µT", capsys)


@pytest.mark.parametrize("left_over", [0.0, 2 * DELTA, -2 * DELTA])
def test_a_manifest_gets_the_same_answer(left_over):
    for share in SHARES:
        for seed, steps in enumerate(STEPS):
            rng = np.random.default_rng([seed, int(100 * share)])
            by_log = log(rng, 4, share * DELTA, "sideways", drift_ut=0.3, rows=8)
            for values in (by_hand(rng, steps, share * DELTA, "alike"), by_log):
                said = answer(recorded(values, left_over), "interference/heading-error", judged_on=JUDGED_ON)
                assert WORDS[type(said)] == decided(values, left_over), (share, steps)


# Where the goals are nearest, one step more than a line needs or two, and all noise along one direction: without error
# found by a spare steps' scatter s = √(χ²_a / a) if |z| > 1 + k·s at u = δ, with k what the ball has for that scatter
# alone; an error of 2δ cleared if z > 2 + t·s at u = δ/2, with Student's t. Over s, by the chi distribution of scipy.
@pytest.mark.parametrize("spare", [1, 2, 3, 17])
def test_the_ball_of_few_spare_steps_meets_the_goals(spare):
    steps = spare + 2
    amperes = currents(steps)
    away = np.zeros((steps, 3))
    away[:, 1] = np.linalg.svd(np.column_stack([np.ones(steps), amperes]).T)[2][2]  # off any line, of length 1
    fit = vector_line(amperes, EARTH + np.outer(amperes, MADE) + away, u_field=np.full((steps, 3), 1e-6))
    of_line = 1 / math.sqrt(np.sum((amperes - amperes.mean()) ** 2))
    k = expanded_radius_3d(fit.slope_covariance, fit.dof) * math.sqrt(spare) / of_line
    chi = stats.chi(spare, scale=1 / math.sqrt(spare))
    assert 2 * chi.expect(lambda s: stats.norm.sf(1 + k * s)) <= 0.01
    t = t_factor(fit.dof) * np.linalg.eigvalsh(fit.slope_covariance)[-1] ** 0.5 * math.sqrt(spare) / of_line
    assert t == pytest.approx(stats.t.ppf(0.975, spare), rel=1e-3)
    assert chi.expect(lambda s: stats.norm.sf(2 + t * s)) <= 0.001
    assert 2 * chi.expect(lambda s: stats.norm.sf(k * s)) <= 0.05
