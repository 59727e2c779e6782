"""Figures for the first hover: by hand, from the bench alone, and none where nothing tells."""

import math

import pytest
from making.manifests import CLUB, FILES, GO, manifest

from preflint.testing import computed, inspect_text

THROTTLE, CURRENT, VOLTS, LAND = (
    "predicted_hover_throttle_percent", "predicted_hover_current_a", "predicted_hover_voltage_v", "land_at_voltage_v",
)
SEA = "site: {elevation_m: 0, temperature_c: 15, station_pressure_hpa: 1013.25, relative_humidity_percent: 0}\n"
PACK = "packs: [{label: A1, chemistry: lipo, cells: 4}]\n"


def built(*sections, mass=1950, diameter=12, thrust=1300, layout="quad-x", records=None, logbook=()):
    motor = f"motor: {{full_throttle_draw_a: 17{f', max_thrust_g: {thrust}' if thrust else ''}}}"
    every = f"every_rotor: {{{motor}, prop: {{diameter_in: {diameter}}}, ducted: false}}\n"
    more = f"takeoff_mass_g: {mass}" if mass else ""
    return manifest(
        SEA, every, *sections, more=more, layout=layout, records=records, logbook=logbook
    )


def told(text):
    return {figure.quantity: figure for figure in inspect_text(text).computed}


def test_throttle_by_the_square_law():
    """487.5 g of 1300 g: √0.375 = 61.24 %; 0.375^(1/1.6) = 54.17 %, 0.375^(1/2.4) = 66.45 %."""
    one = told(built())[THROTTLE]
    assert one.value == pytest.approx(61.24, abs=0.02)
    by_thrust = 0.6124 * 0.075 / math.sqrt(3)
    assert one.standard_uncertainty == pytest.approx(100 * math.hypot(by_thrust, 0.0614 / math.sqrt(3)), rel=0.01)


def test_thin_air_asks_for_more():
    """1500 m and 35 °C: 845.56 hPa, 0.9559 kg/m³, so 1.2815 times the thrust at sea level."""
    high = "site: {elevation_m: 1500, temperature_c: 35, station_pressure_hpa: 845.56, relative_humidity_percent: 0}\n"
    one = told(built().replace(SEA, high))[THROTTLE]
    assert one.value == pytest.approx(100 * math.sqrt(0.375 * 1.225 / 0.9559), abs=0.05)
    # Of a site that nobody recorded the air is taken as at sea level.
    assert told(built().replace(SEA, ""))[THROTTLE].value == pytest.approx(61.24, abs=0.02)


def test_rotors_of_one_axis_need_more_than_rotors_apart():
    apart, together = told(built(layout="octo-x", mass=3900))[THROTTLE], told(built(layout="x8", mass=3900))[THROTTLE]
    assert together.value > apart.value * 1.03


@pytest.mark.parametrize(("grams", "of_before"), [(1950 * 1.1, math.sqrt(1.1)), (1950 * 0.8, math.sqrt(0.8))])
def test_more_mass_more_throttle(grams, of_before):
    assert told(built(mass=grams))[THROTTLE].value == pytest.approx(61.24 * of_before, rel=1e-3)


def test_rotors_that_cannot_lift_it_predict_no_throttle():
    seen = inspect_text(built(mass=5300))
    assert THROTTLE not in {figure.quantity for figure in seen.computed}
    assert not seen.broken


STAND = (
    "date: 2026-05-10, at: front-left, columns: [throttle_percent, thrust_g, current_a, voltage_v], "
    "rows: [[30, 150, 1.2, 15.6], [45, 330, 3.1, 15.5], [60, 590, 6.6, 15.3], [75, 860, 11.0, 15.1], "
    "[100, 1290, 19, 14.8]]"
)


def test_the_stand_goes_before_the_table():
    """487.5 g between 330 g (45 %) and 590 g (60 %), by the root: 45 + 15·(22.079 - 18.166)/(24.290 - 18.166)."""
    one = told(built(PACK, records={"thrust_stand": STAND}))[THROTTLE]
    assert one.value == pytest.approx(45 + 15 * (22.0794 - 18.1659) / (24.2899 - 18.1659), abs=0.02)
    assert one.standard_uncertainty == pytest.approx(one.value * 0.1 / math.sqrt(3), rel=0.01)
    without = told(built(PACK, thrust=None, records={"thrust_stand": STAND}))[THROTTLE]
    assert without.value == pytest.approx(one.value)


def test_a_stand_that_does_not_reach_is_left_to_the_table():
    low = STAND.partition(", [60")[0] + "]"
    one = told(built(PACK, records={"thrust_stand": low}))[THROTTLE]
    assert one.value == pytest.approx(61.24, abs=0.02)
    assert THROTTLE not in told(built(PACK, thrust=None, records={"thrust_stand": low}))


