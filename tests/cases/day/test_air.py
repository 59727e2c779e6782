"""Figures of the day's air and of a fall: against values of other libraries, and by hand."""

import math

import fluids
import psychrolib
import pytest
from making.manifests import manifest
from scipy.optimize import brentq

from preflint.testing import computed, inspect_text

psychrolib.SetUnitSystem(psychrolib.SI)


def day(celsius=20.0, percent=50, plan="height_m: 30, airspeed_m_s: 10"):
    site = f"elevation_m: 300, temperature_c: {celsius}, relative_humidity_percent: {percent}"
    return inspect_text(manifest(f"site: {{{site}, station_pressure_hpa: 980}}\nplan: {{{plan}}}\n"))


def test_density_altitude_and_how_well_it_is_known():
    """The height of that density, and of those a standard uncertainty thinner and thicker, by fluids 1.3."""
    judged = day()
    air = computed(judged, "air_density_kg_m3")
    thin, middle, thick = (
        brentq(lambda h, rho=rho: fluids.ATMOSPHERE_1976(h).rho - rho, 0, 11000)
        for rho in (air.value - air.standard_uncertainty, air.value, air.value + air.standard_uncertainty)
    )
    found = computed(judged, "density_altitude_m")
    assert found.value == pytest.approx(middle, abs=1)
    assert found.standard_uncertainty == pytest.approx((thin - thick) / 2, rel=0.01)


def test_dew_point_and_how_well_it_is_known():
    """By ASHRAE's formula in psychrolib; temperature within 2 K and humidity within 10 %, anywhere alike."""

    def dew_c(celsius, percent):
        return psychrolib.GetTDewPointFromRelHum(celsius, percent / 100)

    found = computed(day(), "dew_point_c")
    assert found.value == pytest.approx(dew_c(20, 50), abs=0.05)
    halves = (dew_c(22, 50) - dew_c(18, 50)) / 2, (dew_c(20, 60) - dew_c(20, 40)) / 2
    assert found.standard_uncertainty == pytest.approx(math.hypot(*halves) / math.sqrt(3), rel=0.01)


def test_a_dew_point_down_to_one_per_cent_and_none_at_zero():
    """Over water, at 20 °C: 243.12·x/(17.62 - x), x = ln 0.01 + 17.62·20/263.12 (WMO-No. 8), worked by hand."""
    assert computed(day(percent=1), "dew_point_c").value == pytest.approx(-38.2, abs=0.2)
    with pytest.raises(LookupError):
        computed(day(percent=0), "dew_point_c")


def test_a_fall_goes_with_the_speed_and_the_root_of_the_height():
    """v·√(2h/g), worked by hand: 10 m/s from 30 m."""
    assert computed(day(), "fall_distance_m").value == pytest.approx(24.7, abs=0.05)


def test_air_thinner_than_any_that_is_flown_in_has_no_height():
    """300 hPa at 60 °C: 0.31 kg/m³, that of more than 11 km, where the standard atmosphere is another."""
    thin = manifest("site: {elevation_m: 8800, temperature_c: 60, station_pressure_hpa: 300}\n")
    judged = inspect_text(thin)
    assert not [one for one in judged.computed if one.quantity == "density_altitude_m"]
    assert not judged.broken
