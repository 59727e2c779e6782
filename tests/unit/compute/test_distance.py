"""Distances between places, against a worked example and the definition of the nautical mile."""

import pytest

from preflint.compute.distance import EARTH_RADIUS_M, distance_m


def test_a_worked_example():
    # Los Angeles to New York in a formulary of aviation (Williams): 0.623585 radians. From memory.
    los_angeles, new_york = (33 + 57 / 60, -(118 + 24 / 60)), (40 + 38 / 60, -(73 + 47 / 60))
    assert distance_m(los_angeles, new_york) / EARTH_RADIUS_M == pytest.approx(0.623585, abs=1e-6)


@pytest.mark.parametrize(("one", "other", "metres"), [
    ((54.0, 3.0), (54.0 + 1 / 60, 3.0), 1852),  # a minute of a meridian: the nautical mile, 1852 m, within 0.1 %
    ((0.0, 179.99), (0.0, -179.99), 1.2 * 1852),  # over the date line
    ((90.0, 10.0), (90.0, -120.0), 0),  # one pole, whatever the longitude
    ((12.5, 7.25), (12.5, 7.25), 0),
])
def test_known_distances(one, other, metres):
    assert distance_m(one, other) == pytest.approx(metres, rel=1e-3, abs=1e-6)
    assert distance_m(one, other) == distance_m(other, one)
