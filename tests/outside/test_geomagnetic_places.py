"""The Earth's field where and when it is easily got wrong: poles, date line, first and last day; and compasses."""

import math
from datetime import date

import numpy as np
import pytest
from making.manifests import opening
from scipy.spatial.transform import Rotation

from preflint.api import Unproven
from preflint.compute.geomagnetism import decimal_year, geomagnetic_field, heading_error_deg
from preflint.testing import inspect_text, outcome

# An interference run taken on the day judged at, with all else that the heading error needs.
WITH_A_RUN = opening("Trial", more="takeoff_mass_g: 1400, relies_on: [compass]") + """\
site: {latitude_deg: 54.5, longitude_deg: -3.0, elevation_m: 150}
every_rotor: {motor: {full_throttle_draw_a: 14}}
power_sensing: {sensor_mv_per_a: 26.4}
compass: {interference_offset_ut_per_a: [-0.1, 0.2, 0.0], hard_iron_ut: [0, 0, 0]}
records:
  interference_run:
    - date: DAY
      route: restrained
      field_is: raw
      in_force: {sensor_mv_per_a: 26.4}
      magnetic_restraint: false
      steel_nearby: false
      payload_on: true
      columns: [time_s, throttle_percent, current_a, field_x_ut, field_y_ut, field_z_ut]
      rows: [[0, 0, 0, 18.01, 2, 40], [5, 30, 5, 18.5, 1.01, 40], [10, 50, 10, 19, 0, 40.01],
             [15, 70, 15, 19.5, -1, 40], [20, 30, 5.0, 18.49, 1, 39.99], [25, 0, 0, 18, 2.01, 40]]
  hover:
    - {date: DAY, mean_current_a: 11, mean_voltage_v: 15, duration_s: 60, takeoff_mass_g: 1400,
       in_force: {sensor_mv_per_a: 26.4}}
"""


@pytest.mark.parametrize("pole", [90.0, -90.0])
def test_at_a_pole_the_field_is_one_vector_whatever_the_meridian(pole):
    # North is along the meridian: turned into one frame, every longitude gives the same horizontal vector.
    def fixed(latitude, longitude):
        field = geomagnetic_field(latitude, longitude, 0, 2026.5)
        up, around = math.sin(math.radians(latitude)), math.radians(longitude)
        north = np.array([-up * math.cos(around), -up * math.sin(around)])
        east = np.array([-math.sin(around), math.cos(around)])
        return [*(field.north_ut * north + field.east_ut * east), field.down_ut]

    there = fixed(pole, 0.0)
    for longitude in (-180.0, -90.0, 37.0, 180.0, 240.0, 360.0):
        assert fixed(pole, longitude) == pytest.approx(there, abs=1e-9)
    assert fixed(math.nextafter(pole, 0), 10.0) == pytest.approx(there, abs=1e-5)
    assert fixed(pole * (1 - 1e-7), 10.0) == pytest.approx(there, abs=1e-4)


@pytest.mark.parametrize(("one", "other"), [(180.0, -180.0), (240.0, -120.0), (360.0, 0.0), (359.5, -0.5)])
def test_a_meridian_has_two_names(one, other):
    for latitude in (-90.0, -30.0, 0.0, 60.0, 90.0):
        first, second = (geomagnetic_field(latitude, longitude, 0, 2026.5) for longitude in (one, other))
        assert [first.north_ut, first.east_ut, first.down_ut] == pytest.approx(
            [second.north_ut, second.east_ut, second.down_ut], abs=1e-9
        )


def test_from_one_model_to_the_next():
    # WMM2020 speaks up to 31 December 2024, WMM2025 from 1 January 2025 on: another error model, and a field that
    # differs by what five years of forecast were wrong, some tens of nanotesla.
    before = geomagnetic_field(47.6, -122.3, 0, decimal_year(date(2024, 12, 31)))
    after = geomagnetic_field(47.6, -122.3, 0, decimal_year(date(2025, 1, 1)))
    assert (before.u_north_ut, after.u_north_ut) == (0.131, 0.137)
    assert 0 < abs(after.total_ut - before.total_ut) < 0.2


