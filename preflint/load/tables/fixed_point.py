"""Columns of decimals with as many digits after the point in each row, read eight signs of a number at a time.

Half of what ``loadtxt`` takes for such columns, as loggers mostly write them.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from preflint.arrays import np

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Words = NDArray[np.integer[Any]]  # unsigned, of 64 bits
    Field = tuple[NDArray[np.intp], NDArray[np.intp]]

_EIGHT = 8  # signs in a word, the first of them in its lowest byte
_BITS = 8  # of a sign
_MOST_DIGITS = 15  # whose whole number a float holds
_POINT = ord(".") ^ ord("0")
_NOUGHTS = 0x3030303030303030
_ABOVE_NINE = 0x7676767676767676  # carries every sign above 9 into the highest bit of its byte
_HIGHEST = 0x8080808080808080


def fixed_point(data: bytes, fields: Sequence[Field]) -> tuple[NDArray[np.float64], list[int]] | None:
    """The numbers written, shape (rows, columns), and each column's count of digits after the point.

    Each is the float nearest to what is written. ``data`` is ASCII; each column is given by where its fields start
    and end in it, shape (rows,). None where a field is not just a sign, up to 15 digits and the point, at the place
    where it is in the first row.
    """
    signs = np.frombuffer(data, dtype=np.uint8)
    padded = b"0" * 2 * _EIGHT + data
    words = np.ndarray((len(padded) - _EIGHT + 1,), "<u8", padded, 0, (1,))
    values, decimals = np.empty((len(fields[0][0]), len(fields))), []
    for column, (start, end) in enumerate(fields):
        sign = signs[start]
        negative = sign == ord("-")
        first = start + (negative | (sign == ord("+")))
        behind = data[first[0] : end[0]].partition(b".")[1:]
        whole = _whole(words, end, end - first, len(b"".join(behind)))
        if whole is None:
            return None
        # Both are whole numbers that a float holds: one division gives the float nearest to theirs (IEEE 754).
        read = whole / 10.0 ** len(behind[1])
        values[:, column] = np.where(negative, -read, read) if negative.any() else read
        decimals.append(len(behind[1]))
    return values, decimals


def _whole(words: Words, end: NDArray[np.intp], widths: NDArray[np.intp], behind: int) -> Words | None:
    """The digits as a whole number, shape (rows,), of fields with so many signs from the point on; 0 for no point."""
    pointed, width = behind > 0, int(widths.max())
    if behind > _EIGHT or widths.min() <= pointed or width > _MOST_DIGITS + pointed:
        return None
    low = _word(words, end, widths)
    if pointed:
        at = _BITS * (_EIGHT - behind)
        if (low >> at & 0xFF != _POINT).any():
            return None
        low = (low >> at >> _BITS << at << _BITS) | ((low & ((1 << at) - 1)) << _BITS)
    whole = _of_digits(low)
    if whole is not None and width > _EIGHT:
        high = _of_digits(_word(words, end - _EIGHT, np.maximum(widths - _EIGHT, 0)))
        return None if high is None else whole + high * 10 ** (_EIGHT - pointed)
    return whole


def _word(words: Words, end: NDArray[np.intp], widths: NDArray[np.intp]) -> Words:
    """The last eight signs before ``end``, a digit as its number; 0 in place of those before the field."""
    before = (_BITS * np.maximum(_EIGHT - widths, 0)).astype(np.uint64)
    word: Words = (words[end + _EIGHT] ^ _NOUGHTS) >> before << before
    return word


def _of_digits(word: Words) -> Words | None:
    """The numbers of eight digits, shape (rows,); None where one is no digit."""
    if ((word + _ABOVE_NINE) & _HIGHEST).any():
        return None
    # Of two numbers side by side one, four times as many digits as before: 10 times the first and the second.
    for base, bits, kept in ((10, 8, 0x00FF00FF00FF00FF), (100, 16, 0x0000FFFF0000FFFF), (10_000, 32, 0xFFFFFFFF)):
        word = (word * base + (word >> bits)) & kept
    return word
