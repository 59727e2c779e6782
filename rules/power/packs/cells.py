"""The cells of one pack, as read at rest."""

from preflint.api import Context, Known, fitted, records


def cells_of(pack: fitted.Pack, on: Context) -> tuple[records.CellVoltages, ...]:
    """The records of this pack's cells up to the day judged, in order."""
    return on.so_far(
        record
        for record in on.aircraft.records.cell_voltages
        if isinstance(record.pack, Known) and isinstance(pack.label, Known) and record.pack.value == pack.label.value
    )
