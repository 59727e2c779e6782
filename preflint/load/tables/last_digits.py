"""Where the last digit of a number stands, as the power of ten it counts: -2 in 24.10, 0 in 24, -6 in 1.5e-05."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from preflint.arrays import np

if TYPE_CHECKING:
    from numpy.typing import NDArray


COARSEST = 12
"""Of a number within ``MAX_MAGNITUDE`` no digit counts as much; only a nought can be written so, as in 0e99."""

_FINEST = -300  # far below what any sensor shows, and a float can still hold it
_EXPONENT = 999  # where an exponent is cut short; whatever digits stand before it, that lies beyond both ends

_SMALL = 0x20  # turns a capital letter of ASCII into a small one, and leaves a point what it is


def last_place(number: str) -> int:
    """Of one number in fixed or scientific notation; from -300 to ``COARSEST``, beyond which it is cut off."""
    mantissa, _, exponent = number.lower().partition("e")
    place = int(exponent or 0) - len(mantissa.partition(".")[2])
    return max(_FINEST, min(place, COARSEST))


def last_digits(places: Iterable[int]) -> tuple[float, ...]:
    """What one step of the digit in each of these places counts, as the float nearest to it."""
    return tuple(float(f"1e{place}") for place in places)


class WrittenDigits:
    """The numbers in a block of text, as they are written there.

    Every row is looked at, not a sample: a logger that leaves trailing zeros out shows its last digit in some rows
    only. It is quick because it asks of a whole column whether a point stands so many places from the end.
    """

    def __init__(self, data: bytes, delimiter: str) -> None:
        self._signs = np.frombuffer(data, dtype=np.uint8)
        # Hardly any block has either, which a look for one byte tells soonest.
        self._blanks = b" " in data and self._follow(b" ", b" ", f"{delimiter}\n".encode())
        self._exponents = (b"e" in data or b"E" in data) and self._follow(b".", b"9", b"eE")

    def _follow(self, least: bytes, most: bytes, signs: bytes) -> bool:
        """Whether one of ``signs`` follows a byte from ``least`` to ``most`` anywhere."""
        before, sign = self._signs[:-1], self._signs[1:]
        found = (before >= least[0]) & (before <= most[0]) & ((sign == signs[0]) | (sign == signs[1]))
        return bool(found.any())

    def finest_place(self, start: NDArray[np.intp], end: NDArray[np.intp], known: int) -> int:
        """The finest ``last_place`` of the numbers in a column, or ``known`` if none is finer.

        ``start`` and ``end`` of its fields have shape (rows,); spaces may stand around a number.
        """
        if self._blanks:
            while (blank := self._signs[end - 1] == ord(" ")).any():
                end = end - blank
        column = _Column(self._signs, start, end)
        return column.finest_with_exponents(known) if self._exponents else column.finest(known)


class _Column:
    """Fields that end in their last digit, from ``start`` to ``end``, shape (rows,)."""

    def __init__(self, signs: NDArray[np.uint8], start: NDArray[np.intp], end: NDArray[np.intp]) -> None:
        self._signs = signs
        self._start, self._end = np.ascontiguousarray(start), np.ascontiguousarray(end)
        self._width = int((end - start).max())

    def finest(self, known: int) -> int:
        """Of numbers without exponents: the point farthest from the end, which is ``known`` if it is there in all."""
        if 0 < -known < self._width and self._holds(".", self._end - 1 + known).all():
            return known
        for decimals in range(self._width - 1, max(0, -known), -1):
            if self._holds(".", self._end - 1 - decimals).any():
                return max(_FINEST, -decimals)
        return min(known, 0)

    def finest_with_exponents(self, known: int) -> int:
        ends = self._end
        for back in range(1, self._width):
            letter = self._holds("e", self._end - back)
            ends = np.where(letter, self._end - back, ends) if letter.any() else ends
            if (ends < self._end).all():
                break
        decimals = np.zeros_like(ends)
        for count in range(1, self._width):
            point = self._holds(".", ends - 1 - count)
            decimals = np.where(point, count, decimals) if point.any() else decimals
            if decimals.all():
                break
        places = -decimals
        written = np.flatnonzero(ends < self._end)
        places[written] += self._integers(ends[written] + 1, self._end[written])
        return max(_FINEST, min(known, int(places.min())))

    def _holds(self, sign: str, at: NDArray[np.intp]) -> NDArray[np.bool_]:
        """Whether ``sign``, a point or an e of either case, stands there in each field; false before its start."""
        return np.asarray(((self._signs[at] | _SMALL) == ord(sign)) & (at >= self._start))

    def _integers(self, start: NDArray[np.intp], end: NDArray[np.intp]) -> NDArray[np.intp]:
        """The signed integers written from ``start`` to ``end``, cut off at ``_EXPONENT``."""
        value = np.zeros_like(start)
        for step in range(int((end - start).max(initial=0))):
            digit = self._signs[np.minimum(start + step, end - 1)] - np.uint8(ord("0"))  # a sign wraps to above 9
            more = (digit <= 9) & (start + step < end)
            value = np.where(more, np.minimum(10 * value + digit, _EXPONENT), value)
        return np.where(self._signs[start] == ord("-"), -value, value)
