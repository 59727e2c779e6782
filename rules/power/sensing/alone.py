"""One reading may agree with the meter by chance: what vouches for a scale is two that agree."""

from __future__ import annotations

from preflint.api import PACK_IN_PROPS_OFF, Open, Tolerance, Unproven, need, records
from preflint.arrays import np

from ...shared.loaded_run import again, loaded
from ..fit import Comparison
from .implausible import NO_CURRENT_A

VOLTAGES_APART = Tolerance(
    "voltages_apart_percent",
    "%",
    2.0,
    "higher",
    "common practice, no source",
    "how far apart, of the higher one, two readings of the pack must be for a voltage scale to be vouched for",
)
_OF_TOP = 0.1  # what the electronics of a small aircraft draw of its highest reading; common practice, no source


def must_be_two_voltages(record: records.VoltageComparison, fits: Comparison, apart_percent: float) -> None:
    """Ends the rule as unproven where the readings do not lie apart (GUM 4.2: one reading tells no scatter)."""
    lowest, highest = float(np.min(fits.reference)), float(np.max(fits.reference))
    apart = apart_percent / 100 * highest
    if highest - lowest >= apart:
        return
    message = f"display and meter agree at {highest:.2f} V only: one voltage may agree by chance"
    how = f"record a second reading {apart:.2f} V or more away, pack plugged in and motors still"
    raise Open(
        Unproven(
            cause="uncertain",
            place=record.place,
            message=message,
            do=how,
            mind=PACK_IN_PROPS_OFF,
            record="voltage_comparison",
        )
    )


def must_be_two_loads(record: records.CurrentComparison, fits: Comparison) -> None:
    """Ends the rule as unproven where fewer than two readings, not alike, are under load (GUM 4.2)."""
    table = need(record.table).value
    shown, read = table.column("indicated_a"), table.column("reference_a")
    driven = read > min(NO_CURRENT_A, _OF_TOP * float(np.max(fits.reference)))
    if "throttle_percent" in table.columns:
        driven &= table.column("throttle_percent") > 0
    if len({*zip(shown[driven], read[driven], strict=True)}) >= 2:
        return
    message = f"display and meter agree at {float(np.max(read)):.1f} A only: one reading may agree by chance"
    how = loaded("record a second reading under load, at another throttle", record)
    raise Open(
        Unproven(
            cause="uncertain",
            place=record.place,
            message=message,
            do=how,
            mind=again(record),
            record="current_comparison",
        )
    )