def test_current_between_its_bounds():
    """Example of the bench alone: 1950 g on 12 in, no hover, no stand: 100 W at 14.8 V is 9.0 to 27 A."""
    one = told(built(PACK))[CURRENT]
    ideal = 1.95 * 9.80665 * math.sqrt(1.95 * 9.80665 / (2 * 1.225 * math.pi * 0.1524**2 * 4))
    least, most = ideal / 0.75 / 16.8, ideal / 0.25 / 12.0
    assert one.value == pytest.approx((least + most) / 2, rel=0.01)
    assert one.standard_uncertainty == pytest.approx((most - least) / 2 / math.sqrt(3), rel=0.01)


def test_current_by_the_stand():
    """At 487.5 g by a power law between 3.1 A · 15.5 V and 6.6 A · 15.3 V, four times, at 14.4 V."""
    share = math.log(487.5 / 330) / math.log(590 / 330)
    watts = (3.1 * 15.5) * (6.6 * 15.3 / (3.1 * 15.5)) ** share
    one = told(built(PACK, records={"thrust_stand": STAND}))[CURRENT]
    assert one.value == pytest.approx(4 * watts / 14.4, rel=1e-3)


SAG = (
    "date: 2026-05-16, pack: A1, route: restrained, dwell_s: 10, columns: [current_a, voltage_v, used_mah], "
    "rows: [[0.2, 16.80, 0], [5, 16.70, 10], [10, 16.60, 40], [15, 16.49, 80], [20, 16.38, 130]]"
)
SENSING = "power_sensing: {divider_ratio: 6.2, sensor_mv_per_a: 26.4, zero_mv: 330}\n"


def test_volts_under_the_expected_current():
    seen = told(built(PACK, SENSING, records={"thrust_stand": STAND, "sag_run": SAG}))
    ohm, amperes = seen["pack_resistance_ohm"].value, seen[CURRENT].value
    assert seen[VOLTS].value == pytest.approx(16.8 - ohm * amperes, abs=1e-6)
    assert seen[VOLTS].case == "A1"
    assert 0.05 < seen[VOLTS].standard_uncertainty < 0.3
    assert VOLTS not in told(built(PACK, SENSING, records={"thrust_stand": STAND}))


@pytest.mark.parametrize(("chemistry", "volts"), [("lipo", 14.4), ("lipo-hv", 14.4), ("li-ion", 12.8), ("life", 12.0)])
def test_when_to_land(chemistry, volts):
    assert told(built(PACK.replace("lipo", chemistry)))[LAND].value == pytest.approx(volts)


def test_nothing_is_predicted_of_what_is_not_recorded():
    for text in (built(PACK, mass=None), manifest(), built(thrust=None)):
        seen = inspect_text(text)
        assert THROTTLE not in {figure.quantity for figure in seen.computed}
        assert not seen.broken
    assert not {CURRENT, VOLTS, LAND} & set(told(manifest()))


@pytest.mark.parametrize("name", [name for name in GO if name != "gannet"])  # an eight that hovers like a six
def test_the_hover_that_was_flown_came_out_as_predicted(name):
    """The club's hovers, of which the prediction of the throttle knows nothing."""
    text = (CLUB / f"{name}.airframe.yaml").read_text(encoding="utf-8")
    seen = inspect_text(text, files=FILES)
    (hover,) = seen.aircraft.records.hover
    one = computed(seen, THROTTLE)
    assert abs(one.value - hover.throttle_percent.value) < 1.96 * one.standard_uncertainty


def test_a_stand_without_throttles_is_passed_over_for_an_older_one():
    """487.5 g lie between 300 g at 40 % and 700 g at 60 %."""
    noted = (
        "date: 2026-05-10, at: front-left, columns: [throttle_percent, thrust_g, current_a, voltage_v], "
        "rows: [[40, 300, 3, 15.0], [60, 700, 8, 14.9], [100, 1300, 17, 14.8]]"
    )
    silent = (
        "date: 2026-05-12, at: front-left, columns: [thrust_g, current_a, voltage_v], "
        "rows: [[300, 3, 15.0], [700, 8, 14.9], [1300, 17, 14.8]]"
    )
    alone, both, neither = (
        told(built(records={"thrust_stand": stands}))[THROTTLE].value for stands in (noted, [noted, silent], silent)
    )
    assert both == alone
    assert 45 < alone < 55
    assert neither == pytest.approx(61.24, abs=0.02)  # by the square law, as without a stand
