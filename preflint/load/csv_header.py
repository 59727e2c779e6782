"""The first line of a CSV table: how its columns are separated, and their names."""

import difflib
import re
from collections.abc import Sequence
from dataclasses import dataclass

from preflint.errors import Problem
from preflint.load.csv_lines import BadLine, BadNumber, Field, number, split_line
from preflint.load.limits import MAX_COLUMNS
from preflint.load.scalars import in_quotes, shorten
from preflint.load.text import FORBIDDEN, describe_unseen
from preflint.places import Place

_DELIMITERS = {",": "commas", ";": "semicolons", "\t": "tabs"}
_IN_QUOTES = re.compile(r'"(?:[^"]|"")*"')


@dataclass(frozen=True, slots=True)
class Header:
    """What the first line says; ``picked`` are the indices of the columns that were asked for."""

    names: tuple[str, ...]
    delimiter: str
    picked: tuple[int, ...]


def read_header(line: str, file: str, wanted: Sequence[str] | None) -> tuple[Header | None, list[Problem]]:
    """The header, or None and what is wrong with it. All columns are picked where ``wanted`` is None."""
    whole = Place(file, 1, 1, 1, len(line) + 1)
    unseen = [
        Problem(describe_unseen(found[0]), Place(file, 1, found.start() + 1, 1, found.end() + 1))
        for found in FORBIDDEN.finditer(line)
    ]
    if unseen:
        return None, unseen
    if not line.strip():
        return None, [Problem("the first line is empty; it must name the columns", whole)]
    bare = _IN_QUOTES.sub("", line)
    used = [sign for sign in _DELIMITERS if sign in bare]
    if len(used) > 1:
        mix = " and ".join(_DELIMITERS[sign] for sign in used)
        return None, [Problem(f"the heading has {mix}; separate columns with one of them", whole)]
    delimiter = used[0] if used else ","
    try:
        fields = split_line(line, delimiter)
    except BadLine as bad:
        return None, [Problem(str(bad), Place(file, 1, bad.start + 1, 1, bad.start + 2))]
    problems = _name_problems(fields, file, whole)
    names = tuple(field.text for field in fields)
    if problems:
        return None, problems
    picked = range(len(names)) if wanted is None else [names.index(name) for name in wanted if name in names]
    missing = [Problem(_missing(name, names), whole) for name in wanted or () if name not in names]
    return (None if missing else Header(names, delimiter, tuple(picked))), missing


def _name_problems(fields: Sequence[Field], file: str, whole: Place) -> list[Problem]:
    if len(fields) > MAX_COLUMNS:
        return [Problem(f"the table has {len(fields)} columns; at most {MAX_COLUMNS} are read", whole)]
    if all(_is_number(field.text) for field in fields):
        return [Problem("the first line holds numbers; it must name the columns", whole)]
    problems = []
    seen: dict[str, int] = {}
    for count, field in enumerate(fields, start=1):
        place = Place(file, 1, field.start + 1, 1, field.end + 1)
        if not field.text:
            problems.append(Problem(f"column {count} has no name", place))
        elif field.text in seen:
            both = f"columns {seen[field.text]} and {count} are both named {in_quotes(shorten(field.text))}"
            problems.append(Problem(f"{both}; rename one", place))
        seen.setdefault(field.text, count)
    return problems


def _is_number(text: str) -> bool:
    try:
        number(text)
    except BadNumber:
        return False
    return True


def _missing(name: str, names: Sequence[str]) -> str:
    message = f"the column {in_quotes(shorten(name))} is missing"
    folded = {other.lower(): other for other in names}
    if close := difflib.get_close_matches(name.lower(), folded, n=1):
        return f"{message}; did you mean {in_quotes(shorten(folded[close[0]]))}?"
    there = ", ".join(shorten(other) for other in names[:12]) + (", …" if len(names) > 12 else "")
    hint = "" if len(names) > 1 else "; columns are separated by commas, semicolons or tabs"
    return f"{message}; the heading names {there}{hint}"
