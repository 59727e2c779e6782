"""How far below and above what is shown the whole error of the compass may lie, by a rotation and a rough run."""

import math
import re

import numpy as np
import pytest
from making.earth import DOWN_UT, NORTH_UT, directions
from making.manifests import answer, manifest
from scipy import stats

SITE = "site: {latitude_deg: 0, longitude_deg: 120, elevation_m: 0}\n"
MOTORS = "every_rotor: {motor: {full_throttle_draw_a: 7.5}}\n"
COMPASS = "compass: {interference_offset_ut_per_a: [0, 0, 0], hard_iron_ut: [0, 0, 0]}\n"
COLUMNS = "field_x_ut, field_y_ut, field_z_ut"


def flown(steps, noise):
    """5 µT of hard iron, known to hundredths; what the current makes, straight down, in a run with such noise."""
    rng = np.random.default_rng(3)
    turned = math.hypot(NORTH_UT, DOWN_UT) * directions(60) + [5, 0, 0] + rng.normal(0, 0.02, (60, 3))
    amperes = np.array([*np.linspace(0, 30, steps - 1).round(2), 0.0])
    field = np.array([NORTH_UT, 0, DOWN_UT]) + np.outer(amperes, [0, 0, 0.05]) + rng.normal(0, noise, (steps, 3))
    rows = np.column_stack([amperes, field.round(3)]).tolist()
    records = {
        "compass_rotation": "date: 2027-06-18, field_is: raw, "
        f"columns: [{COLUMNS}], rows: {turned.round(3).tolist()}",
        "interference_run": "date: 2027-06-16, route: restrained, field_is: raw, "
        f"in_force: {{sensor_mv_per_a: 26.4}}, columns: [current_a, {COLUMNS}], rows: {rows}",
    }
    return manifest(SITE, MOTORS, "power_sensing: {sensor_mv_per_a: 26.4}\n", COMPASS, records=records)


def test_a_rough_run_leaves_more_open_downwards_than_upwards():
    """Below stands the ball that holds a vector of three parts, √(3·F), above t for the one heading that is worst.

    25 steps leave 23 rows to spare on each of three axes; at 95 % the ball is wider by 2.865 / 1.995 = 1.44 (scipy).
    """
    dof = 3 * (25 - 2)
    wider = math.sqrt(3 * stats.f.ppf(0.95, 3, dof)) / stats.t.ppf(0.975, dof)
    assert wider == pytest.approx(1.44, abs=0.005)
    told = answer(flown(25, noise=0.8), "compass/total-deviation", judged_on="2027-07-02")
    value, low, high = map(float, re.findall(r"full 30 A level (\S+)° \((\S+) to (\S+)°\)", told.evidence)[0])
    assert high - value > 1  # so that tenths of a degree tell the two apart
    assert (value - low) / (high - value) == pytest.approx(wider, abs=0.15)
