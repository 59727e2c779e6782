"""Wind aloft, dew point, density altitude and falls: worked values, tables and second implementations."""

import math

import ambiance
import casex
import fluids
import psychrolib
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import brentq

from preflint.compute.atmosphere import air_density_kg_m3, density_altitude_m, dew_point_c, vapour_pressure_hpa
from preflint.compute.wind import NORMAL_PROFILE, OPEN_GROUND, fall_distance_m, height_of_wind_m, wind_at_m_s

psychrolib.SetUnitSystem(psychrolib.SI)
G = 9.80665


@pytest.mark.parametrize(
    ("wind", "at", "height", "exponent", "expected"),
    # The first four worked by hand from the law; the fifth is printed on many pages of wind energy as 11.1 m/s.
    [
        (6, 2, 30, OPEN_GROUND, 8.8), (6, 2, 120, OPEN_GROUND, 10.8), (6, 2, 120, NORMAL_PROFILE, 13.6),
        (6, 2, 2, NORMAL_PROFILE, 6.0), (8, 10, 100, OPEN_GROUND, 11.116),
    ],
)  # fmt: skip
def test_wind_aloft(wind, at, height, exponent, expected):
    assert wind_at_m_s(wind, at, height, exponent) == pytest.approx(expected, abs=0.05 if expected < 11.1 else 0.06)


def test_no_wind_at_the_ground_itself():
    assert wind_at_m_s(6, 2, 0, OPEN_GROUND) == 0


@pytest.mark.parametrize("roughness_m", [0.03, 0.05, 0.1])
@pytest.mark.parametrize(("at", "height"), [(10, 30), (10, 60), (10, 120)])
def test_the_logarithmic_profile_over_open_ground_lies_between_the_two(roughness_m, at, height):
    """u ∝ ln(z/z₀) of neutral air; z₀ 0.03 m for open grass to 0.1 m for low crops: WMO-No. 8, part I, chapter 5,
    terrain classification of Davenport and Wieringa, from memory."""
    logarithmic = 5 * math.log(height / roughness_m) / math.log(at / roughness_m)
    low, high = (wind_at_m_s(5, at, height, exponent) for exponent in (OPEN_GROUND, NORMAL_PROFILE))
    assert low * 0.99 <= logarithmic <= high * 1.01


@settings(derandomize=True, deadline=None)
@given(st.floats(0.1, 40), st.floats(0.5, 50), st.floats(0.5, 400), st.sampled_from([OPEN_GROUND, NORMAL_PROFILE]))
def test_height_and_wind_are_each_others_inverse(wind, at, height, exponent):
    aloft = wind_at_m_s(wind, at, height, exponent)
    assert height_of_wind_m(wind, at, aloft, exponent) == pytest.approx(height, rel=1e-9)
    assert (aloft >= wind) == (height >= at) or aloft == pytest.approx(wind)
    assert wind_at_m_s(2 * wind, at, height, exponent) == pytest.approx(2 * aloft)


@pytest.mark.parametrize(
    ("celsius", "percent", "expected"),
    # Worked by hand with the constants of WMO-No. 8; the last two are of tables of the dew point (9.3 and 16.7 °C).
    [(3, 95, 2.28), (20, 50, 9.26), (0, 100, 0.0), (25, 60, 16.7)],
)
def test_dew_point(celsius, percent, expected):
    assert dew_point_c(celsius, percent) == pytest.approx(expected, abs=0.05)


@settings(derandomize=True, deadline=None)
@given(st.floats(0, 45), st.floats(5, 100))
def test_dew_point_against_psychrolib(celsius, percent):
    """ASHRAE's formula, over water where the dew point is not below 0 °C; there it is one over ice."""
    theirs = psychrolib.GetTDewPointFromRelHum(celsius, percent / 100)
    if theirs >= 0:
        assert dew_point_c(celsius, percent) == pytest.approx(theirs, abs=0.05)


@settings(derandomize=True, deadline=None)
@given(st.floats(-40, 45), st.floats(1, 100))
def test_air_at_its_dew_point_is_saturated_with_its_own_water(celsius, percent):
    dew = dew_point_c(celsius, percent)
    if dew >= -60:
        assert vapour_pressure_hpa(dew) == pytest.approx(percent / 100 * vapour_pressure_hpa(celsius), rel=1e-9)
    assert dew <= celsius + 1e-9


