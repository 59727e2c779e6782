"""Copper wire by American wire gauge.

Sources: ASTM B258 (No. 0000 is 0.4600 in, No. 36 is 0.0050 in, 39 equal ratios between them); IEC 60028:1925
(annealed copper, 1/58 Ω·mm²/m at 20 °C, 0.00393 per kelvin).
"""

import math

RESISTIVITY_20_OHM_MM2_PER_M = 1 / 58
TEMPERATURE_COEFFICIENT_PER_K = 0.00393


def wire_diameter_mm(gauge_awg: int) -> float:
    """Diameter of solid wire; sizes 0, 00, 000 and 0000 are 0, -1, -2 and -3. ValueError outside -3 to 40."""
    if not -3 <= gauge_awg <= 40:
        raise ValueError(f"wire gauge {gauge_awg} is not between -3 (0000) and 40")
    return float(0.127 * 92 ** ((36 - gauge_awg) / 39))


def wire_area_mm2(gauge_awg: int) -> float:
    """Cross-section of copper. ValueError for a gauge outside -3 to 40."""
    return math.pi / 4 * wire_diameter_mm(gauge_awg) ** 2


def wire_resistance_ohm(gauge_awg: int, length_m: float, temperature_c: float = 20.0) -> float:
    """Resistance of so much solid copper; both legs of a lead make twice its one-way length.

    Stranded wire of the same gauge is a few per cent higher. Raises ValueError for a gauge outside -3 to 40,
    a length below zero or a temperature outside -100 to 250 °C.
    """
    if not (math.isfinite(length_m) and length_m >= 0):
        raise ValueError("a length is a finite number, zero or more")
    if not -100 <= temperature_c <= 250:
        raise ValueError(f"a wire temperature of {temperature_c:g} °C is not between -100 and 250")
    warmer = 1 + TEMPERATURE_COEFFICIENT_PER_K * (temperature_c - 20)
    return RESISTIVITY_20_OHM_MM2_PER_M * warmer * length_m / wire_area_mm2(gauge_awg)
