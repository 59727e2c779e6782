"""The limits of heading error under load that several rules judge by, here and in other topics."""

from preflint.api import Tolerance

HEADING_LIMIT = Tolerance(
    "heading_error_limit_deg",
    "deg",
    10.0,
    "lower",
    "14 CFR 27.1327(a)(2), former 23.1327(a)(2)",
    "deviation of the compass under load beyond which nobody flies who relies on it",
)
HEADING_AIM = Tolerance(
    "heading_error_aim_deg",
    "deg",
    5.0,
    "lower",
    "common practice, no source",
    "deviation of the compass under load that is aimed at",
)
TILTS_DEG = 0.0, 25.0  # level, and leaning into wind or hurrying along; common practice, no source
