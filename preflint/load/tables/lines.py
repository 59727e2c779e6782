"""One line of a CSV table: its fields, and the numbers in them."""

import re

from preflint.frozen import dataclass
from preflint.load.limits import MAX_MAGNITUDE, MAX_NUMBER
from preflint.load.numbers import plain_decimal, plain_lookalike
from preflint.load.quoting import in_quotes, shorten, show

NUMBER = re.compile(r"[-+]?(?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+)(?:[eE][-+]?[0-9]+)?")
_NUMBER_AND_UNIT = re.compile(r"[-+]?[0-9]+(?:\.[0-9]*)?\s*(?!e[-+0-9]*$)[a-zµμΩ°%].*", re.IGNORECASE)
_NOTHING_READ = re.compile(r"[-+]?(?:1\.#)?(?:nan|[qs]nan|ind|inf|infinity|∞)", re.IGNORECASE)
_BAD_QUOTE = "a quote is not closed on its line, or stands inside a value; close it here, or take it out"
_QUOTED = re.compile(r' *"((?:[^"]|"")*)" *')


@dataclass(frozen=True, slots=True)
class Field:
    """The text of one field without quotes, and where it stands in its line, from 0."""

    text: str
    start: int
    end: int


class BadLine(ValueError):
    """A line that cannot be taken apart; ``start`` is where, from 0."""

    def __init__(self, message: str, start: int) -> None:
        super().__init__(message)
        self.start = start


class BadNumber(ValueError):
    """A field that holds no number; the message says what to write, ``alike`` names the mistake."""

    def __init__(self, message: str, alike: str) -> None:
        super().__init__(message)
        self.alike = alike


def split_line(line: str, delimiter: str) -> list[Field]:
    """Fields after RFC 4180, except that spaces around a field do not count and a field ends on its line.

    Raises:
        BadLine: a quote that is not closed, or stands inside an unquoted field.
    """
    fields: list[Field] = []
    at = 0
    while True:
        if quoted := _QUOTED.match(line, at):
            end = quoted.end()
            if end < len(line) and line[end] != delimiter:
                raise BadLine("text follows a closing quote; double a quote that belongs to the text", end)
            inside = quoted[0]
            start = at + len(inside) - len(inside.lstrip(" "))
            fields.append(Field(quoted[1].replace('""', '"'), start, at + len(inside.rstrip(" "))))
        else:
            end = line.find(delimiter, at)
            end = len(line) if end < 0 else end
            written = line[at:end]
            if '"' in written:
                raise BadLine(_BAD_QUOTE, at + written.index('"'))
            text = written.strip(" \t")
            start = at + len(written) - len(written.lstrip(" \t"))
            fields.append(Field(text, start, start + len(text)))
        if end >= len(line):
            return fields
        at = end + 1


def number(text: str) -> float:
    """The number a field holds.

    Raises:
        BadNumber: empty, too long, not finite, with a decimal comma or a unit, or no number at all.
    """
    if len(text) > MAX_NUMBER:
        raise BadNumber(f"a value of {len(text)} characters; no reading has more than {MAX_NUMBER}", "long")
    if NUMBER.fullmatch(text):
        value = float(text)
        if abs(value) >= MAX_MAGNITUDE:
            raise BadNumber(f"{in_quotes(text)} is larger than any reading; see what unit it is in", "large")
        return value
    if text == "":
        raise BadNumber("the cell is empty; write the reading, or delete the row", "empty")
    if _NOTHING_READ.fullmatch(text):
        raise BadNumber(f"{in_quotes(text)} is not a reading; delete the row if nothing was read", "nothing")
    if plain := plain_lookalike(text):
        look = f"{in_quotes(show(text))} holds characters that only look like a number's; write {plain}"
        raise BadNumber(look, "lookalike")
    if decimal := plain_decimal(text):
        raise BadNumber(decimal, "form")
    if _NUMBER_AND_UNIT.fullmatch(text):
        raise BadNumber(f"{in_quotes(shorten(text))} is not a number; the unit belongs into the column's name", "unit")
    raise BadNumber(f"{in_quotes(shorten(text))} is not a number; write the reading, or delete the row", "text")
