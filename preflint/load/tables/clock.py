"""The clock of a table: from row to row the time must go on."""

from collections.abc import Sequence

from preflint.load.quoting import in_quotes

CLOCK = "time_s"
"""The only column that is a clock; any other may go up and down."""


def clock_fault(clock: int, before: Sequence[float], row: Sequence[float]) -> str | None:
    """What is wrong with the time of ``row``, in column ``clock``, after the row before; None if it went on.

    Nobody can tell which row of two at one time came first, nor whether a repeated row was measured twice.
    """
    earlier, now = before[clock], row[clock]
    if now > earlier:
        return None
    if now < earlier:
        return (
            f"column {in_quotes(CLOCK)}: {now:.15g} comes after {earlier:.15g}: time runs backwards; "
            "put the rows in the order of time, and each log in a table of its own"
        )
    if list(row) == list(before):
        return "this row repeats the one before it, with the same time and readings; delete one of the two"
    return (
        f"column {in_quotes(CLOCK)}: {now:.15g} stands in the row before as well, with other readings; "
        f"log the time with more digits, or leave {CLOCK} out"
    )
