"""The cells of one pack, as read at rest."""

from collections.abc import Iterable

from preflint.api import Context, Known, fitted, records


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
