"""Distances between places, against the definition of the nautical mile."""

import pytest

from preflint.compute.distance import distance_m


@pytest.mark.parametrize(("one", "other", "metres"), [
    ((54.0, 3.0), (54.0 + 1 / 60, 3.0), 1852),  # a minute of a meridian: the nautical mile, 1852 m, within 0.2 %
    ((90.0, 10.0), (90.0, -120.0), 0),  # one pole, whatever the longitude
    ((12.5, 7.25), (12.5, 7.25), 0),
])
def test_known_distances(one, other, metres):
    assert distance_m(one, other) == pytest.approx(metres, rel=2e-3, abs=1e-6)
    assert distance_m(one, other) == pytest.approx(distance_m(other, one), rel=1e-9, abs=1e-6)
