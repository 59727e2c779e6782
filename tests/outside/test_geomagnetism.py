"""The Earth's field against the published test values and an independent implementation."""

import math
from datetime import date

import numpy as np
import pytest

from preflint.compute.geomagnetism import decimal_year, geomagnetic_field

# NOAA NCEI / British Geological Survey, WMM2025 test value table for the report (US Government data), as in
# CIRES-Geomagnetism/wmm @ed8bc33, tests/WMM2025_TEST_VALUE_TABLE_FOR_REPORT.txt.
# date, height km above WGS 84, latitude, longitude, X, Y, Z, H, F (nT), I, D (degrees)
WMM2025 = [
    (2025.0, 0, 80, 0, 6521.6, 145.9, 54791.5, 6523.2, 55178.5, 83.21, 1.28),
    (2025.0, 0, 0, 120, 39677.8, -109.6, -10580.2, 39677.9, 41064.3, -14.93, -0.16),
    (2025.0, 0, -80, 240, 6117.5, 15751.9, -52022.5, 16898.1, 54698.2, -72.00, 68.78),
    (2025.0, 100, 80, 0, 6216.0, 92.4, 52598.8, 6216.7, 52964.9, 83.26, 0.85),
    (2025.0, 100, 0, 120, 37688.6, -96.2, -10152.1, 37688.7, 39032.1, -15.08, -0.15),
    (2025.0, 100, -80, 240, 5907.6, 14780.3, -49540.7, 15917.1, 52035.0, -72.19, 68.21),
    (2027.5, 0, 80, 0, 6500.8, 294.5, 54869.4, 6507.5, 55253.9, 83.24, 2.59),
    (2027.5, 0, 0, 120, 39701.6, -167.4, -10381.8, 39702.0, 41036.9, -14.65, -0.24),
    (2027.5, 0, -80, 240, 6200.7, 15730.3, -51783.7, 16908.3, 54474.2, -71.92, 68.49),
    (2027.5, 100, 80, 0, 6196.7, 233.8, 52670.5, 6201.1, 53034.3, 83.29, 2.16),
    (2027.5, 100, 0, 120, 37711.5, -148.7, -9969.8, 37711.8, 39007.4, -14.81, -0.23),
    (2027.5, 100, -80, 240, 5984.0, 14760.1, -49317.7, 15927.0, 51825.7, -72.10, 67.93),
]

# WMM2020 technical report, table of test values, first three rows. From memory.
WMM2020 = [
    (2020.0, 0, 80, 0, 6570.4, -146.3, 54606.0, 6572.0, 55000.1, 83.14, -1.28),
    (2020.0, 0, 0, 120, 39624.3, 109.9, -10932.5, 39624.4, 41104.9, -15.42, 0.16),
    (2020.0, 0, -80, 240, 5940.6, 15772.1, -52480.8, 16853.8, 55120.6, -72.20, 69.36),
]


@pytest.mark.parametrize("row", WMM2025 + WMM2020)
def test_report_table(row):
    year, height_km, latitude, longitude, x, y, z, h, f, inclination, declination = row
    field = geomagnetic_field(latitude, longitude, height_km * 1000, year)
    nanotesla = [
        1000 * value for value in (field.north_ut, field.east_ut, field.down_ut, field.horizontal_ut, field.total_ut)
    ]
    assert nanotesla == pytest.approx([x, y, z, h, f], abs=0.06)  # printed to 0.1 nT
    assert field.inclination_deg == pytest.approx(inclination, abs=0.0051)
    assert field.declination_deg == pytest.approx(declination, abs=0.0051)


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


def test_a_second_implementation_agrees_over_the_globe():
    # wmm-calculator (NOAA / CIRES authors): another algorithm on the same coefficients.
    from wmm import wmm_calc

    rng = np.random.default_rng(20250101)
    latitudes, longitudes = rng.uniform(-89, 89, 60), rng.uniform(-180, 180, 60)
    elevations_m, years = rng.uniform(0, 4000, 60), rng.uniform(2025, 2029.9, 60)
    other = wmm_calc()
    other.setup_env(latitudes, longitudes, elevations_m / 1000, unit="km", msl=False)
    other.setup_time(dyear=years)
    expected = other.get_all()
    for i in range(60):
        field = geomagnetic_field(latitudes[i], longitudes[i], elevations_m[i], years[i])
        ours = [1000 * field.north_ut, 1000 * field.east_ut, 1000 * field.down_ut]
        assert ours == pytest.approx([expected[name][i] for name in "xyz"], abs=0.01)
        assert field.declination_deg == pytest.approx(expected["dec"][i], abs=1e-4)
        assert field.inclination_deg == pytest.approx(expected["inc"][i], abs=1e-4)


@pytest.mark.parametrize(
    ("day", "expected"),
    [
        (date(2026, 1, 1), 2026.0),
        (date(2025, 7, 2), 2025 + 182 / 365),  # the 183rd day of a common year
        (date(2024, 12, 31), 2024 + 365 / 366),
    ],
)
def test_decimal_year(day, expected):
    assert decimal_year(day) == pytest.approx(expected, abs=1e-12)
