"""The Earth's field against the published test values and an independent implementation."""

import math
import warnings
from datetime import date, timedelta
from importlib.resources import files

import numpy as np
import pytest
from scipy import special

from preflint.compute.geomagnetism import decimal_year, geomagnetic_field

# NOAA NCEI / British Geological Survey, WMM2025 test value table for the report (US Government data), as in
# CIRES-Geomagnetism/wmm @ed8bc33, tests/WMM2025_TEST_VALUE_TABLE_FOR_REPORT.txt.
# date, height km above WGS 84, latitude, longitude, X, Y, Z, H, F (nT), I, D (degrees), dD/dt (degrees a year)
WMM2025 = [
    (2025.0, 0, 80, 0, 6521.6, 145.9, 54791.5, 6523.2, 55178.5, 83.21, 1.28, 0.52),
    (2025.0, 0, 0, 120, 39677.8, -109.6, -10580.2, 39677.9, 41064.3, -14.93, -0.16, -0.03),
    (2025.0, 0, -80, 240, 6117.5, 15751.9, -52022.5, 16898.1, 54698.2, -72.00, 68.78, -0.12),
    (2025.0, 100, 80, 0, 6216.0, 92.4, 52598.8, 6216.7, 52964.9, 83.26, 0.85, 0.52),
    (2025.0, 100, 0, 120, 37688.6, -96.2, -10152.1, 37688.7, 39032.1, -15.08, -0.15, -0.03),
    (2025.0, 100, -80, 240, 5907.6, 14780.3, -49540.7, 15917.1, 52035.0, -72.19, 68.21, -0.11),
    (2027.5, 0, 80, 0, 6500.8, 294.5, 54869.4, 6507.5, 55253.9, 83.24, 2.59, 0.53),
    (2027.5, 0, 0, 120, 39701.6, -167.4, -10381.8, 39702.0, 41036.9, -14.65, -0.24, -0.03),
    (2027.5, 0, -80, 240, 6200.7, 15730.3, -51783.7, 16908.3, 54474.2, -71.92, 68.49, -0.12),
    (2027.5, 100, 80, 0, 6196.7, 233.8, 52670.5, 6201.1, 53034.3, 83.29, 2.16, 0.52),
    (2027.5, 100, 0, 120, 37711.5, -148.7, -9969.8, 37711.8, 39007.4, -14.81, -0.23, -0.03),
    (2027.5, 100, -80, 240, 5984.0, 14760.1, -49317.7, 15927.0, 51825.7, -72.10, 67.93, -0.11),
]

# WMM2020 technical report, table of test values, first three rows. From memory.
WMM2020 = [
    (2020.0, 0, 80, 0, 6570.4, -146.3, 54606.0, 6572.0, 55000.1, 83.14, -1.28),
    (2020.0, 0, 0, 120, 39624.3, 109.9, -10932.5, 39624.4, 41104.9, -15.42, 0.16),
    (2020.0, 0, -80, 240, 5940.6, 15772.1, -52480.8, 16853.8, 55120.6, -72.20, 69.36),
]


@pytest.mark.parametrize("row", WMM2025 + WMM2020)
def test_report_table(row):
    year, height_km, latitude, longitude, x, y, z, h, f, inclination, declination, *_ = row
    field = geomagnetic_field(latitude, longitude, height_km * 1000, year)
    nanotesla = [
        1000 * value for value in (field.north_ut, field.east_ut, field.down_ut, field.horizontal_ut, field.total_ut)
    ]
    assert nanotesla == pytest.approx([x, y, z, h, f], abs=0.06)  # printed to 0.1 nT
    assert field.inclination_deg == pytest.approx(inclination, abs=0.0051)
    assert field.declination_deg == pytest.approx(declination, abs=0.0051)


@pytest.mark.parametrize("row", WMM2025)
def test_report_table_secular_variation(row):
    # The field is linear in time: a difference over a tenth of a year is the printed rate of the declination.
    year, height_km, latitude, longitude, *_, rate = row
    before, after = (geomagnetic_field(latitude, longitude, height_km * 1000, year + add) for add in (0, 0.1))
    assert (after.declination_deg - before.declination_deg) / 0.1 == pytest.approx(rate, abs=0.0051)


