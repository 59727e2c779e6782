"""The first line of a CSV table: how its columns are separated, and their names."""

import re
from collections.abc import Sequence

from preflint.errors import Problem
from preflint.frozen import dataclass
from preflint.load.limits import MAX_COLUMNS
from preflint.load.merge import MARK, unresolved
from preflint.load.quoting import in_quotes, shorten
from preflint.load.tables.columns import choose
from preflint.load.tables.lines import BadLine, BadNumber, Field, number, split_line
from preflint.load.text import FORBIDDEN, describe_unseen
from preflint.places import Place

DELIMITERS = {",": "commas", ";": "semicolons", "\t": "tabs"}
_NUMBERS = "the first line holds numbers; it must name the columns"
_IN_QUOTES = re.compile(r'"(?:[^"]|"")*"')


@dataclass(frozen=True, slots=True)
class Header:
    """What the first line says; ``picked`` are the indices of the columns that were asked for."""

    names: tuple[str, ...]
    delimiter: str
    picked: tuple[int, ...]


def read_header(line: str, file: str, wanted: Sequence[str] | None) -> tuple[Header | None, list[Problem]]:
    """The header, or None and what is wrong with it; ``wanted`` as for ``choose``, None picks all columns."""
    whole = Place(file, 1, 1, 1, len(line) + 1)
    if unseen := FORBIDDEN.search(line):
        place = Place(file, 1, unseen.start() + 1, 1, unseen.end() + 1)
        return None, [Problem(describe_unseen(unseen[0]), place)]
    if MARK.fullmatch(line):
        return None, [Problem(unresolved([1]), whole)]
    if not line.strip():
        return None, [Problem("the first line is empty; it must name the columns", whole)]
    bare = _IN_QUOTES.sub("", line)
    used = [sign for sign in DELIMITERS if sign in bare]
    if len(used) > 1:
        if all(_is_number(text.strip().replace(",", ".")) for text in line.split(used[1])):
            return None, [Problem(_NUMBERS, whole)]
        mix = " and ".join(DELIMITERS[sign] for sign in used)
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
    if wanted is None:
        return Header(names, delimiter, tuple(range(len(names)))), []
    picked, complaints = choose(wanted, names)
    problems = [
        Problem(message, whole if index is None else _place(fields[index], file)) for index, message in complaints
    ]
    return (None if problems else Header(names, delimiter, tuple(picked))), problems


def _name_problems(fields: Sequence[Field], file: str, whole: Place) -> list[Problem]:
    if len(fields) > MAX_COLUMNS:
        return [Problem(f"the table has {len(fields)} columns; at most {MAX_COLUMNS} are read", whole)]
    if all(_is_number(field.text) for field in fields):
        return [Problem(_NUMBERS, whole)]
    problems = []
    seen: dict[str, int] = {}
    for count, field in enumerate(fields, start=1):
        place = _place(field, file)
        if not field.text:
            problems.append(Problem(f"column {count} has no name; name it, or delete the separator", place))
        elif field.text in seen:
            both = f"columns {seen[field.text]} and {count} are both named {in_quotes(shorten(field.text))}"
            problems.append(Problem(f"{both}; rename one", place))
        seen.setdefault(field.text, count)
    return problems


def _place(field: Field, file: str) -> Place:
    return Place(file, 1, field.start + 1, 1, field.end + 1)


def _is_number(text: str) -> bool:
    try:
        number(text)
    except BadNumber:
        return False
    return True
