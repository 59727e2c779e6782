"""CSV tables against the standard library's reader, which shares nothing with ours."""

import csv
import io
import math
import random
import re
from pathlib import Path
from tempfile import TemporaryDirectory

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from preflint.errors import NotRead
from preflint.load.limits import MAX_ROWS
from preflint.load.tables.condense import Condenser
from preflint.load.tables.table import Table, read_table
from preflint.load.tree import Tree

FIXED = settings(derandomize=True, deadline=None, max_examples=300)

def cell(rng: random.Random) -> str:
    """A number as somebody may write it: whole, with a point anywhere, or with an exponent."""
    whole, part = ("".join(rng.choices("0123456789", k=rng.randint(1, 6))) for _ in range(2))
    return rng.choice([
        rng.choice(["", "-", "+"]) + whole + rng.choice(["", ".", f".{part}"]),
        rng.choice(["", "-"]) + f".{part}",
        rng.choice(["", "-"]) + f"{whole[0]}.{part}{whole[1:4]}{rng.choice('eE')}{rng.choice(['', '-', '+'])}{part[0]}",
    ])


@st.composite
def tables(draw: st.DrawFn) -> tuple[list[str], list[list[str]]]:
    """What fills them is made from one number that is drawn: to draw each cell takes longer than to read them all."""
    width, length, rng = draw(st.integers(1, 5)), draw(st.integers(1, 12)), random.Random(draw(st.integers(0, 2**32)))
    return [f"column_{index}" for index in range(width)], [[cell(rng) for _ in range(width)] for _ in range(length)]


def written(names: list[str], rows: list[list[str]], delimiter: str, quoting: int, line_end: str) -> str:
    text = io.StringIO()
    writer = csv.writer(text, delimiter=delimiter, quoting=quoting, lineterminator=line_end)
    writer.writerow(names)
    writer.writerows(rows)
    return text.getvalue()


def table_of(data: bytes, wanted: list[str] | None = None) -> Table:
    with TemporaryDirectory() as folder:
        Path(folder, "run.csv").write_bytes(data)
        return read_table(Tree(Path(folder).resolve(), None), "run.csv", wanted)


@FIXED
@given(
    tables(), st.sampled_from([",", ";", "\t"]), st.sampled_from([csv.QUOTE_MINIMAL, csv.QUOTE_ALL]),
    st.sampled_from(["\n", "\r\n"]), st.sampled_from(["", "\ufeff"]), st.sampled_from(["", "\n", "\n\n"]),
)
def test_numbers_come_back_bit_by_bit(
    table: tuple[list[str], list[list[str]]], delimiter: str, quoting: int, line_end: str, mark: str, tail: str
) -> None:
    names, rows = table
    text = written(names, rows, delimiter, quoting, line_end)
    read = table_of((mark + text + tail).encode())
    assert read.columns == tuple(names)
    assert read.values.tolist() == [[float(cell) for cell in row] for row in rows]
    assert (read.rows_read, read.condensed_by) == (len(rows), 1)
    lines = text.split(line_end)
    for index in range(len(rows)):
        place = read.row_place(index)
        assert (place.line, place.end_line, place.column) == (index + 2, index + 2, 1)
        assert place.end_column == len(lines[index + 1]) + 1


@FIXED
@given(tables(), st.sampled_from(";\t"), st.booleans())
def test_with_a_decimal_comma_the_same_numbers_come_back(
    table: tuple[list[str], list[list[str]]], delimiter: str, quoted: bool
) -> None:
    """Or none, where every comma may set off thousands. One column alone has no separator to tell by."""
    names, rows = [*table[0], "last"], [[*row, "0"] for row in table[1]]
    text = written(names, rows, delimiter, csv.QUOTE_ALL if quoted else csv.QUOTE_MINIMAL, "\n")
    commas = text.replace(".", ",")
    with_sign = [cell for row in rows for cell in row if "." in cell]
    try:
        read: Table | None = table_of(commas.encode())
    except NotRead as refused:
        read = None
        said = refused.problems[0].message
    if read is None:
        assert with_sign
        assert all(re.fullmatch(r"[-+]?[1-9]\d{0,2}\.\d{3}", cell) for cell in with_sign)
        assert "may be" in said
        return
    pointed = table_of(text.encode())
    assert read.values.tolist() == pointed.values.tolist() == [[float(cell) for cell in row] for row in rows]
    assert read.last_digits == pointed.last_digits