def test_wmm2025_error_model():
    # WMM2025 technical report, error model; constants as in CIRES-Geomagnetism/wmm, wmm/uncertainty.py.
    field = geomagnetic_field(47.6, -122.3, 0, 2025.5)
    assert (field.u_north_ut, field.u_east_ut, field.u_down_ut) == (0.137, 0.089, 0.141)
    assert (field.u_horizontal_ut, field.u_total_ut, field.u_inclination_deg) == (0.133, 0.138, 0.20)
    # sqrt(0.26^2 + (5417 / H)^2) with H = 19067.96 nT.
    assert field.horizontal_ut == pytest.approx(19.06796, abs=1e-5)
    assert field.u_declination_deg == pytest.approx(0.38511, abs=1e-5)


def test_wmm2020_error_model():
    # WMM2020 technical report, error model.
    field = geomagnetic_field(47.6, -122.3, 0, 2024.5)
    assert (field.u_north_ut, field.u_east_ut, field.u_down_ut) == (0.131, 0.094, 0.157)
    assert (field.u_horizontal_ut, field.u_total_ut, field.u_inclination_deg) == (0.128, 0.148, 0.21)
    assert field.u_declination_deg == pytest.approx(math.hypot(0.26, 5.625 / field.horizontal_ut))


@pytest.mark.parametrize("row", WMM2025 + WMM2020)
def test_declination_is_known_less_where_the_horizontal_field_is_weak(row):
    # The same error models, with the printed H of each row: u(D) = sqrt(0.26^2 + (5417 or 5625 / H)^2) degrees.
    year, height_km, latitude, longitude, _, _, _, h, *_ = row
    field = geomagnetic_field(latitude, longitude, height_km * 1000, year)
    coefficient = 5417 if year >= 2025 else 5625
    assert field.u_declination_deg == pytest.approx(math.sqrt(0.26**2 + (coefficient / h) ** 2), rel=2e-5)


def test_a_second_implementation_agrees_over_the_globe():
    # wmm-calculator (NOAA / CIRES authors): another algorithm on the same coefficients.
    from wmm import wmm_calc

    rng = np.random.default_rng(20250101)
    n = 1000
    # Evenly over the sphere, from below the sea to high; then the places and days where a mistake would sit.
    latitudes, longitudes = np.degrees(np.arcsin(rng.uniform(-1, 1, n))), rng.uniform(-180, 180, n)
    elevations_m, years = rng.uniform(-900, 9000, n), rng.uniform(2025, 2029.999, n)
    latitudes[:12] = [0, 0, 0, 0, 45, -45, 60, -60, 89.9, -89.9, 89.9, -89.9]
    longitudes[:12] = [0, 180, -180, 90, 180, -180, 179.999, -179.999, 0, 0, 180, -180]
    years[:12] = [2025.0, 2029.999] * 6
    other = wmm_calc()
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", UserWarning)  # that the compass is of little use near the magnetic poles
        other.setup_env(latitudes, longitudes, elevations_m / 1000, unit="km", msl=False)
        other.setup_time(dyear=years)
        expected = other.get_all()
    fields = [
        geomagnetic_field(*place)
        for place in zip(latitudes.tolist(), longitudes.tolist(), elevations_m.tolist(), years.tolist(), strict=True)
    ]
    for ours, theirs in (
        ("north_ut", "x"), ("east_ut", "y"), ("down_ut", "z"), ("horizontal_ut", "h"), ("total_ut", "f"),
    ):
        assert [1000 * getattr(field, ours) for field in fields] == pytest.approx(expected[theirs], abs=0.01)
    assert [field.inclination_deg for field in fields] == pytest.approx(expected["inc"], abs=1e-4)
    # A hundredth of a nanotesla across the horizontal field.
    apart = np.array([field.declination_deg for field in fields]) - expected["dec"]
    apart = np.abs((apart + 180) % 360 - 180)
    assert np.all(apart <= 1e-6 + np.degrees(0.01 / expected["h"]))


