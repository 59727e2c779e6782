"""What becomes of a radio link over a distance.

Sources: Recommendation ITU-R P.525 (free space); ITU-R P.526 (Fresnel ellipsoids); two rays, one of them off the
ground: common textbook formula. Distances in m, frequencies in MHz.
"""

import math

LIGHT_M_S = 299_792_458.0


def wavelength_m(frequency_mhz: float) -> float:
    """Raises ValueError for a frequency that is not above zero."""
    return LIGHT_M_S / (_above_zero("frequency", frequency_mhz) * 1e6)


def free_space_loss_db(frequency_mhz: float, distance_m: float) -> float:
    """Basic loss between isotropic antennas, 20·log10(4π·d/λ): 32.4 + 20·log f + 20·log d of ITU-R P.525.

    Less than zero only where the antennas are nearer than a twelfth of a wavelength, which no formula of a far field
    tells of. Raises ValueError for what is not above zero.
    """
    return 20 * math.log10(4 * math.pi * _above_zero("distance", distance_m) / wavelength_m(frequency_mhz))


def link_margin_db(reduced_by_db: float, held_m: float, planned_m: float) -> float:
    """What a link at full power has to spare at the planned distance, at the least.

    Control held at ``held_m`` with the power reduced by so much: R + 20·log10(d_held/d_planned), as the loss of free
    space grows. Raises ValueError for a distance that is not above zero.
    """
    return reduced_by_db + 20 * math.log10(_above_zero("distance", held_m) / _above_zero("distance", planned_m))


def full_power_reach_m(reduced_by_db: float, held_m: float) -> float:
    """The distance at which nothing is left to spare at full power: d_held·10^(R/20)."""
    return float(held_m * 10 ** (reduced_by_db / 20))


def break_point_m(frequency_mhz: float, height_m: float, other_height_m: float) -> float:
    """Where the ray off the ground begins to put out the direct one: 4π·h₁·h₂/λ.

    Beyond it the loss grows with the fourth power of the distance. Heights above the ground, in m.
    """
    heights = _above_zero("height", height_m) * _above_zero("height", other_height_m)
    return 4 * math.pi * heights / wavelength_m(frequency_mhz)


def fresnel_radius_m(frequency_mhz: float, distance_m: float) -> float:
    """Of the first Fresnel ellipsoid in the middle of the way, √(λ·d)/2: what stands in it weakens the link."""
    return math.sqrt(wavelength_m(frequency_mhz) * _above_zero("distance", distance_m)) / 2


def _above_zero(what: str, value: float) -> float:
    if not value > 0:
        raise ValueError(f"a {what} is above zero, not {value:g}")
    return value
