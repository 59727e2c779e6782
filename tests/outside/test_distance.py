"""Distances on WGS 84 against textbook lengths of a degree and Karney's geodesics (geographiclib), everywhere."""

from math import cos, hypot, pi, radians, sin

import pytest
from geographiclib.geodesic import Geodesic
from hypothesis import given, settings
from hypothesis import strategies as st

from preflint.compute.distance import distance_m, meridian_radius_m, normal_radius_m, north_east_m


# Length of one degree of latitude on WGS 84: 110 574.3 m at the equator, 111 131.8 m at 45°, 111 694.0 m at a pole
# (textbook table; the same to 0.1 m in any book of geodesy, values from memory and by Karney's geodesics below).
@pytest.mark.parametrize(("latitude", "metres"), [(0, 110574.3), (45, 111131.8), (90, 111694.0), (-45, 111131.8)])
def test_one_degree_of_latitude(latitude, metres):
    assert meridian_radius_m(latitude) * pi / 180 == pytest.approx(metres, abs=0.06)


# Length of one degree of longitude: 111 319.5 m at the equator, 78 846.8 m at 45° (same table).
@pytest.mark.parametrize(("latitude", "metres"), [(0, 111319.5), (45, 78846.8), (-45, 78846.8)])
def test_one_degree_of_longitude(latitude, metres):
    length = normal_radius_m(latitude) * cos(radians(latitude)) * pi / 180
    assert length == pytest.approx(metres, abs=0.06)


def test_a_field_in_the_north_west():
    north, east = north_east_m((54.41, -2.94), (54.4105, -2.9405))
    assert (north, east) == pytest.approx((55.66, -32.46), abs=0.01)
    assert distance_m((54.41, -2.94), (54.4105, -2.9405)) == pytest.approx(64.43, abs=0.005)


def geodesic(start, end):
    found = Geodesic.WGS84.Inverse(*start, *end)
    way = radians(found["azi1"])
    return found["s12"], found["s12"] * cos(way), found["s12"] * sin(way)


@given(
    st.floats(-89.9, 89.9), st.floats(-180, 180), st.floats(-0.01, 0.01), st.floats(-0.01, 0.01)
)
@settings(max_examples=300, derandomize=True, deadline=None)
def test_near_places_anywhere(latitude, longitude, up, across):
    start, end = (latitude, longitude), (latitude + up, longitude + across)
    metres, north, east = geodesic(start, end)
    assert distance_m(start, end) == pytest.approx(metres, abs=1e-3)
    assert north_east_m(start, end) == pytest.approx((north, east), abs=0.02)


@pytest.mark.parametrize(("start", "end"), [
    ((0.0, 179.9995), (0.0, -179.9995)),        # over the date line, 111 m
    ((-17.8, -179.9999), (-17.8, 179.9999)),    # and back
    ((89.9999, 0.0), (89.9999, 180.0)),         # over the north pole, 22 m
    ((-89.9999, 30.0), (-89.9999, -120.0)),
    ((-90.0, 0.0), (-89.9995, 77.0)),           # from the pole itself
    ((54.41, -2.94), (54.41, -2.94)),
    ((-33.9, 151.2), (-33.9003, 151.2004)),
])  # fmt: skip
def test_date_line_and_poles(start, end):
    metres, north, east = geodesic(start, end)
    assert distance_m(start, end) == pytest.approx(metres, abs=1e-4)
    if abs(start[0]) < 90:  # at a pole any way is south
        assert north_east_m(start, end) == pytest.approx((north, east), abs=1e-3)


# A forgotten sign, exchanged numbers: far enough off to be told, and named to five per cent.
@given(st.floats(-90, 90), st.floats(-180, 180), st.floats(-90, 90), st.floats(-180, 180))
@settings(max_examples=300, derandomize=True, deadline=None)
def test_far_places_to_five_per_cent(one, longitude, other, longitude_to):
    start, end = (one, longitude), (other, longitude_to)
    assert distance_m(start, end) == pytest.approx(geodesic(start, end)[0], rel=0.05, abs=1e-3)


@given(st.floats(-89, 89), st.floats(-180, 180), st.floats(-0.01, 0.01), st.floats(-0.01, 0.01))
@settings(max_examples=200, derandomize=True, deadline=None)
def test_mirrored_it_is_the_same(latitude, longitude, up, across):
    north, east = north_east_m((latitude, longitude), (latitude + up, longitude + across))
    over_equator = north_east_m((-latitude, longitude), (-latitude - up, longitude + across))
    other_side = north_east_m((latitude, -longitude), (latitude + up, -longitude - across))
    assert over_equator == pytest.approx((-north, east), abs=1e-6)
    assert other_side == pytest.approx((north, -east), abs=1e-6)
    assert distance_m((latitude + up, longitude + across), (latitude, longitude)) == pytest.approx(
        hypot(north, east), abs=1e-3
    )


@pytest.mark.parametrize("beyond", [90.1, -91, float("nan")])
def test_no_latitude(beyond):
    with pytest.raises(ValueError, match="is not between -90 and 90"):
        distance_m((beyond, 0), (0, 0))
