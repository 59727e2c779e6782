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
    "standard uncertainty of the display's zero before any reading: mV at the input × divider; of packs of less than "
    "four cells so much less",
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
VOLTMETER_FLOOR = Tolerance(
    "voltmeter_accuracy_floor_percent",
    "%",
    0.1,
    "higher",
    "common practice, no source",
    "the best accuracy that a meter held in the hand is taken to have for volts, whatever is claimed",
)
AMMETER_FLOOR = Tolerance(
    "ammeter_accuracy_floor_percent",
    "%",
    0.5,
    "higher",
    "common practice, no source",
    "the best accuracy that a clamp, an inline meter or a charger is taken to have for amperes, whatever is claimed",
)
AMMETER_ZERO = Tolerance(
    "ammeter_zero_a",
    "A",
    0.2,
    "higher",
    "common practice, no source",
    "how far the zero of a meter for amperes may be out, where zero_a is not recorded: a half-width",
)
AMMETER_ZERO_MOST = Tolerance(
    "ammeter_zero_most_a",
    "A",
    2.0,
    "lower",
    "common practice, no source",
    "the largest zero_a that is believed: what a magnetised core and the Earth's field make a clamp show",
)
VOLTS_COMPARED = (VOLTAGE_ZERO, VOLTMETER_FLOOR)  # what the fit of such a comparison reads
AMPERES_COMPARED = (CURRENT_ZERO, AMMETER_FLOOR, AMMETER_ZERO, AMMETER_ZERO_MOST)
MASS_FACTOR = Tolerance(
    "mass_factor",
    "1",
    2.5,
    "lower",
    "common practice, no source",
    "how many times one recorded mass of the aircraft may be another",
)
HOVER_MASS = Tolerance(
    "hover_mass_percent",
    "%",
    5.0,
    "lower",
    "common practice, no source",
    "how far the mass of the hover may be from the take-off mass",
)
COUNTED_SHARE = 0.8  # of the capacity, when to land; common practice, no source
