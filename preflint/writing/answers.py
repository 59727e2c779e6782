"""Reads what somebody typed: a value, one at each position, or the rows of a table; refuses nonsense with a reason."""

import re
from collections.abc import Mapping, Sequence
from decimal import Decimal
from typing import Any

from preflint.aircraft.moment import Moment
from preflint.check.amounts import number_alone
from preflint.check.near import nearest
from preflint.load.numbers import plain_decimal, plain_lookalike
from preflint.load.quoting import in_quotes, shorten
from preflint.load.text import FORBIDDEN, describe_unseen
from preflint.load.yaml.scalars import Ambiguous, plain_value
from preflint.writing.shape import Shape

Limits = Mapping[str, object]

_NUMBER = re.compile(r"-?(?:0|[1-9][0-9]*)(?:\.[0-9]+)?")
_WITH_UNIT = re.compile(r"([-+]?[0-9]+(?:[.,][0-9]+)?)\s*([^\W\d_][^\d]*|[%°].*)")
_YES_OR_NO = {"yes": True, "y": True, "true": True, "no": False, "n": False, "false": False}
_NONE = ("none", "[]")
EVERYWHERE = "all"
_LONGEST = 200  # characters of a text of which no more is said
_DATE = re.compile(r"\d{4}-\d\d-\d\d(?: \d\d:\d\d)?")


class NoSense(ValueError):
    """An answer that cannot be taken; the message says why and what to write."""


def read_value(
    text: str, name: str, shape: Shape, limits: Limits, count: tuple[int, int | None] | None, places: Sequence[str]
) -> Any:
    """One value, or a list of them separated by spaces or commas; ``none`` is an empty list of words."""
    if not shape.deep:
        return _single(text, shape, limits, places, name)
    words = _words(text)
    if shape.form in ("word", "position"):
        found = [] if text in _NONE else [_single(word, shape, limits, places) for word in words]
        if len(set(found)) < len(found):
            raise NoSense("one of them is written twice")
        return found
    numbers = [_single(word, shape, limits, places, name) for word in words]
    least, most = count or (1, None)
    least, most = (least**shape.deep, most and most**shape.deep)
    if len(numbers) < least or (most is not None and len(numbers) > most):
        wanted = f"{least}" if least == most else f"{least} to {most}"
        raise NoSense(f"{name} has {wanted} numbers; here are {len(numbers)}")
    return numbers if shape.deep == 1 else [numbers[at : at + 3] for at in range(0, 9, 3)]


def read_positions(
    text: str, name: str, positions: Sequence[str], shape: Shape, limits: Limits, places: Sequence[str]
) -> Mapping[str, Any]:
    """A value for each position, in their order; ``-`` leaves one out, ``all WORD`` is one word for every position.

    A number is read off at each position by itself, so there is no such short form of numbers.
    """
    words = _words(text)
    if words[0] == EVERYWHERE and len(words) == 2 and shape.form in ("word", "yes-no"):
        words = words[1:] * len(positions)
    if len(words) != len(positions):
        raise NoSense(f"{len(positions)} values are needed, for {' '.join(positions)}; here are {len(words)}")
    told: dict[str, Any] = {}
    for at, word in zip(positions, words, strict=True):
        if word == "-":
            continue
        try:
            told[at] = _single(word, shape, limits, places, name)
        except NoSense as why:
            raise NoSense(f"{at}: {why}") from None
    if not told:
        raise NoSense("no position has a value")
    return told


def read_table(text: str, columns: Sequence[str]) -> Mapping[str, Any]:
    """Rows one a line, numbers separated by spaces; as many as columns are needed, or as there are in all.

    Or the name of a CSV file that holds them, as a manifest names it.
    """
    if text.endswith(".csv"):
        return {"file": text}
    every = [name.removesuffix("?").split("|")[0] for name in columns]
    needed = [name.split("|")[0] for name in columns if not name.endswith("?")]
    rows = [_row(line, needed, every) for line in text.splitlines() if line.strip()]
    widths = {len(row) for row in rows}
    if len(widths) > 1:
        raise NoSense("some rows have more numbers than others; write the same columns in each")
    return {"columns": needed if widths == {len(needed)} else every, "rows": rows}


def _row(line: str, needed: Sequence[str], every: Sequence[str]) -> list[Decimal]:
    words = [word for word in re.split(r"[\s;]+|,\s+", line.strip()) if word]
    numbers = [_number(word) for word in words]
    if len(numbers) not in (len(needed), len(every)):
        wanted = " ".join(needed) + (f" (or {' '.join(every)})" if len(every) > len(needed) else "")
        raise NoSense(f"a row has {wanted}; here {'is one number' if len(numbers) == 1 else f'are {len(numbers)}'}")
    return numbers


def _words(text: str) -> list[str]:
    return [word for word in re.split(r"\s*,\s+|\s+|,(?=[^\d])|(?<=[^\d]),", text.strip(" ,")) if word]


def _single(text: str, shape: Shape, limits: Limits, places: Sequence[str], name: str = "") -> Any:
    if unseen := FORBIDDEN.search(text):
        raise NoSense(describe_unseen(unseen[0]))
    match shape.form:
        case "number":
            return _bounded(text, _number(text, name), limits)
        case "yes-no":
            if text.lower() not in _YES_OR_NO:
                raise NoSense(f"{in_quotes(shorten(text))} is neither yes nor no")
            return _YES_OR_NO[text.lower()]
        case "word":
            return _one_of(text, shape.words)
        case "position":
            return _one_of(text, places)
        case "moment":
            return _moment(text)
    longest = limits.get("maxLength", _LONGEST)
    if isinstance(longest, int) and len(text) > longest:
        raise NoSense(f"a text of {len(text)} characters; at most {longest} are read here")
    return text


def _one_of(text: str, words: Sequence[str]) -> str:
    if text in words:
        return text
    close = nearest(text, list(words))
    instead = f"did you mean {close}?" if close else f"write one of: {', '.join(words)}"
    raise NoSense(f"{in_quotes(shorten(text))} is not known here; {instead}")


def _moment(text: str) -> Moment:
    try:
        if _DATE.fullmatch(text):
            return Moment.parse(text)
    except ValueError:
        pass
    raise NoSense(f"{in_quotes(shorten(text))} is no date; write 2026-04-18 or 2026-04-18 14:30")


def _number(text: str, name: str = "") -> Decimal:
    if len(text) <= 40 and _NUMBER.fullmatch(text):
        return Decimal(text)
    if one := re.fullmatch(r"([-+]?\d{1,12}),(\d{1,12})", text):
        raise NoSense(f"write a point as decimal sign: {one[1]}.{one[2]}")
    if _WITH_UNIT.fullmatch(text[:40]):
        raise NoSense(number_alone(text, name) or "write the number alone, in the unit of the name")
    if like := plain_decimal(text) or plain_lookalike(text):
        raise NoSense(like)
    try:
        plain_value(text)
    except Ambiguous as why:
        raise NoSense(str(why).partition("; if it is text")[0]) from None
    raise NoSense(f"{in_quotes(shorten(text))} is not a number")


def _bounded(text: str, number: Decimal, limits: Limits) -> Decimal:
    least, above, most = (limits.get(key) for key in ("minimum", "exclusiveMinimum", "maximum"))
    low = isinstance(least, int | float) and number < Decimal(str(least))
    low |= isinstance(above, int | float) and number <= Decimal(str(above))
    if low or (isinstance(most, int | float) and number > Decimal(str(most))):
        between = f"from {least:g} to" if above is None else f"more than {above:g} and at most"
        raise NoSense(f"it must be {between} {most:g}; {text} is written")
    return number
