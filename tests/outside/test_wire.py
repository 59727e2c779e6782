"""Copper wire against published tables and worked examples."""

import pytest

from preflint.compute.wire import wire_area_mm2, wire_diameter_mm, wire_resistance_ohm

FOOT_M = 0.3048
INCH_MM = 25.4


@pytest.mark.parametrize(
    ("gauge", "inches", "ohm_per_1000_ft"),
    # HyperPhysics (Georgia State University), "American Wire Gauge", from Floyd,
    # Electric Circuit Fundamentals.
    [
        (4, 0.20431, 0.2485), (6, 0.16202, 0.3951), (8, 0.12849, 0.6282), (10, 0.10189, 0.9989), (12, 0.0808, 1.588),
        (14, 0.06408, 2.525), (16, 0.05082, 4.016), (18, 0.0403, 6.385), (20, 0.03196, 10.15), (22, 0.02535, 16.14),
        (24, 0.0201, 25.67), (26, 0.01594, 40.81),
    ],
)
def test_published_table(gauge, inches, ohm_per_1000_ft):
    assert wire_diameter_mm(gauge) / INCH_MM == pytest.approx(inches, rel=5e-4)
    assert wire_resistance_ohm(gauge, 1000 * FOOT_M) == pytest.approx(ohm_per_1000_ft, rel=5e-4)


@pytest.mark.parametrize(
    ("gauge", "ohm_per_1000_ft"),
    # The odd gauges of the same table, from memory; the formula meets each in its last printed digit.
    [(5, 0.3133), (7, 0.4982), (9, 0.7921), (11, 1.260), (13, 2.003), (15, 3.184), (17, 5.064), (19, 8.051),
     (21, 12.80), (23, 20.36)],
)  # fmt: skip
def test_published_table_of_odd_gauges(gauge, ohm_per_1000_ft):
    assert wire_resistance_ohm(gauge, 1000 * FOOT_M) == pytest.approx(ohm_per_1000_ft, rel=5e-4)


@pytest.mark.parametrize(
    ("gauge", "millimetres", "square_millimetres", "ohm_per_km"),
    # ASTM B258 and IEC 60028, recomputed; 1/58 Ω·mm²/m is 0.017241 to five digits.
    [
        (4, 5.1894, 21.1506, 0.8152),
        (8, 3.2636, 8.3656, 2.0609),
        (12, 2.0525, 3.3088, 5.2107),
        (16, 1.2908, 1.3087, 13.1742),
        (20, 0.8118, 0.5176, 33.3083),
        (26, 0.4049, 0.1288, 133.904),
    ],
)
def test_metric_sizes(gauge, millimetres, square_millimetres, ohm_per_km):
    assert wire_diameter_mm(gauge) == pytest.approx(millimetres, abs=6e-5)
    assert wire_area_mm2(gauge) == pytest.approx(square_millimetres, abs=6e-5)
    assert wire_resistance_ohm(gauge, 1000) == pytest.approx(ohm_per_km, rel=5e-5)


@pytest.mark.parametrize(("gauge", "inches"), [(0, 0.3249), (-1, 0.3648), (-2, 0.4096), (-3, 0.4600)])
def test_the_sizes_beyond_zero(gauge, inches):
    # ASTM B258: 0, 00, 000 and 0000; the first three from memory.
    assert wire_diameter_mm(gauge) / INCH_MM == pytest.approx(inches, abs=6e-5)


def test_three_gauges_are_half_the_copper_and_twenty_a_tenth_of_the_diameter():
    # Rules of thumb, common practice: three gauges up double the resistance, within 1 %; twenty a tenth, within 2 %.
    for gauge in range(-3, 20):
        assert wire_resistance_ohm(gauge + 3, 1) / wire_resistance_ohm(gauge, 1) == pytest.approx(2, rel=0.01)
        assert wire_diameter_mm(gauge) / wire_diameter_mm(gauge + 20) == pytest.approx(10, rel=0.02)


def test_the_two_sizes_that_define_the_gauge():
    # ASTM B258: No. 0000 is 0.4600 in, No. 36 is 0.0050 in.
    assert wire_diameter_mm(-3) / INCH_MM == pytest.approx(0.4600, rel=1e-12)
    assert wire_diameter_mm(36) / INCH_MM == pytest.approx(0.0050, rel=1e-12)
    assert wire_area_mm2(12) == pytest.approx(3.3088, abs=5e-5)


@pytest.mark.parametrize(
    ("celsius", "ohm_per_km"),
    # IEC 60028: 1/58 ohm mm2/m at 20 °C, 0.00393 per kelvin; No. 10, recomputed with 0.017241.
    [(0, 3.0195), (20, 3.2770), (25, 3.3414), (60, 3.7922), (75, 3.9854), (100, 4.3073)],
)
def test_temperature(celsius, ohm_per_km):
    assert wire_resistance_ohm(10, 1000, celsius) == pytest.approx(ohm_per_km, rel=4e-5)


def test_faa_temperature_rule():
    # FAA AC 43.13-1B CHG 1, p. 11-23: the length for a given drop goes as 254.5 / (234.5 + T); its second example
    # shortens 15.5 ft to 9.48 ft at 181.6 °C. 1/0.00393 - 20 is 234.45.
    for celsius in (0, 20, 75, 150, 181.6, 200):
        warmer = wire_resistance_ohm(12, 1, celsius) / wire_resistance_ohm(12, 1)
        assert warmer == pytest.approx((234.5 + celsius) / 254.5, rel=2e-4)
    assert 15.5 * wire_resistance_ohm(12, 1) / wire_resistance_ohm(12, 1, 181.6) == pytest.approx(9.48, abs=0.005)


def test_faa_stranded_wire_is_above_solid_copper_or_close_to_it():
    # FAA AC 43.13-1B CHG 1, Table 11-9, tin-plated stranded wire, greatest ohm per 1000 ft at 20 °C.
    table = {
        24: 28.40,
        22: 16.20,
        20: 9.88,
        18: 6.23,
        16: 4.81,
        14: 3.06,
        12: 2.02,
        10: 1.26,
        8: 0.70,
        6: 0.44,
        4: 0.28,
    }
    for gauge, greatest in table.items():
        assert 0.95 < greatest / wire_resistance_ohm(gauge, 1000 * FOOT_M) < 1.30


@pytest.mark.parametrize(("call", "says"), [
    (lambda: wire_area_mm2(41), "not between -3 \\(0000\\) and 40"),
    (lambda: wire_resistance_ohm(12, -1), "length"),
    (lambda: wire_resistance_ohm(12, float("nan")), "length"),
    (lambda: wire_resistance_ohm(12, 1, 300), "not between -100 and 250"),
])
def test_out_of_reach(call, says):
    with pytest.raises(ValueError, match=says):
        call()
