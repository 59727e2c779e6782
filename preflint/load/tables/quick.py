"""A block of rows that holds nothing unusual, all at once: the same as line by line, and many times as fast."""

from __future__ import annotations

from collections.abc import Sequence
from io import StringIO
from typing import TYPE_CHECKING

from preflint.arrays import np
from preflint.frozen import dataclass
from preflint.load.limits import MAX_MAGNITUDE, MAX_NUMBER
from preflint.load.tables.decimal_sign import Sign
from preflint.load.tables.fixed_point import fixed_point
from preflint.load.tables.header import Header
from preflint.load.tables.last_digits import WrittenDigits

if TYPE_CHECKING:
    from numpy.typing import NDArray

_PLAIN = bytes(code for code in range(0x20, 0x7F) if code != ord('"')) + b"\n"
"""All that a block of rows may hold, with the separator, to be read without looking at every line."""


@dataclass(frozen=True, slots=True, eq=False)
class Rows:
    """The picked columns, shape (rows, picked), and the length of each line, shape (rows,).

    ``places`` says where the last digit of each picked column stands, in these rows or those before; ``pointed`` is
    the first row with a point in such a column, looked for where the decimal sign could be a comma.
    """

    values: NDArray[np.float64]
    lengths: NDArray[np.int32]
    places: list[int]
    pointed: int | None


def quick_rows(data: bytes, header: Header, known: Sequence[int], sign: Sign | None) -> Rows | None:
    """The rows of ``data``; None leaves it to reading line by line. ``known`` are the ``places`` of the rows before.

    ``sign`` is the decimal sign of the rows before, None where they have none. ``loadtxt`` takes as numbers what
    ``number`` does, and besides only what is not finite.
    """
    if data.translate(None, _PLAIN + header.delimiter.encode()):
        return None
    signs = np.frombuffer(data, dtype=np.uint8)
    separators = np.flatnonzero((signs == ord(header.delimiter)) | (signs == 10))
    columns = len(header.names)
    if len(separators) % columns:
        return None
    is_end = (signs[separators] == 10).reshape(-1, columns)
    if is_end[:, :-1].any() or not is_end[:, -1].all():
        return None
    widths = (np.diff(separators, prepend=-1) - 1).reshape(-1, columns)
    if widths[:, header.picked].max() > MAX_NUMBER:
        return None
    pointed = None
    if header.delimiter != ",":
        pointed = _first_row(data, b".", separators, header)
        if _first_row(data, b",", separators, header) is not None:
            if sign != "," or pointed is not None:
                return None
            data = data.replace(b",", b".")
        elif pointed is not None and sign == ",":
            return None
    ends = separators.reshape(-1, columns)
    picked = ends.T[list(header.picked)]
    fields = list(zip(picked - widths.T[list(header.picked)], picked, strict=True))
    fixed = fixed_point(data, fields)
    if fixed is not None:
        values, decimals = fixed
        places = [min(place, -count) for place, count in zip(known, decimals, strict=True)]
    else:
        try:
            text = StringIO(data.decode("ascii"))
            values = np.loadtxt(text, delimiter=header.delimiter, comments=None, usecols=header.picked, ndmin=2)
        except ValueError:
            return None
        written = WrittenDigits(data, header.delimiter)
        places = [written.finest_place(*field, place) for field, place in zip(fields, known, strict=True)]
    # Of a single column loadtxt passes over the empty lines.
    if len(values) != len(is_end) or not (np.abs(values) < MAX_MAGNITUDE).all():
        return None
    return Rows(values, (np.diff(ends[:, -1], prepend=-1) - 1).astype(np.int32), places, pointed)


def _first_row(data: bytes, sign: bytes, separators: NDArray[np.intp], header: Header) -> int | None:
    """The first row, from 0, that has ``sign`` in a picked column."""
    if sign not in data:
        return None
    field = np.searchsorted(separators, np.flatnonzero(np.frombuffer(data, dtype=np.uint8) == sign[0]))
    rows = (field // len(header.names))[np.isin(field % len(header.names), header.picked)]
    return int(rows[0]) if len(rows) else None