def synthesis(coefficient_file, latitude_deg, longitude_deg, elevation_m, year):
    """X, Y, Z in nT from the published coefficients: gradient of the potential with scipy's Legendre functions."""
    first, *rows = coefficient_file.read_text().splitlines()
    since = year - float(first.split()[0])
    table = np.array([[float(v) for v in row.split()] for row in rows if len(row.split()) == 6])
    degree, order = table[:, 0].astype(int), table[:, 1].astype(int)
    g, h = table[:, 2] + since * table[:, 4], table[:, 3] + since * table[:, 5]
    # WGS 84 to geocentric latitude and radius.
    a, f = 6378137.0, 1 / 298.257223563
    latitude, longitude = math.radians(latitude_deg), math.radians(longitude_deg)
    curvature = a / math.sqrt(1 - f * (2 - f) * math.sin(latitude) ** 2)
    outwards, upwards = (
        (curvature + elevation_m) * math.cos(latitude), (curvature * (1 - f) ** 2 + elevation_m) * math.sin(latitude),
    )
    radius, geocentric = math.hypot(outwards, upwards), math.atan2(upwards, outwards)
    # Schmidt's half-normalised functions of sin(latitude), without Condon and Shortley's sign, and their slope.
    values, slopes = special.assoc_legendre_p_all(12, 12, math.sin(geocentric), norm=False, diff_n=1)[:, degree, order]
    scale = (-1.0) ** order * np.sqrt(
        np.where(order > 0, 2.0, 1.0) * special.factorial(degree - order) / special.factorial(degree + order)
    )
    p, dp = scale * values, scale * slopes * math.cos(geocentric)
    reach = (6371200 / radius) ** (degree + 2)
    wave, turned = (
        g * np.cos(order * longitude) + h * np.sin(order * longitude),
        g * np.sin(order * longitude) - h * np.cos(order * longitude),
    )
    north = -float(np.sum(reach * wave * dp))
    east = float(np.sum(reach * order * turned * p)) / math.cos(geocentric)
    down = -float(np.sum(reach * (degree + 1) * wave * p))
    tip = latitude - geocentric
    return (north * math.cos(tip) + down * math.sin(tip), east, down * math.cos(tip) - north * math.sin(tip))


@pytest.mark.parametrize(("model", "first_year"), [("WMM_2020.COF", 2020.0), ("WMM_2025.COF", 2025.0)])
def test_the_sum_over_the_published_coefficients_agrees(model, first_year):
    # A third algorithm, for both models, on the coefficient files as published (they come with pygeomag).
    coefficients = files("pygeomag").joinpath("wmm", model)
    rng = np.random.default_rng(20200101)
    for _ in range(200):
        latitude, longitude = math.degrees(math.asin(rng.uniform(-1, 1))), rng.uniform(-180, 360)
        elevation_m, year = rng.uniform(-1000, 100_000), first_year + rng.uniform(0, 4.999)
        field = geomagnetic_field(latitude, longitude, elevation_m, year)
        ours = [1000 * value for value in (field.north_ut, field.east_ut, field.down_ut)]
        assert ours == pytest.approx(synthesis(coefficients, latitude, longitude, elevation_m, year), abs=0.01)


@pytest.mark.parametrize(("day", "expected"), [
    (date(2026, 1, 1), 2026.0),
    (date(2025, 7, 2), 2025 + 182 / 365),  # the 183rd day of a common year
    (date(2024, 12, 31), 2024 + 365 / 366),
])
def test_decimal_year(day, expected):
    assert decimal_year(day) == pytest.approx(expected, abs=1e-12)


def test_decimal_year_by_a_second_implementation():
    # geomaglib, every day that a model covers.
    from geomaglib.util import calc_dec_year

    day = date(2020, 1, 1)
    while day <= date(2030, 1, 1):
        assert decimal_year(day) == pytest.approx(calc_dec_year(day.year, day.month, day.day), abs=1e-9)
        day += timedelta(1)
