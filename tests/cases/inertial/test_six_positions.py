"""Six positions against gravity: full texts, both sides, sides that are not plumb, units, missing input."""

import math

import numpy as np
import pytest
from making.manifests import SITE, answer, expect, manifest

from preflint.api import Clear, Finding, NotApplicable, Unproven
from preflint.testing import computed, inspect_text

SCALE, LEVEL = "inertial/scale", "inertial/level"
G = 9.8141  # at 54.4° north, 150 m: 9.81456 by Somigliana's formula less 3.086e-6 a metre, worked by hand
SIDES = np.array([[0, 0, -1], [0, 0, 1], [-1, 0, 0], [1, 0, 0], [0, -1, 0], [0, 1, 0]], dtype=float)


def rows_of(scale=(1, 1, 1), zero=(0, 0, 0), off_deg=0.0, sides=SIDES, decimals=3):
    """What an accelerometer with that scale and zero shows on each side, each leaning a little more one way."""
    ways = [side + math.sin(math.radians(off_deg)) * np.roll(side, 1 + i % 2) for i, side in enumerate(sides)]
    true = [G * way / np.linalg.norm(way) for way in ways]
    return [[round(float(v), decimals) for v in np.array(scale) * one + np.array(zero)] for one in true]


def rested(rows, site=SITE, day="2026-05-10", log=(), more=()):
    entry = f"date: {day}, columns: [accel_x_m_s2, accel_y_m_s2, accel_z_m_s2], rows: {rows}"
    return manifest(site, records={"six_positions": [entry, *more]}, logbook=log)


def test_half_of_gravity_in_full():
    text = rested(rows_of((0.5, 0.5, 0.5)))
    found = expect(Finding, answer(text, SCALE))
    assert found.message == "the accelerometer shows 4.91 m/s² forward, gravity is 9.81"
    assert found.evidence == (
        "six positions of 2026-05-10, forward, right, down: scale 0.500, 0.500, 0.500; zero +0.00, +0.00, +0.00 m/s²; "
        "gravity 9.814 m/s²; ± 0.7 % (95 %), at most 5 %"
    )
    assert found.do == (
        "calibrate the accelerometer on all six sides; set its range as its maker says; then repeat the six positions"
    )
    assert found.record == "six_positions"
    assert inspect_text(text).verdict == "no-go"


@pytest.mark.parametrize(("axis", "shown"), [(0, "forward"), (1, "right"), (2, "down")])
def test_the_axis_that_is_off_is_named(axis, shown):
    scale = [5 / G if i == axis else 1 for i in range(3)]
    found = expect(Finding, answer(rested(rows_of(scale)), SCALE))
    assert found.message == f"the accelerometer shows 5.00 m/s² {shown}, gravity is 9.81"


def test_readings_in_g_are_told_as_such():
    rows = [[v / 9.80665 for v in row] for row in rows_of()]
    assert expect(Finding, answer(rested(rows), SCALE)).do.startswith("the readings are in g: write them in m/s²")


@pytest.mark.parametrize("counts", [8192, 16384, 32768, 100_000, 1_000_000])
def test_readings_in_counts_are_no_gravity(counts):
    for noise in range(5):
        rows = np.array(rows_of()) * counts / G + np.random.default_rng(noise).normal(0, counts / 1000, (6, 3))
        assert isinstance(answer(rested(rows.round(3).tolist()), SCALE), Finding)


# ± 0.7 % (95 %): of 5 % clear up to 4.2 %, found from 5.8 % on.
@pytest.mark.parametrize(("off", "expected"), [
    (0.0, Clear), (0.042, Clear), (-0.042, Clear), (0.046, Unproven), (0.055, Unproven), (0.058, Finding),
    (-0.046, Unproven), (-0.055, Unproven), (-0.058, Finding),
])
@pytest.mark.parametrize("axis", range(3))
def test_both_sides_of_the_scale(axis, off, expected):
    scale = [1 + off * (i == axis) for i in range(3)]
    assert isinstance(answer(rested(rows_of(scale)), SCALE), expected)


@pytest.mark.parametrize("off_deg", [0, 3, 8, 15])
def test_no_side_needs_to_be_plumb(off_deg):
    text = rested(rows_of((1.01, 0.99, 1.0), (0.1, -0.1, 0.2), off_deg))
    assert isinstance(answer(text, SCALE), Clear)
    figures = {(f.quantity, f.case): f.value for f in inspect_text(text).computed}
    assert figures["accelerometer_scale", "x"] == pytest.approx(1.01, abs=2e-4)
    assert figures["accelerometer_scale", "y"] == pytest.approx(0.99, abs=2e-4)
    # tan δ = √(0.1² + 0.1²) / 9.814
    assert figures["level_error_deg", None] == pytest.approx(0.8255, abs=2e-3)


