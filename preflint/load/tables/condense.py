"""Any number of rows in bounded memory, by averaging neighbours when there are too many."""

from __future__ import annotations

from typing import TYPE_CHECKING

from preflint.arrays import np
from preflint.load.limits import MAX_CELLS, MAX_ROWS

if TYPE_CHECKING:
    from numpy.typing import NDArray


class Condenser:
    """Takes rows in any portions; keeps at most ``capacity`` rows, each the mean of ``step`` neighbours.

    ``step`` starts at 1 and doubles whenever the room is used up, so no row is dropped and none counts
    more than another; the last row kept may be the mean of fewer. With each goes the length of its last
    line of text.
    """

    def __init__(self, columns: int) -> None:
        self.capacity = min(MAX_ROWS, MAX_CELLS // columns) // 2 * 2
        self.step = 1
        self.rows_read = 0
        self._kept = 0
        self._values = np.empty((self.capacity, columns))
        self._lengths = np.empty(self.capacity, dtype=np.int32)
        self._rest = np.empty((0, columns))
        self._rest_lengths = np.empty(0, dtype=np.int32)

    def add(self, rows: NDArray[np.float64], lengths: NDArray[np.int32]) -> None:
        """Rows, shape (n, columns), and the length of each one's line, shape (n,)."""
        self.rows_read += len(rows)
        rows = np.concatenate([self._rest, rows])
        lengths = np.concatenate([self._rest_lengths, lengths])
        while len(rows) >= self.step:
            room = self.capacity - self._kept
            if room == 0:
                self._halve()
                continue
            groups = min(len(rows) // self.step, room)
            used = groups * self.step
            self._keep(
                rows[:used].reshape(groups, self.step, -1).mean(axis=1),
                lengths[self.step - 1 : used : self.step],
            )
            rows, lengths = rows[used:], lengths[used:]
        self._rest, self._rest_lengths = rows, lengths

    def finish(self) -> tuple[NDArray[np.float64], NDArray[np.int32]]:
        """The rows kept, shape (n, columns), and line lengths, shape (n,)."""
        if len(self._rest):
            if self._kept == self.capacity:
                self._halve()
            self._keep(self._rest.mean(axis=0, keepdims=True), self._rest_lengths[-1:])
            self._rest = self._rest[:0]
        return self._values[: self._kept].copy(), self._lengths[: self._kept].copy()

    def _keep(self, rows: NDArray[np.float64], lengths: NDArray[np.int32]) -> None:
        self._values[self._kept : self._kept + len(rows)] = rows
        self._lengths[self._kept : self._kept + len(rows)] = lengths
        self._kept += len(rows)

    def _halve(self) -> None:
        half = self._kept // 2
        self._values[:half] = (self._values[0 : self._kept : 2] + self._values[1 : self._kept : 2]) / 2
        self._lengths[:half] = self._lengths[1 : self._kept : 2]
        self._kept = half
        self.step *= 2
