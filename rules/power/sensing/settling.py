"""What to do about a comparison: the reading that would settle it, and what to look at before a setting is changed."""

import math

from preflint.compute.decision import t_factor

from ..fit import MOST_BY_HAND, Comparison, Judged
from ..meter import Unit

_FEW_ROWS = 5  # below which rows hardly tell how much they scatter; t at 95 % is 3.2 for three to spare
_HARDLY_A_SCALE = 0.5  # an error beyond it more often comes of units, columns or terminals; common practice, no source


def units_first(one: Judged, unit: Unit) -> str:
    """What to look at first where the error is larger than a wrong scale makes; else nothing."""
    if abs(one.error) <= _HARDLY_A_SCALE:
        return ""
    named = "volts" if unit == "v" else "amperes"
    where = "across the same pack" if unit == "v" else "around one lead of the pack"
    return f"look first whether both columns are in {named} and the meter was {where}; if so, "


def settling(one: Judged, tolerance: float, fits: Comparison, unit: Unit, best_percent: float) -> str:
    """The reading that would settle what is too uncertain to tell.

    ``tolerance`` is relative, ``best_percent`` the best accuracy that a meter can have.
    """
    margin = abs(abs(one.error) - tolerance)  # what U must stay below
    known = t_factor(math.inf)
    rows, meter, zero = one.factor * one.of_rows, known * one.of_meter, known * one.of_zero
    if math.hypot(meter, zero) < margin:
        how = _more_rows(one, math.sqrt(margin**2 - meter**2 - zero**2), fits, unit)
        if how:
            return how
    elif math.hypot(rows, meter) < margin:
        return f"compare again with a reading near {one.at:.3g} {unit.upper()} among them"
    # Half a last digit that the zero of a meter for amperes may be out by, as long as it is noted.
    of_digit = fits.step_reference / 2 / math.sqrt(3) / one.at if unit == "a" else 0.0
    if of_digit and math.hypot(rows, known * math.sqrt(max(0.0, one.of_meter**2 - of_digit**2)), zero) < margin:
        return f"compare again with a meter that shows {fits.step_reference / 10:.1g} A, and note its zero (zero_a)"
    good_to = 100 * math.sqrt(3 * max(0.0, margin**2 - rows**2 - zero**2)) / known
    if good_to >= best_percent:
        digit = 10 ** (math.floor(math.log10(good_to)) - 1)
        return f"compare again with a meter good to {math.floor(good_to / digit) * digit:.2g} % of the reading"
    return "the error lies close to the limit: enter the corrected setting and compare again"


def _more_rows(one: Judged, margin: float, fits: Comparison, unit: Unit) -> str | None:
    """How many rows would bring their part of U below ``margin``, or what would make do with fewer."""
    before = len(fits.reference)
    digits_explain = math.isinf(fits.judging.dof_rows)
    enough: int | None = _FEW_ROWS
    if digits_explain or before >= _FEW_ROWS:
        enough = next(
            (
                rows
                for rows in range(before + 1, MOST_BY_HAND + 1)
                if t_factor(math.inf if digits_explain else rows - 2) * one.of_rows * math.sqrt(before / rows) < margin
            ),
            None,
        )
    apart = "pack voltages" if unit == "v" else "currents"
    how = f"compare again with {enough} readings or more at different {apart}" if enough else None
    if not digits_explain:
        return how
    coarser, step = max(("display", fits.step_indicated), ("meter", fits.step_reference), key=lambda of: (of[1], of[0]))
    finer = f"with more digits: the last one of the {coarser} counts as {step:.3g} {unit.upper()}"
    return f"{how}, or {finer}" if how else f"compare again {finer}"