# ± 0.40° (95 %) at 1.96·0.05/√2 m/s²: of 3° clear up to 2.6°, found from 3.4° on.
@pytest.mark.parametrize(("degrees", "expected"), [
    (0, Clear), (2.55, Clear), (2.7, Unproven), (3.35, Unproven), (3.5, Finding),
])
@pytest.mark.parametrize("way", [(1, 0), (0, -1), (0.6, 0.8)])
def test_both_sides_of_level(degrees, expected, way):
    zero = [G * math.tan(math.radians(degrees)) * part for part in (*way, 0)]
    assert isinstance(answer(rested(rows_of(zero=zero)), LEVEL), expected)


def test_not_level_in_full():
    found = expect(Finding, answer(rested(rows_of(zero=(0.857, 0, 0))), LEVEL))
    assert found.message == "the aircraft holds itself 5.0° from level, by the zeros of its accelerometer"
    assert found.evidence.startswith("level by its zeros to 5.0° ± 0.4° (95 %), at most 3°; six positions of")
    assert found.do == "calibrate the accelerometer on all six sides; then repeat the six positions"


def test_scale_and_zero_are_told_axis_by_axis():
    told = expect(Clear, answer(rested(rows_of((1.01, 0.99, 1.02), (0.1, -0.2, 0.3))), SCALE))
    assert told.evidence.startswith(
        "six positions of 2026-05-10, forward, right, down: scale 1.010, 0.990, 1.020; zero +0.10, -0.20, +0.30 m/s²; "
    )


def test_a_zero_downward_leans_nothing():
    assert isinstance(answer(rested(rows_of(zero=(0, 0, 0.8))), LEVEL), Clear)


@pytest.mark.parametrize("site", ["", "site: {name: Somewhere}\n", SITE, "site: {latitude_deg: -54.4}\n"])
def test_without_a_site_gravity_is_that_of_anywhere(site):
    assert isinstance(answer(rested(rows_of(), site), SCALE), Clear)
    assert isinstance(answer(rested(rows_of((0.9, 1, 1)), site), SCALE), Finding)


@pytest.mark.parametrize(("rows", "why"), [
    (rows_of()[:5], "5 readings are too few for zero and scale of three axes"),
    ([*rows_of()[:5], rows_of()[4]], "the sides do not tell zero from scale"),
    ([[0.0, 0.0, 9.8]] * 6, "an axis shows the same on every side"),
])
def test_sides_that_tell_too_little(rows, why):
    left = expect(Unproven, answer(rested(rows), SCALE))
    assert left.message == "the six positions of 2026-05-10 do not show zero and scale of each axis"
    assert left.evidence == why
    assert isinstance(answer(rested(rows), LEVEL), Unproven)


def test_readings_that_scatter_are_known_no_better():
    one, two = rows_of((1.03, 1, 1)), rows_of((0.93, 1.0, 1.0))
    assert isinstance(answer(rested(one + two), SCALE), Clear | Unproven)
    wide, narrow = ({f.case: f.standard_uncertainty for f in inspect_text(rested(rows)).computed
                     if f.quantity == "accelerometer_scale"} for rows in (one + two, one + one))
    assert wide["x"] > 2 * narrow["x"]


def test_level_is_known_as_well_as_its_worse_direction():
    """Each zero is the mean of its readings of 0.05 m/s²: of six forward, of two to the right. Worked by hand."""
    rows = rows_of()
    found = computed(inspect_text(rested(rows + 2 * rows[2:4])), "level_error_deg")
    assert found.standard_uncertainty == pytest.approx(math.degrees(0.05 / math.sqrt(2) / G), rel=0.02)


def test_what_is_missing():
    assert expect(Unproven, answer(manifest(SITE), SCALE)).message == "no six positions are recorded"
    assert answer(manifest(SITE), LEVEL) == NotApplicable(
        "no six positions are recorded, which inertial/scale asks for"
    )
    stale = rested(rows_of(), log="date: 2026-05-11, kind: crashed")
    assert expect(Unproven, answer(stale, SCALE)).cause == "stale"


def test_what_failed_stays_failed():
    bad = rested(rows_of((0.5, 0.5, 0.5)), log="date: 2026-05-11, kind: crashed")
    assert expect(Finding, answer(bad, SCALE)).evidence.startswith("failed on 2026-05-10")
    again = "date: 2026-05-12, columns: [accel_x_m_s2, accel_y_m_s2, accel_z_m_s2], rows: " + str(rows_of())
    assert isinstance(answer(rested(rows_of((0.5, 0.5, 0.5)), more=[again]), SCALE), Clear)