# Elevations and ordinary extremes, rounded; the pressures are of the standard atmosphere at the elevation.
PLACES = [
    ("La Paz, 16.5° south", 4061, 18.0), ("Bloemfontein, 29° south", 1395, 35.0), ("Dubai, 25° north", 5, 44.0),
    ("Longyearbyen, 78° north", 28, -28.0), ("Ushuaia, 55° south", 20, -8.0), ("Denver, 40° north", 1609, 33.0),
]  # fmt: skip


@pytest.mark.parametrize(("place", "elevation", "celsius"), PLACES)
def test_density_altitude_against_two_atmospheres(place, elevation, celsius):
    """The height at which ambiance 1.3 (ICAO 1993) and fluids 1.3 (US 1976) have the dry air's density."""
    pressure = fluids.ATMOSPHERE_1976(elevation).P / 100
    density = air_density_kg_m3(celsius, pressure)
    assert density == pytest.approx(100 * pressure / (287.05287 * (celsius + 273.15)), rel=1e-6)
    ours = density_altitude_m(density)
    by_ambiance = brentq(lambda h: float(ambiance.Atmosphere(h).density[0]) - density, -4900, 11000)
    by_fluids = brentq(lambda h: fluids.ATMOSPHERE_1976(h).rho - density, 0, 11000) if ours > 0 else None
    # Theirs are geometric heights: 6356.766 km of the Earth's radius make 4061 m of them 4058 m.
    assert ours == pytest.approx(6356766 * by_ambiance / (6356766 + by_ambiance), abs=1)
    if by_fluids is not None:
        assert ours == pytest.approx(6356766 * by_fluids / (6356766 + by_fluids), abs=1)
    assert (ours > elevation) == (celsius > 15 - 0.0065 * elevation)


@pytest.mark.parametrize(
    ("height", "speed", "expected"),
    [(30, 10, 24.7), (120, 15, 74.2)],  # v·√(2h/g), worked by hand
)
def test_a_fall_without_drag(height, speed, expected):
    assert fall_distance_m(speed, height) == pytest.approx(expected, abs=0.05)
    assert falling(height, speed, 1e-6)[0] == pytest.approx(fall_distance_m(speed, height), rel=1e-3)


def falling(height: float, speed: float, drag: float) -> tuple[float, float, float, float]:
    """JARUS SORA Annex F's descent of 90 kg with 0.36 m², by casex 1.2."""
    aircraft = casex.AircraftSpecs(casex.AircraftType.ROTORY_WING, 3, 90)
    aircraft.set_ballistic_frontal_area(0.36)
    aircraft.set_ballistic_drag_coefficient(drag)
    descent = casex.BallisticDescent2ndOrderDragApproximation()
    descent.set_aircraft(aircraft)
    return tuple(descent.compute_ballistic_distance(height, speed, 0))


def test_the_worked_fall_with_drag_is_within_the_one_without():
    """100 m and 28 m/s with a drag coefficient of 0.8: 115.7 m, 45.66 m/s, 4.664 s."""
    distance, impact, _, seconds = falling(100, 28, 0.8)
    assert (distance, impact, seconds) == pytest.approx((115.7, 45.66, 4.664), rel=1e-3)
    assert distance < fall_distance_m(28, 100)


@settings(derandomize=True, deadline=None)
@given(st.floats(5, 120), st.floats(1, 30), st.floats(0.1, 2))
def test_drag_only_shortens_a_fall(height, speed, drag):
    assert falling(height, speed, drag)[0] <= fall_distance_m(speed, height) * 1.001


@pytest.mark.parametrize("call", [
    lambda: wind_at_m_s(-1, 10, 30, 0.2), lambda: wind_at_m_s(1, 0, 30, 0.2), lambda: wind_at_m_s(1, 10, -1, 0.2),
    lambda: height_of_wind_m(1, 0, 3, 0.2), lambda: height_of_wind_m(1, 10, 3, 0), lambda: fall_distance_m(-1, 3),
    lambda: fall_distance_m(1, -3), lambda: dew_point_c(20, 0), lambda: dew_point_c(20, 101),
    lambda: dew_point_c(70, 50),
])  # fmt: skip
def test_what_makes_no_sense_is_refused(call):
    with pytest.raises(ValueError, match=r"."):
        call()