def test_the_first_and_the_last_day():
    assert geomagnetic_field(0, 0, 0, decimal_year(date(2020, 1, 1))).total_ut > 0
    assert geomagnetic_field(0, 0, 0, decimal_year(date(2030, 1, 1))).total_ut > 0


@pytest.mark.parametrize(("place", "says"), [
    ((47, 8, 0, decimal_year(date(2019, 12, 31))), "for 2019.997; those at hand run from 2020.0 to 2030.0"),
    ((47, 8, 0, decimal_year(date(2030, 1, 2))), "for 2030.003; those at hand run from 2020.0 to 2030.0"),
    ((47, 8, 0, math.nan), "no World Magnetic Model at hand for nan"),
    ((90.01, 8, 0, 2026.5), "latitude 90.01° is not between -90 and 90"),
    ((-91, 8, 0, 2026.5), "latitude -91° is not between -90 and 90"),
    ((math.nan, 8, 0, 2026.5), "latitude nan° is not"),
    ((47, -180.5, 0, 2026.5), "longitude -180.5° is not between -180 and 360"),
    ((47, 361, 0, 2026.5), "longitude 361° is not between -180 and 360"),
    ((47, 8, -1001, 2026.5), "elevation -1001 m is not between -1000 and 850000"),
    ((47, 8, math.inf, 2026.5), "elevation inf m is not"),
])
def test_off_the_globe_or_out_of_date(place, says):
    with pytest.raises(ValueError, match=says):
        geomagnetic_field(*place)


@pytest.mark.parametrize("judged_on", ["2019-12-31", "2030-01-02"])
def test_an_aircraft_judged_when_no_model_speaks_is_unproven(judged_on):
    text = WITH_A_RUN.replace("DAY", judged_on)
    answer = outcome(inspect_text(text, judged_on), "interference/heading-error")
    assert isinstance(answer, Unproven)
    assert answer.cause == "absent"
    assert answer.message.startswith("no field is known at the site: no World Magnetic Model at hand for 20")
    assert answer.do == "judge at a date that the model covers"
    day = date.fromisoformat(judged_on)
    inside = day.replace(year=2020, month=1, day=1) if day.year == 2019 else day.replace(day=1)
    text = WITH_A_RUN.replace("DAY", inside.isoformat())
    assert not isinstance(outcome(inspect_text(text, inside.isoformat()), "interference/heading-error"), Unproven)


def test_disturbed_headings_by_search():
    # Every heading and every way of tilting, by turning the vectors; nothing of the closed form.
    horizontal_ut, tilt = 18.0, 25.0
    headings = np.radians(np.arange(0, 360, 0.5))
    for disturbance in ([2.0, 0, 0], [0, 0, 5.0], [1.2, -3.1, 2.2], [0.4, 0.1, -6.0], [-2.0, 2.0, 0.05]):
        worst_level = worst_tilted = 0.0
        for leaning in range(0, 360, 2):
            axis = [math.cos(math.radians(leaning)), math.sin(math.radians(leaning)), 0]
            for angle in (0.0, 10.0, tilt):
                x, y, _ = Rotation.from_rotvec(math.radians(angle) * np.array(axis)).apply(disturbance)
                # The level compass sees the field turned into body axes, plus what is fixed to the aircraft.
                seen = np.arctan2(horizontal_ut * np.sin(headings) - y, horizontal_ut * np.cos(headings) + x)
                off = np.degrees(np.max(np.abs((seen - headings + np.pi) % (2 * np.pi) - np.pi)))
                worst_tilted = max(worst_tilted, off)
                worst_level = max(worst_level, off) if angle == 0 else worst_level
        assert heading_error_deg(disturbance, horizontal_ut, 0) == pytest.approx(worst_level, abs=0.01)
        assert heading_error_deg(disturbance, horizontal_ut, tilt) == pytest.approx(worst_tilted, abs=0.02)
