"""A field to make readings in, ways to point in it, and noise; oracles, so nothing of the product is used."""

import math

import numpy as np
import numpy.typing as npt
from scipy.signal import lfilter  # type: ignore[import-untyped]

Array = npt.NDArray[np.float64]

# WMM2025 test values for the report (NOAA NCEI, British Geological Survey), 2027.5, height 0, 0° N 120° E:
# X 39701.6, Y -167.4, Z -10381.8 nT.
NORTH_UT, DOWN_UT = math.hypot(39.7016, 0.1674), -10.3818


def directions(count: int) -> Array:
    """Unit vectors spread evenly over the sphere (Fibonacci lattice), (count, 3)."""
    i = np.arange(count) + 0.5
    polar, around = np.arccos(1 - 2 * i / count), np.pi * (1 + 5**0.5) * i
    return np.column_stack([np.cos(around) * np.sin(polar), np.sin(around) * np.sin(polar), np.cos(polar)])


def remembering(rng: np.random.Generator, n: int, memory: float, sd: float = 1.0) -> Array:
    """Noise of which each row remembers some of the one before (autoregressive, order 1), (n, 3)."""
    fresh = rng.normal(0, sd * math.sqrt(1 - memory**2), (n, 3))
    fresh[0] = rng.normal(0, sd, 3)
    return np.asarray(lfilter([1.0], [1.0, -memory], fresh, axis=0))
