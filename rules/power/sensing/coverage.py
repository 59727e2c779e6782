"""Do the readings of a current comparison reach from no current to that of flight?"""

from __future__ import annotations

from preflint.api import (
    Context,
    Known,
    Open,
    Unproven,
    need,
    records,
    together,
)
from preflint.arrays import np

from ...shared.loaded_run import again, compare_again
from ..draw import hover_current_a
from ..fit import Comparison
from .implausible import NO_CURRENT_A

HALF_THROTTLE_PERCENT = 50.0


def hover_if_known(on: Context) -> tuple[float, str] | Open:
    """The hover current and where it is from, or why it is not known."""
    try:
        return hover_current_a(on)
    except Open as end:
        return end


def must_reach_flight(
    record: records.CurrentComparison, fits: Comparison, hover: tuple[float, str] | Open, share: float
) -> None:
    """Ends the rule as unproven where the readings do not reach from no current to that of flight.

    ``share`` of the hover current is enough; so is half throttle, where a route says that there was a load.
    """
    table, how, minded = need(record.table).value, compare_again(record), again(record)
    lowest, top = float(np.min(fits.reference)), float(np.max(fits.reference))
    throttle = table.column("throttle_percent") if "throttle_percent" in table.columns else None
    still = throttle is not None and bool(np.any(throttle == 0))
    if lowest > NO_CURRENT_A and not still:
        message = f"the lowest reading is {lowest:.1f} A: the zero takes one with the motors still"
        raise Open(
            Unproven(
                place=record.place,
                message=message,
                do=f"add a reading with the motors still; {how}",
                mind=minded,
                record="current_comparison",
            )
        )
    half = throttle is not None and float(np.max(throttle)) >= HALF_THROTTLE_PERCENT
    if half and isinstance(record.route, Known):
        return
    if isinstance(hover, Open):
        if half:
            need(record.route)
        message = (
            f"the highest reading is {top:.1f} A; whether that is flight's current is not known: "
            f"{hover.unproven.message}"
        )
        how = f"note throttle_percent with the readings, or: {hover.unproven.do}"
        raise Open(
            Unproven(place=record.place, message=message, do=how, mind=together(minded, hover.unproven.mind or minded))
        )
    if top < share * hover[0]:
        message = f"the highest reading is {top:.1f} A, but hover draws {hover[0]:.1f} A ({hover[1]})"
        raise Open(Unproven(place=record.place, message=message, do=how, mind=minded, record="current_comparison"))