words = st.one_of(
    st.text(st.characters(min_codepoint=0x20, max_codepoint=0x7E), max_size=8),
    st.sampled_from(["nan", "1,5", 'a "b"', "90°", "x" * 50, " ", "1_0"]),
)
pads = st.sampled_from(["", " ", "  "])


@settings(FIXED, max_examples=100)
@given(tables(), st.data(), st.sampled_from([",", ";", "\t"]))
def test_what_nobody_asks_for_changes_no_number(
    table: tuple[list[str], list[list[str]]], data: st.DataObject, delimiter: str
) -> None:
    names, rows = table
    at = data.draw(st.integers(0, len(names)))
    beside = [data.draw(words) for _ in rows]
    padded = [[data.draw(pads) + cell + data.draw(pads) for cell in row] for row in rows]
    wide = [[*row[:at], word, *row[at:]] for row, word in zip(padded, beside, strict=True)]
    text = written([*names[:at], "remark", *names[at:]], wide, delimiter, csv.QUOTE_MINIMAL, "\n")
    wanted = data.draw(st.permutations(names))
    read = table_of(text.encode(), list(wanted))
    assert read.columns == tuple(wanted)
    assert read.values.tolist() == [[float(row[names.index(name)]) for name in wanted] for row in rows]
    assert [read.row_place(row).end_column - 1 for row in range(len(rows))] == list(map(len, text.split("\n")[1:-1]))


decimals = st.from_regex(r"[-+]?([0-9]{1,9}(\.[0-9]{0,9})?|\.[0-9]{1,16})", fullmatch=True, alphabet="0123456789+-.")


@settings(FIXED, max_examples=200)
@given(st.lists(st.tuples(decimals, decimals), min_size=1, max_size=8))
def test_plain_decimals_are_the_floats_nearest_to_what_is_written(rows: list[tuple[str, str]]) -> None:
    """As those of Python's own ``float`` are, to the last bit; hardly any of the numbers above have so many digits."""
    read = table_of(written(["a", "b"], [list(row) for row in rows], ",", csv.QUOTE_MINIMAL, "\n").encode())
    assert read.values.tolist() == [[float(cell) for cell in row] for row in rows]


@st.composite
def columns_of_fixed_point(draw: st.DrawFn) -> list[list[str]]:
    """Two columns, each of numbers with as many digits after the point; few have none before it, or none at all."""
    columns = []
    for _ in range(2):
        after = draw(st.integers(0, 8))
        point = "" if after == 0 and draw(st.booleans()) else "."
        whole = st.from_regex(r"[-+]?[0-9]{0,7}" if after else r"[-+]?[0-9]{1,11}", fullmatch=True)
        digits = st.text("0123456789", min_size=after, max_size=after)
        number = st.builds("{}{}{}".format, whole, st.just(point), digits)
        columns.append(draw(st.lists(number, min_size=6, max_size=6)))
    return [list(row) for row in zip(*columns, strict=True)]


@settings(FIXED, max_examples=200)
@given(columns_of_fixed_point())
def test_columns_of_fixed_point_are_the_floats_nearest_to_what_is_written(rows: list[list[str]]) -> None:
    read = table_of(written(["a", "b"], rows, ",", csv.QUOTE_MINIMAL, "\n").encode())
    assert read.values.tolist() == [[float(cell) for cell in row] for row in rows]


