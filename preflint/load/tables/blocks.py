"""A CSV file in blocks of whole lines, so that its length does not matter."""

from __future__ import annotations

from collections.abc import Iterator
from io import BufferedReader

from preflint.errors import NotRead, Problem
from preflint.frozen import dataclass
from preflint.load.limits import MAX_LINE_BYTES, MAX_TABLE_BYTES
from preflint.load.opening import describe_failure

_BLOCK = 1024 * 1024


@dataclass(frozen=True, slots=True)
class Block:
    """Whole lines, each ending in a line feed; ``line`` is the number of the first, ``offset`` its byte.

    ``too_long`` says that a line beyond the limit follows, at which reading stopped.
    """

    data: bytes
    line: int
    offset: int
    too_long: bool = False

    @property
    def end(self) -> int:
        return self.offset + len(self.data)


def blocks(file: BufferedReader, shown: str) -> Iterator[Block]:
    """The file from its start, cut at line ends; a last line without one gets it.

    Raises:
        NotRead: reading failed, or the file grew beyond the limit while it was read.
    """
    rest, line, offset = b"", 1, 0
    while chunk := _chunk(file, shown):
        data = rest + chunk
        cut = data.rfind(b"\n") + 1
        long = _long_line(data)
        if long is not None:
            yield Block(data[:long], line, offset, too_long=True)
            return
        if cut:
            yield Block(data[:cut], line, offset)
            line += data.count(b"\n", 0, cut)
            offset += cut
        rest = data[cut:]
        if offset + len(rest) > MAX_TABLE_BYTES:
            raise NotRead(shown, [Problem(f"the file grew beyond {MAX_TABLE_BYTES} bytes")])
    if rest:
        yield Block(rest + b"\n", line, offset)


def _chunk(file: BufferedReader, shown: str) -> bytes:
    try:
        return file.read(_BLOCK)
    except OSError as error:
        raise NotRead(shown, [Problem(describe_failure(error))]) from None


def _long_line(data: bytes) -> int | None:
    """Where the first line beyond the limit begins, or None."""
    start = 0
    while len(data) - start > MAX_LINE_BYTES:
        end = data.rfind(b"\n", start, start + MAX_LINE_BYTES + 1)
        if end < 0:
            return start
        start = end + 1
    return None
