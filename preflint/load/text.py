"""Bytes to text in which every line and every character is where an editor shows it."""

import re
import unicodedata
from bisect import bisect_right
from collections.abc import Iterable
from dataclasses import replace
from itertools import accumulate

from preflint.errors import Line, NotRead, Problem
from preflint.load.limits import MAX_PROBLEMS
from preflint.load.merge import MARK, MARKS, unresolved
from preflint.places import Place

# Line ends that editors and YAML count differently: a comment that hides a key from one of the two.
_LINE_ENDS = "\r\x85\u2028\u2029"
# Turn the text that follows round on the screen (CVE-2021-42574).
_BIDI = "\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069"
_UNSEEN = (
    "\u00ad\u034f\u115f\u1160\u17b4\u17b5\u180b-\u180f\u200b-\u200d\u2060-\u2065\u206a-\u206f\u3164"
    "\ufeff\uffa0\ufff0-\ufffb\ufffe\uffff\U0001d173-\U0001d17a\U000e0000-\U000e0fff"
)
_CONTROL = "\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x84\x86-\x9f\ud800-\udfff"
FORBIDDEN = re.compile(f"\r(?!\n)|[{_LINE_ENDS[1:]}{_BIDI}{_UNSEEN}{_CONTROL}]")
_PLAIN = bytes([*b"\t\n", *range(0x20, 0x7F)])
_IS_BIDI = re.compile(f"[{_BIDI}]")

_WIDE_MARKS = (
    (b"\xff\xfe\x00\x00", "UTF-32"),
    (b"\x00\x00\xfe\xff", "UTF-32"),
    (b"\xff\xfe", "UTF-16"),
    (b"\xfe\xff", "UTF-16"),
)
_PACKED_MARKS = (b"\x1f\x8b", b"\xfd7zXZ\x00", b"\x28\xb5\x2f\xfd", b"BZh", b"7z\xbc\xaf\x27\x1c")
_OFFICE_MARKS = (b"PK\x03\x04", b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1", b"{\\rtf", b"%PDF-")
_WEB_PAGE = re.compile(rb"(?:\xef\xbb\xbf)?\s*(?:<!doctype\s+html|<html|<\?xml)", re.IGNORECASE)


class SourceText:
    """A file's text with its places; indices count code points from 0, places from 1."""

    def __init__(self, content: str, file: str) -> None:
        self.content = content
        self.file = file
        self._starts: list[int] = []

    @property
    def _line_starts(self) -> list[int]:
        """The index at which each line begins."""
        if not self._starts:
            self._starts = [0, *accumulate(len(line) + 1 for line in self.content.split("\n"))][:-1]
        return self._starts

    def place(self, start: int, end: int, pointer: str = "") -> Place:
        """The place of ``content[start:end]``; an empty stretch gets an empty place."""
        starts, last = self._line_starts, max(start, end - 1)
        line = end_line = bisect_right(starts, start)
        if line < len(starts) and last >= starts[line]:
            end_line = bisect_right(starts, last)
        column, after = start - starts[line - 1] + 1, max(start, end) - starts[end_line - 1] + 1
        return Place(self.file, line, column, end_line, after, pointer)

    def quoted(self, problems: Iterable[Problem]) -> list[Problem]:
        """The same problems; those of this file each with its line."""
        return [
            replace(problem, line=Line.about(self._line(problem.place.line), problem.place))
            if problem.line is None and problem.place and problem.place.file == self.file
            else problem
            for problem in problems
        ]

    def _line(self, number: int) -> str:
        bounds = [*self._line_starts[number - 1 : number + 1], len(self.content)]
        return self.content[bounds[0] : bounds[1]].removesuffix("\n").removesuffix("\r")

    def unresolved_merge(self) -> Problem | None:
        """That version control has left marks in the file; None where it has not."""
        if not any(mark in self.content for mark in MARKS):
            return None
        marks = [(count, line) for count, line in enumerate(self.content.split("\n"), 1) if MARK.fullmatch(line)]
        if not marks:
            return None
        number, line = marks[0]
        place = Place(self.file, number, 1, number, len(line.removesuffix("\r")) + 1)
        return Problem(unresolved([count for count, _ in marks]), place)

    def unseen_characters(self) -> tuple[list[Problem], int]:
        """What nobody can see in an editor and must not be there: the first of them, and how many in all."""
        rest = self.content.replace("\r\n", "\n").encode("utf-8", "surrogatepass").translate(None, _PLAIN)
        if not rest or not FORBIDDEN.search(rest.decode("utf-8", "surrogatepass")):
            return [], 0  # told without a look at each sign in turn
        problems: list[Problem] = []
        count = 0
        for found in FORBIDDEN.finditer(self.content):
            count += 1
            if count <= MAX_PROBLEMS:
                problems.append(Problem(describe_unseen(found[0]), self.place(found.start(), found.end())))
        return problems, count


def decode(data: bytes, file: str) -> str:
    """UTF-8 bytes to text; a byte order mark at the very start is taken off.

    Raises:
        NotRead: compressed, UTF-16, UTF-32, or a byte that is not UTF-8, which is named with its place.
    """
    if foreign := foreign_format(data):
        raise NotRead(file, [Problem(foreign, Place(file, 1, 1, 1, 1))])
    try:
        text = data.decode("utf-8")
    except UnicodeDecodeError as error:
        before = data[: error.start].decode("utf-8").removeprefix("\ufeff")
        line = before.count("\n") + 1
        column = len(before) - (before.rfind("\n") + 1) + 1
        place = Place(file, line, column, line, column + 1)
        here = before[len(before) - column + 1 :] + data[error.start :].split(b"\n", 1)[0].decode(errors="replace")
        message = describe_bad_byte(data[error.start], error.start)
        raise NotRead(file, [Problem(message, place, Line.about(here, place))]) from None
    return text.removeprefix("\ufeff")


def foreign_format(data: bytes) -> str | None:
    """What the first bytes show the file to be, where that is not UTF-8 text."""
    for mark, name in _WIDE_MARKS:
        if data.startswith(mark):
            return f"the file is saved as {name}; save it as UTF-8"
    if data.startswith(_PACKED_MARKS):
        return "the file is compressed; unpack it first"
    if data.startswith(_OFFICE_MARKS):
        return "the file is an archive, a workbook or a document; unpack it, or save it as plain text, a sheet as CSV"
    if _WEB_PAGE.match(data[:200]):
        return "the file is a web page; fetch the file itself, not the page that shows it"
    if len(data) >= 4 and b"\x00" in data[:4]:
        return "the file holds zero bytes, as UTF-16, UTF-32 and binary files do; save it as UTF-8 text"
    return None


def describe_bad_byte(byte: int, offset: int) -> str:
    return f"the byte 0x{byte:02X} at offset {offset} is not UTF-8; save the file as UTF-8"


def describe_unseen(character: str) -> str:
    name = f"U+{ord(character):04X}"
    if known := unicodedata.name(character, ""):
        name += f", {known.lower()}"
    if character in _LINE_ENDS:
        return f"a line end that editors do not show ({name}); replace it with an ordinary line end"
    if _IS_BIDI.match(character):
        return f"an unseen character that turns the text after it round ({name}); delete it"
    if unicodedata.category(character) == "Cc":
        return f"a control character ({name}), which cannot be seen; delete it"
    return f"an unseen character ({name}); delete it"
