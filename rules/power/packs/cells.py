"""The cells of one pack, as read at rest."""

import math
from collections.abc import Iterable
from typing import Protocol

from preflint.api import Context, Known, Moment, fitted, records
from preflint.compute.calibration import Instrument
from preflint.compute.decision import u_rectangular

from ..draw import flown
from ..meter import has_accuracy, instrument


class Reading(Protocol):
    """Every cell of a pack at rest, on a date, by one instrument."""

    @property
    def cells_v(self) -> Known[tuple[float, ...]]:
        """V, in the order of the balance plug."""

    @property
    def date(self) -> Known[Moment]:
        """When they were read."""

    @property
    def reference(self) -> records.Reference:
        """What they were read with."""


_POOR_METER = 2.0  # %: any meter or reader of balance plugs is better; common practice, no source


def cells_of(pack: fitted.Pack, on: Context) -> tuple[records.CellVoltages, ...]:
    """The records of this pack's cells up to the day judged, in order."""
    return on.so_far(
        record
        for record in on.aircraft.records.cell_voltages
        if isinstance(record.pack, Known) and isinstance(pack.label, Known) and record.pack.value == pack.label.value
    )


def last_digit(volts: Iterable[float]) -> float:
    """The last decimal place, down to thousandths, that any of these readings shows: they are no table with a text."""
    readings = list(volts)
    for digit in (1.0, 0.1, 0.01):
        if all(abs(value / digit - round(value / digit)) < 1e-6 for value in readings):
            return digit
    return 0.001


def perhaps_of(pack: fitted.Pack, on: Context) -> tuple[records.CellVoltages, ...]:
    """The records of cells that are of this pack, or do not say of which, whenever they were taken."""
    return tuple(record for record in on.aircraft.records.cell_voltages if pack in flown((pack,), record.pack))


def meter_of(record: Reading, floor: float) -> Instrument:
    """What read the cells: as good as recorded, but no better than ``floor`` in %; else a poor one."""
    digit = last_digit(record.cells_v.value)
    if has_accuracy(record.reference, "v"):
        return instrument(record.reference, "v", digit, floor)
    return Instrument(accuracy_percent=_POOR_METER, accuracy_absolute=0.0, resolution=digit)


def u_of_the_highest(meter: Instrument, cells_v: tuple[float, ...]) -> float:
    """Standard uncertainty of the highest reading, in V; that of the others is no larger."""
    return math.hypot(
        u_rectangular(meter.accuracy_percent / 100 * max(cells_v)),
        u_rectangular(meter.accuracy_absolute),
        meter.resolution / math.sqrt(12),
    )
