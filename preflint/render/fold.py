"""Folds text to a number of terminal columns."""

import re
import unicodedata


def columns(text: str) -> int:
    """How many columns a terminal gives to printable text: two to a wide letter, none to a combining mark."""
    return len(text) if text.isascii() else sum(map(_width, text))


def _width(letter: str) -> int:
    if letter.isascii():
        return 1
    if unicodedata.category(letter) in ("Mn", "Me"):
        return 0
    return 2 if unicodedata.east_asian_width(letter) in ("W", "F") else 1


def fold(text: str, width: int, first: str = "", rest: str = "") -> list[str]:
    """Lines of at most ``width`` columns, the first after ``first``, the others after ``rest``.

    Runs of spaces become one; a word that is too long for a line is cut.
    """
    lines: list[str] = []
    line, empty = first, True
    for word in text.split(" "):
        if not word:
            continue
        if not empty and columns(line) + 1 + columns(word) > width:
            lines.append(line)
            line, empty = rest, True
        if not empty:
            line += " "
        while word and columns(line) + columns(word) > width:
            part, word = _cut(word, max(width - columns(line), 2))
            lines.append(line + part)
            line = rest
        line, empty = line + word, not word
    return [*lines, line] if not empty or not lines else lines


def first_clause(text: str, width: int) -> str:
    """The text where it fits ``width`` columns; else as many of its clauses as do, where one ends in time; else all.

    Clauses end at colons and semicolons: what is left off explains what stands, and no sentence breaks off.
    """
    if columns(text) <= width:
        return text
    ends = [end for mark in (": ", "; ") for end in _all(mark, text) if columns(text[:end]) <= width]
    return text[: max(ends)] if ends else text


def _all(mark: str, text: str) -> list[int]:
    return [at.start() for at in re.finditer(re.escape(mark), text)]


def shortened(text: str, width: int) -> str:
    """The text in ``width`` columns (4 or more): where it is longer, its first words and "..."."""
    if columns(text) <= width:
        return text
    first = fold(text, width - 4)[0]
    return f"{first.rstrip(' ,;:')} ..."


def first_clauses(text: str, most: int) -> str:
    """A text of at most ``most`` characters as it is; of a longer one what fits before a clause ends, and "...".

    Clauses end at semicolons, else at commas; where none ends in time, words do.
    """
    if len(text) <= most:
        return text
    room = most - len("; ...")
    for mark in ("; ", ", "):
        if (end := text.rfind(mark, 0, room + len(mark))) > 0:
            return f"{text[:end]}; ..."
    return shortened(text, most)


def _cut(word: str, room: int) -> tuple[str, str]:
    """The part of a word that fits (at least one letter, with its marks), and what is left."""
    used = 0
    for i, letter in enumerate(word):
        used += _width(letter)
        if used > room:
            return word[:i], word[i:]
    return word, ""
