"""How often hard iron is judged rightly near its limit, with noise drawn anew each time and sides left out."""

import math
from dataclasses import replace

import numpy as np
import pytest
from making.earth import directions
from preflint_rules.compass.left_over import Corrected, hard_iron_error
from preflint_rules.compass.rotation import Rotation

from preflint.compute.ellipsoid import fit_ellipsoid
from preflint.compute.geomagnetism import geomagnetic_field

EARTH = replace(geomagnetic_field(54.4, -2.9, 150, 2026.4), u_horizontal_ut=0.0)
LIMIT, TIMES = 10.0, 200


def ahead(count, least):
    """Those of evenly spread directions that point ahead by ``least`` or more."""
    ways = directions(count)[:, [2, 1, 0]]
    return ways[ways[:, 0] >= least]


def bounds(true_deg, ways, noise, rng):
    centre = np.array([EARTH.horizontal_ut * math.sin(math.radians(true_deg)), 0, 4.0])
    fit = fit_ellipsoid(EARTH.total_ut * ways + centre + rng.normal(0, noise, ways.shape))
    rotation = Rotation(None, fit, 1.0, fit.dof, len(ways), "raw")
    left = Corrected(fit.centre, rotation.covariance, np.eye(3), fit.radius / EARTH.total_ut)
    error = hard_iron_error(rotation, left, EARTH)
    return error.low, error.high


@pytest.mark.parametrize(("count", "least", "noise"), [(14, -1, 0.3), (40, -1, 1.0), (60, 0, 0.5)])
def test_near_the_limit(count, least, noise):
    ways, rng = ahead(count, least), np.random.default_rng(11)
    within = [bounds(9.9, ways, noise, rng) for _ in range(TIMES)]
    beyond = [bounds(10.1, ways, noise, rng) for _ in range(TIMES)]
    found_though_within = sum(low > LIMIT for low, _ in within) / TIMES
    clear_though_beyond = sum(high <= LIMIT for _, high in beyond) / TIMES
    print(f"{count} rows, noise {noise} µT: found {found_though_within:.1%}, cleared {clear_though_beyond:.1%}")
    # Each is half of the 5 % outside the bounds at most, plus what 200 draws scatter by.
    assert found_though_within <= 0.045
    assert clear_though_beyond <= 0.045


def test_far_from_the_limit_it_is_decided():
    """The way out of answering "too uncertain" to everything is shut: readings all round decide at 8° and 12°."""
    ways, rng = ahead(40, -1), np.random.default_rng(12)
    assert sum(bounds(8, ways, 0.3, rng)[1] <= LIMIT for _ in range(TIMES)) >= 0.95 * TIMES
    assert sum(bounds(12, ways, 0.3, rng)[0] > LIMIT for _ in range(TIMES)) >= 0.95 * TIMES
