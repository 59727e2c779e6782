"""Comparisons whose readings cannot be what they are said to be."""

from __future__ import annotations

from typing import TYPE_CHECKING

from preflint.api import PACK_IN_PROPS_OFF, Aircraft, Context, Known, Open, Related, Unproven, need, records
from preflint.arrays import np
from preflint.compute.least_squares import Array

from ...shared.loaded_run import again
from ..draw import OVER_FULL, full_current_a
from ..range import ROUNDING, greatest_readable_a

if TYPE_CHECKING:
    from numpy.typing import NDArray

_AT_THE_END = 0.99  # of the range, for last digits and rounded settings; common practice, no source
NO_CURRENT_A = 0.5  # with the motors still only the electronics draw


def beyond_input(aircraft: Aircraft, record: records.VoltageComparison) -> Unproven | None:
    """Why readings cannot be this input's: volts above full scale × divider_ratio; None where they can."""
    installed, ratio = aircraft.power_sensing, record.in_force.divider_ratio
    if not isinstance(installed, Known) or not isinstance(ratio, Known) or not isinstance(record.table, Known):
        return None
    full_scale, table = installed.value.input_full_scale_mv, record.table.value
    if not isinstance(full_scale, Known):
        return None
    shown, most = table.column("indicated_v"), full_scale.value / 1000 * ratio.value
    row = int(np.argmax(shown))
    if shown[row] <= most * ROUNDING:
        return None
    message = (
        f"the display showed {shown[row]:.2f} V on {record.date.value}; at divider_ratio {ratio.value:g} it shows "
        f"{most:.2f} V at most"
    )
    how = (
        "look whether the readings are of this aircraft; compare divider_ratio and input_full_scale_mv with what "
        "was set; then take the readings again"
    )
    evidence = f"input_full_scale_mv {full_scale.value:g} × divider_ratio {ratio.value:g} = {most:.2f} V"
    related = (Related(ratio.place, f"divider_ratio {ratio.value:g}"), Related(full_scale.place, "the input's range"))
    return Unproven(
        cause="uncertain",
        place=table.row_place(row),
        message=message,
        do=how,
        evidence=evidence,
        related=related,
        mind=PACK_IN_PROPS_OFF,
        record="voltage_comparison",
    )


def end_of_range(on: Context, record: records.CurrentComparison, limit: float) -> None:
    """Ends the rule as unproven where the display stood at its end while the meter read on.

    ``limit``: by how much, as a share, the meter may read more.
    """
    readable, table = greatest_readable_a(on.aircraft, record.in_force), need(record.table).value
    if readable is None:
        return
    shown, read = table.column("indicated_a"), table.column("reference_a")
    at_end = (shown >= _AT_THE_END * readable[0]) & (read > shown * (1 + limit))
    if np.any(at_end):
        row = int(np.argmax(at_end))
        message = (
            f"the display stood at {shown[row]:.1f} A of its range of {readable[0]:.1f} A; the meter read "
            f"{read[row]:.1f} A"
        )
        how = f"leave such readings out, or compare again below {_AT_THE_END * readable[0]:.0f} A"
        related = (Related(readable[1], "the sensor's scale"),)
        raise Open(
            Unproven(
                cause="uncertain",
                place=table.row_place(row),
                message=message,
                do=how,
                evidence="at the end of its range the display tells nothing of its scale",
                related=related,
                mind=again(record),
                record="current_comparison",
            )
        )


def beyond_motors(on: Context, record: records.CurrentComparison) -> None:
    """Ends the rule as unproven where the meter read more than all motors at full throttle draw."""
    try:
        full = full_current_a(on.aircraft)
    except Open:
        return
    table = need(record.table).value
    read = table.column("reference_a")
    row = int(np.argmax(read))
    if read[row] > OVER_FULL * full:
        message = (
            f"the meter read {read[row]:.1f} A on {record.date.value}, but all motors at full throttle draw "
            f"{full:.0f} A"
        )
        how = "look whether the readings are of this aircraft, and full_throttle_draw_a of its motors; compare again"
        raise Open(
            Unproven(
                cause="uncertain",
                place=table.row_place(row),
                message=message,
                do=how,
                mind=again(record),
                record="current_comparison",
            )
        )


def columns_exchanged(record: records.CurrentComparison, limit: float) -> None:
    """Ends the rule as unproven where throttle_percent cannot be the throttle.

    ``limit``: how near, as a share, a column must come to the meter to be taken for its numbers.
    """
    table = need(record.table).value
    throttle, shown, read = (table.column(name) for name in ("throttle_percent", "indicated_a", "reference_a"))
    least, most = int(np.argmin(read)), int(np.argmax(read))
    loaded = read > NO_CURRENT_A
    message = None
    if read[most] > read[least] and throttle[most] <= throttle[least]:
        message = (
            f"the meter read {read[most]:.1f} A at {throttle[most]:g} % throttle, "
            f"but {read[least]:.1f} A at {throttle[least]:g} %"
        )
    elif (
        np.sum(loaded) > 1
        and np.all(_near(throttle[loaded], read[loaded], limit))
        and not np.any(_near(shown[loaded], read[loaded], limit))
    ):
        message = "throttle_percent has the meter's numbers, and indicated_a has not"
    if message:
        raise Open(
            Unproven(
                place=record.place,
                message=message,
                do="look whether columns are exchanged, and compare again",
                mind=again(record),
                record="current_comparison",
            )
        )


def _near(column: Array, read: Array, limit: float) -> NDArray[np.bool_]:
    """In which rows under load a column shows what the meter read, within the limit."""
    return np.abs(column / read - 1) <= limit