@FIXED
@given(st.lists(st.text("01.+-eE _xnaif", max_size=6), min_size=1, max_size=3))
def test_a_cell_is_a_number_with_or_without_a_second_look(cells: list[str]) -> None:
    """A quote anywhere in a portion of the file makes the reader look at every line of it."""
    text = "a,remark\n" + "".join(f"{cell},x\n" for cell in cells)
    answers = []
    for data in (text, text.replace(",x\n", ',"x"\n', 1)):
        try:
            answers.append(table_of(data.encode(), ["a"]).values.tolist())
        except NotRead as refusal:
            answers.append([(p.message, p.place.line, p.place.column) for p in refusal.problems if p.place])
    assert answers[0] == answers[1]


@FIXED
@given(tables(), st.data())
def test_a_damaged_table_is_refused_or_read_as_the_standard_library_reads_it(
    table: tuple[list[str], list[list[str]]], data: st.DataObject
) -> None:
    names, rows = table
    text = written(names, rows, ",", csv.QUOTE_MINIMAL, "\n")
    for _ in range(data.draw(st.integers(1, 3))):
        at = data.draw(st.integers(0, len(text)))
        cut = data.draw(st.integers(0, 2))
        text = (
            text[:at]
            + data.draw(st.sampled_from(["", ",", '"', "\n", "x", "-", "nan", " ", ".", "é", "\0", ";"]))
            + text[at + cut :]
        )
    expected = standard(text)
    try:
        read = table_of(text.encode())
    except NotRead as refusal:
        check_problems(refusal, text)
        return
    assert expected is not None
    assert [list(read.columns), read.values.tolist()] == expected


def standard(text: str) -> list[list[object]] | None:
    """Heading and numbers as the standard library sees them, or None where a cell is no number."""
    lines = text.rstrip("\n").split("\n")
    rows = list(csv.reader(lines, skipinitialspace=True))
    try:
        numbers = [[float(cell) for cell in row] for row in rows[1:]]
    except ValueError:
        return None
    if not all(math.isfinite(cell) for row in numbers for cell in row):
        return None
    return [[name.strip() for name in rows[0]], [list(row) for row in numbers]]


def check_problems(refusal: NotRead, text: str) -> None:
    lines = text.split("\n")
    assert refusal.problems
    for problem in refusal.problems:
        assert problem.message.isprintable()
        place = problem.place
        assert place is not None
        assert 1 <= place.line <= len(lines)
        assert 1 <= place.column <= place.end_column <= len(lines[place.line - 1]) + 1


@FIXED
@given(st.binary(max_size=120))
def test_any_bytes(data: bytes) -> None:
    try:
        table = table_of(data)
    except NotRead as refusal:
        problems = refusal.problems
    else:
        problems = ()
        assert np.isfinite(table.values).all()
        assert table.rows_read == len(table.values) > 0
    assert all(problem.message.isprintable() for problem in problems)


@settings(derandomize=True, deadline=None, max_examples=25)
@given(st.integers(1, 9 * MAX_ROWS), st.lists(st.integers(1, 400_000), min_size=1, max_size=6))
def test_long_tables_are_averaged_whatever_the_portions(length: int, portions: list[int]) -> None:
    rows = np.column_stack([np.arange(length, dtype=float), np.sin(np.arange(length))])
    condenser = Condenser(2)
    start = count = 0
    while start < length:
        end = min(length, start + portions[count % len(portions)])
        condenser.add(rows[start:end], np.arange(start, end, dtype=np.int32))
        start, count = end, count + 1
    values, lengths = condenser.finish()
    step = condenser.step
    assert len(values) <= MAX_ROWS
    assert len(values) == math.ceil(length / step)
    # No more averaging than needed: with half the step the rows would not have fitted.
    assert step == 1 or math.ceil(length / (step // 2)) > MAX_ROWS
    expected = [rows[at : at + step].mean(axis=0) for at in range(0, length, step)]
    np.testing.assert_allclose(values, expected, rtol=1e-12, atol=1e-12)
    assert lengths.tolist() == [min(at + step, length) - 1 for at in range(0, length, step)]
