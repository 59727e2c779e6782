"""The limits of volts and amperes that several rules judge by, here and in other topics."""

from preflint.api import Tolerance

VOLTAGE_SCALE = Tolerance(
    "voltage_scale_percent",
    "%",
    1.0,
    "lower",
    "common practice, no source",
    "relative error of the indicated pack voltage; 1 % of 3.5 V is 35 mV a cell",
)
VOLTAGE_ZERO = Tolerance(
    "voltage_zero_prior_v",
    "V",
    0.05,
    "higher",
    "common practice, no source",
    "standard uncertainty of the display's zero before any reading: mV at the input × divider",
)
CURRENT_SCALE = Tolerance(
    "current_scale_percent",
    "%",
    5.0,
    "lower",
    "common practice, no source",
    "relative error of the indicated current",
)
CURRENT_ZERO = Tolerance(
    "current_zero_prior_a",
    "A",
    1.0,
    "higher",
    "common practice, no source",
    "standard uncertainty of the display's zero before any reading",
)
COUNTED_SHARE = 0.8  # of the capacity, when to land; common practice, no source
