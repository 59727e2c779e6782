"""What a flight pack holds, what must hold it, and what cold does to it at the most."""

import math

STANDARD_GRAVITY_M_S2 = 9.80665
MANOEUVRE_LOAD_FACTOR = 3.5
"""The limit manoeuvring load factor of a normal rotorcraft: 14 CFR 27.337 (from memory)."""

_KELVIN = 273.15
# The resistance of an electrode grew 50-fold from +20 to -20 °C: "Studies on rate capability of lithium-ion cells at
# low temperatures" (1999, carbon against LiCoO2; abstract). ln 50/(1/253.15 - 1/293.15).
COLD_B_K = math.log(50) / (1 / (_KELVIN - 20) - 1 / (_KELVIN + 20))


def cold_factor(temperature_c: float, compared_with_c: float = 20.0) -> float:
    """By how much the resistance of a cell grows at the most where it is that cold; exp(B·(1/T - 1/T₀)).

    A bound, of electrodes alone: leads, plugs and the cell's own warmth make it less. Below 1 where it is warmer.
    Raises ValueError for a temperature outside -60 to 100 °C.
    """
    for celsius in (temperature_c, compared_with_c):
        if not -60 <= celsius <= 100:
            raise ValueError(f"a pack at {celsius:g} °C is not between -60 and 100")
    return math.exp(COLD_B_K * (1 / (_KELVIN + temperature_c) - 1 / (_KELVIN + compared_with_c)))


def tug_force_n(mass_kg: float) -> float:
    """The pull, in N, that must not move a thing of this mass: what it weighs times the load factor of a manoeuvre.

    Raises ValueError for a mass that is not above zero.
    """
    if not (math.isfinite(mass_kg) and mass_kg > 0):
        raise ValueError("a mass is a finite number above zero")
    return MANOEUVRE_LOAD_FACTOR * mass_kg * STANDARD_GRAVITY_M_S2


def energy_wh(volts: float, capacity_mah: float) -> float:
    """Energy by the label, in Wh: nominal voltage times capacity. Raises ValueError where one is not above zero."""
    if not (math.isfinite(volts) and volts > 0 and math.isfinite(capacity_mah) and capacity_mah > 0):
        raise ValueError("voltage and capacity are finite numbers above zero")
    return volts * capacity_mah / 1000
