"""Tables of readings: what is read, what is refused and where."""

# ruff: noqa: E501 - a row of a table of cases stays on one line
import os
import pickle
from pathlib import Path

import numpy as np
import pytest

from preflint.errors import NotRead
from preflint.load.limits import MAX_ROWS
from preflint.load.node import Node
from preflint.load.tables.inline import inline_table
from preflint.load.tables.table import Table, read_table
from preflint.load.tree import Tree
from preflint.load.yaml.events import load_yaml
from preflint.places import Place

START = (1, 1, 1)


@pytest.fixture
def tree(tmp_path: Path) -> Tree:
    return Tree(tmp_path, None)


def read(tree: Tree, data: bytes, wanted: list[str] | None = None) -> Table:
    (tree.root / "run.csv").write_bytes(data)
    return read_table(tree, "run.csv", wanted)


def problems(tree: Tree, data: bytes, wanted: list[str] | None = None) -> list[tuple[tuple[int, int, int], str]]:
    with pytest.raises(NotRead) as refused:
        read(tree, data, wanted)
    assert refused.value.file == "run.csv"
    found = []
    for problem in refused.value.problems:
        place = problem.place or Place("run.csv", 0, 0, 0, 0)
        assert (place.file, place.pointer, place.end_line) == ("run.csv", "", place.line)
        found.append(((place.line, place.column, place.end_column), problem.message))
    return found


@pytest.mark.parametrize(
    "data",
    [
        b"time_s,current_a\n0,1.5\n0.1,-2\n",
        b"time_s;current_a\n0;1.5\n0.1;-2\n",
        b"time_s\tcurrent_a\n0\t1.5\n0.1\t-2\n",
        b"time_s,current_a\r\n0,1.5\r\n0.1,-2\r\n",
        b"\xef\xbb\xbftime_s,current_a\n0,1.5\n0.1,-2",
        b'"time_s","current_a"\n"0","1.5"\n0.1,"-2"\n',
        b"time_s, current_a\n 0 , 1.5\n0.1, -2 \n\n \n",
        b"time_s,current_a\n0.,+1.5e0\n.1,-20E-1\n",
    ],
)
def test_the_usual_ways_to_write_a_table(tree: Tree, data: bytes) -> None:
    table = read(tree, data)
    assert table.columns == ("time_s", "current_a")
    assert table.values.tolist() == [[0, 1.5], [0.1, -2]]
    assert table.column("current_a").tolist() == [1.5, -2]
    assert (table.rows_read, table.condensed_by) == (2, 1)
    assert not table.values.flags.writeable
    assert table.row_place(1).line == 3


def test_only_the_columns_that_are_wanted_must_hold_numbers_and_come_in_that_order(tree: Tree) -> None:
    data = 'mode,a,"note, long",b\nhover,1,"x ""y"", é",2\nland,3,,4\n'.encode()
    table = read(tree, data, ["b", "a"])
    assert table.columns == ("b", "a")
    assert table.values.tolist() == [[2, 1], [4, 3]]
    assert table.row_place(0) == Place("run.csv", 2, 1, 2, 23)
    assert table.place == Place("run.csv", 1, 1, 3, 10)
    with pytest.raises(KeyError):
        table.column("mode")


def test_a_column_that_may_be_missing_and_one_of_two_that_may_stand_for_it(tree: Tree) -> None:
    wanted = ["time_s?", "x_ut|x_mgauss", "throttle_percent?"]
    assert read(tree, b"note,x_mgauss,throttle\nhi,1,z\n", wanted).columns == ("x_mgauss",)
    assert read(tree, b"x_ut,throttle_percent,Time\n1,2,z\n", wanted).columns == ("x_ut", "throttle_percent")


NO_READING = "is not a reading; delete the row if nothing was read"
TOO_LARGE = "is larger than any reading; see what unit it is in"
POINT = "if the decimal sign is a comma here, write a point, or semicolons between the columns"


@pytest.mark.parametrize(
    ("data", "place", "message"),
    [
        (b"a,b\n1,2\n3\n", (3, 1, 2), "one value where the heading names 2 columns; write every reading, or delete the row"),
        (b"a,b\n1,2,\n", (2, 1, 5), "3 values where the heading names 2 columns; delete the separator at the end of the row"),
        (b"a,b\n24,1,24,2\n", (2, 1, 10), f"4 values where the heading names 2 columns; {POINT}"),
        (b'a,b\n"24,1",2\n', (2, 1, 7), 'column "a": "24,1" has a comma; the decimal sign is a point: write 24.1'),
        (b"a,b\n1,nan\n", (2, 3, 6), f'column "b": "nan" {NO_READING}'),
        (b"a,b\n1,-Inf\n", (2, 3, 7), f'column "b": "-Inf" {NO_READING}'),
        (b"a,b\n1,1e999\n", (2, 3, 8), f'column "b": "1e999" {TOO_LARGE}'),
        (b"a,b\n1,-1e12\n", (2, 3, 8), f'column "b": "-1e12" {TOO_LARGE}'),
        (b"time_s,b\n1747400000123,1\n", (2, 1, 14), f'column "time_s": "1747400000123" {TOO_LARGE}'),
        (b"a,b\n1,\n", (2, 3, 3), 'column "b": the cell is empty; write the reading, or delete the row'),
        (b"a,b\n1, 24.1 V\n", (2, 4, 10), 'column "b": "24.1 V" is not a number; the unit belongs into the column\'s name'),
        (b"a,b\n1,1-2\n", (2, 3, 6), 'column "b": "1-2" is not a number; write the reading, or delete the row'),
        (b"a,b\n1,--2\n", (2, 3, 6), 'column "b": "--2" is not a number; write the reading, or delete the row'),
        (b"a,b\n1,2e\n", (2, 3, 5), 'column "b": "2e" is not a number; write the reading, or delete the row'),
        (b"a,b\n1,x\n", (2, 3, 4), 'column "b": "x" is not a number; write the reading, or delete the row'),
        (b"a,b\n1,1_0\n", (2, 3, 6), 'column "b": "1_0" has underscores in a number; write 10'),
        (b"a,b\n1,0x1f\n", (2, 3, 7), 'column "b": "0x1f" is not a decimal number; write it in decimal'),
        (b'a,b\n"1,000",2\n', (2, 1, 8), 'column "a": "1,000" has a comma; write 1.000 if it is the decimal sign, 1000 if it sets off thousands'),
        (b"a;b\n1,000.5;2\n", (2, 1, 8), 'column "a": "1,000.5" has commas; write 1000.5'),
        (b"a,b\n1,1.#QNAN\n", (2, 3, 10), f'column "b": "1.#QNAN" {NO_READING}'),
        ("a,b\n1,-\u221e\n".encode(), (2, 3, 5), f'column "b": "-\u221e" {NO_READING}'),
        (b"a,b\n1,#DIV/0!\n", (2, 3, 10), 'column "b": "#DIV/0!" is not a number; write the reading, or delete the row'),
        (b"a,b\n1,3.2A\n", (2, 3, 7), 'column "b": "3.2A" is not a number; the unit belongs into the column\'s name'),
        ("a,b\n1,\uff11\uff12\n".encode(), (2, 3, 5), 'column "b": "\uff11\uff12" holds characters that only look like a number\'s; write 12'),
        (b"a;b\n1;2;3\n", (2, 1, 6), "3 values where the heading names 2 columns; delete what is too many"),
        (b"a,b\n1,2\n3;4\n", (3, 1, 4), "one value where the heading names 2 columns; the heading has commas between them"),
        (b"a\tb\n1\t2\n3,4\n", (3, 1, 4), "one value where the heading names 2 columns; the heading has tabs between them"),
        (b"a,b\n1,2\na,b\n3,4\n", (3, 1, 4), "the heading stands here once more; put each log in a file of its own"),
        (b"a,b\n1,1 2\n", (2, 3, 6), 'column "b": "1 2" is not a number; write the reading, or delete the row'),
        ("a,b\n1,\u22125\n".encode(), (2, 3, 5), 'column "b": "\u22125" holds characters that only look like a number\'s; write -5'),
        (b"a,b\n1," + b"9" * 41, (2, 3, 44), 'column "b": a value of 41 characters; no reading has more than 40'),
        (b"a,b\n1,0." + b"1" * 39, (2, 3, 44), 'column "b": a value of 41 characters; no reading has more than 40'),
        (b"a\n1\n\n2\n", (3, 1, 1), "an empty line inside the table; delete it"),
        (b"a,b\n1,2\n\n3,4\n", (3, 1, 1), "an empty line inside the table; delete it"),
        (b'a,b\n1,"2\n3",4\n', (2, 3, 4), "a quote is not closed on its line, or stands inside a value; close it here, or take it out"),
        (b'a,b\n1,2"3\n', (2, 4, 5), "a quote is not closed on its line, or stands inside a value; close it here, or take it out"),
        (b'a,b\n"1"2,3\n', (2, 4, 5), "text follows a closing quote; double a quote that belongs to the text"),
        (b"a,b\n1,2\n\xe9,1\n", (3, 1, 2), "the byte 0xE9 at offset 8 is not UTF-8; save the file as UTF-8"),
        (b"a,b\n1,2\n3,4\xc3\n", (3, 4, 5), "the byte 0xC3 at offset 11 is not UTF-8; save the file as UTF-8"),
        (b"a,b\n1,\x002\n", (2, 3, 4), "a control character (U+0000), which cannot be seen; delete it"),
        (b"a,b\n1,2\r3,4\n", (2, 4, 5), "a line end that editors do not show (U+000D); replace it with an ordinary line end"),
        (b"a,b\n1,2\n" + b"1" * 70_000 + b"\n3,4\n", (3, 1, 1), "a line of more than 65536 bytes; reading stopped here"),
    ],
)
def test_a_row_that_is_refused(tree: Tree, data: bytes, place: tuple[int, int, int], message: str) -> None:
    found = problems(tree, data)
    assert found[0] == (place, message)
    # The quote that is opened on one line is also not opened on the next.
    assert len(found) == (2 if b'"2\n3"' in data else 1)


@pytest.mark.parametrize("rows", [0, 1, 100_000, 150_000])  # the last are more than a block
@pytest.mark.parametrize("end", ["", "\n", "\n3,x\n"])
def test_a_line_of_65536_bytes_is_read_and_one_of_a_byte_more_is_not(tree: Tree, rows: int, end: str) -> None:
    before, row = "a,remark\n" + "1.5,xyz\n" * rows, "2," + "x" * 65_534
    values = [[1.5]] * rows + [[2.0]] + [[3.0]] * ("3" in end)
    assert read(tree, f"{before}{row}{end}".encode(), ["a"]).values.tolist() == values
    told = "a line of more than 65536 bytes; reading stopped here"
    assert problems(tree, f"{before}{row}x{end}".encode(), ["a"]) == [((rows + 2, 1, 1), told)]


def test_just_below_what_is_too_large(tree: Tree) -> None:
    assert read(tree, b"a\n-999999999999.5\n").values.tolist() == [[-999999999999.5]]


@pytest.mark.parametrize(
    ("beside", "message"),
    [
        (b"x\x00y", "a control character (U+0000), which cannot be seen; delete it"),
        (b"x\x1by", "a control character (U+001B), which cannot be seen; delete it"),
        (b"x\ry", "a line end that editors do not show (U+000D); replace it with an ordinary line end"),
        (b"x\xffy", "the byte 0xFF at offset 7 is not UTF-8; save the file as UTF-8"),
    ],
)
def test_a_column_that_nobody_asks_for_holds_text(tree: Tree, beside: bytes, message: str) -> None:
    assert problems(tree, b"a,b\n1," + beside + b"\n", ["a"]) == [((2, 4, 5), message)]


def test_the_nearest_of_two_missing_columns_is_meant(tree: Tree) -> None:
    found = problems(tree, b"field_y,note\n1,2\n", ["field_x_ut", "field_y_ut"])
    assert found == [
        ((1, 1, 8), 'the column "field_y_ut" is missing; if it is "field_y", see that the unit is right and rename it'),
        ((1, 1, 13), 'the column "field_x_ut" is missing; the heading names field_y, note'),
    ]


@pytest.mark.parametrize(
    ("data", "wanted", "place", "message"),
    [
        (b"", None, START, "the file is empty; its first line must name the columns"),
        (b"\n1,2\n", None, START, "the first line is empty; it must name the columns"),
        (b"a,b\n", None, START, "the table has a heading but no rows; write the readings below it"),
        (b"a,b\n\n\n", None, START, "the table has a heading but no rows; write the readings below it"),
        (b"1,2\n3,4\n", None, (1, 1, 4), "the first line holds numbers; it must name the columns"),
        (b"a;b,c\n1;2,3\n", None, (1, 1, 6), "the heading has commas and semicolons; separate columns with one of them"),
        (b"a,b,a\n1,2,3\n", None, (1, 5, 6), 'columns 1 and 3 are both named "a"; rename one'),
        (b"a,,c\n1,2,3\n", None, (1, 3, 3), "column 2 has no name; name it, or delete the separator"),
        (b'a,"b\n1,2\n', None, (1, 3, 4), "a quote is not closed on its line, or stands inside a value; close it here, or take it out"),
        (b"time_s,Field_x_uT\n1,2\n", ["field_x_ut"], (1, 8, 18), 'the column "Field_x_uT" is not known; did you mean "field_x_ut"? Write it exactly so'),
        (b"a,b\n1,2\n", ["current_a"], (1, 1, 4), 'the column "current_a" is missing; the heading names a, b'),
        (b"a,b\n1,2\n", ["current_a", "b", "x_ut|x_mgauss", "time_s?"], (1, 1, 4), 'the columns "current_a", "x_ut" (or "x_mgauss") are missing; the heading names a, b'),
        (b"x_ut,a,x_mgauss\n1,2,3\n", ["x_ut|x_mgauss"], (1, 8, 16), '"x_ut" and "x_mgauss" are both here; keep one of the two columns'),
        (b"a,Time (s)\n1,2\n", ["a", "time_s?"], (1, 3, 11), 'the column "Time (s)" is not known; did you mean "time_s"? Write it exactly so'),
        (b"field_x,field_y_ut\n1,2\n", ["field_x_ut|field_x_mgauss", "field_y_ut|field_y_mgauss"], (1, 1, 8), 'the column "field_x_ut" (or "field_x_mgauss") is missing; if it is "field_x", see that the unit is right and rename it'),
        (b"field_x_ut,field_z_ut\n1,2\n", ["field_x_ut", "field_y_ut", "field_z_ut"], (1, 1, 22), 'the column "field_y_ut" is missing; the heading names field_x_ut, field_z_ut'),
        (b"current_ma,b\n1,2\n", ["current_a"], (1, 1, 11), 'the column "current_a" is missing; if it is "current_ma", see that the unit is right and rename it'),
        (b"a|b\n1|2\n", ["current_a"], (1, 1, 4), 'the column "current_a" is missing; the heading names a|b; columns are separated by commas, semicolons or tabs'),
        (",".join(f"c{n}" for n in range(257)).encode(), None, (1, 1, 1175), "the table has 257 columns; at most 256 are read"),
        (b"x" * 70_000, None, START, "the first line has more than 65536 bytes; a line ends in a line feed"),
        (b"a\xe9,b\n1,2\n", None, (1, 2, 3), "the byte 0xE9 at offset 1 is not UTF-8; save the file as UTF-8"),
        ("a\u202e,b\n1,2\n".encode(), None, (1, 2, 3), "an unseen character that turns the text after it round (U+202E, right-to-left override); delete it"),
        (b"PK\x03\x04\x14\x00", None, START, "the file is an archive, a workbook or a document; unpack it, or save it as plain text, a sheet as CSV"),
        (b"a,b\r1,2\r3,4\r", None, (1, 4, 5), "a line end that editors do not show (U+000D); replace it with an ordinary line end"),
        (b"\x1f\x8b\x08\x00", None, START, "the file is compressed; unpack it first"),
        ("a,b\n1,2\n".encode("utf-16"), None, START, "the file is saved as UTF-16; save it as UTF-8"),
    ],
)
def test_a_heading_that_is_refused(
    tree: Tree, data: bytes, wanted: list[str] | None, place: tuple[int, int, int], message: str
) -> None:
    assert problems(tree, data, wanted) == [(place, message)]


def test_twenty_bad_rows_are_named_and_the_others_counted(tree: Tree) -> None:
    rows = [b"x,1" if count % 2 else b"1,2" for count in range(90)]
    found = problems(tree, b"a,b\n" + b"\n".join(rows))
    assert [place[0] for place, _ in found[:-1]] == list(range(3, 43, 2))
    assert found[-1] == ((0, 0, 0), "and 25 more bad rows")


def test_every_bad_cell_of_a_row_is_named(tree: Tree) -> None:
    found = problems(tree, b"a,b,c\n1,x,\n")
    assert [place for place, _ in found] == [(2, 3, 4), (2, 5, 5)]


def test_of_further_bad_rows_the_first_cell_is_named_and_the_others_are_counted(tree: Tree) -> None:
    found = problems(tree, b"a;b;c\n1_5;2_5;3_5\n1_6;2_6;3_6\n1_7;2;3\n")
    assert [place for place, _ in found] == [(2, 1, 4), (2, 5, 8), (2, 9, 12), (3, 1, 4), (4, 1, 4)]
    assert [message for _, message in found[3:]] == [
        'column "a": "1_6" has underscores in a number; write 16; and 2 more in this row',
        'column "a": "1_7" has underscores in a number; write 17',
    ]


def test_what_is_no_table_at_all_is_not_read_to_its_end(tree: Tree) -> None:
    found = problems(tree, b"a,b\n" + b"x,1\n" * 100_000)
    assert len(found) == 21
    assert found[-1][1] == "and so on; reading stopped after 1000 bad rows"


def test_a_bad_row_late_in_a_long_table_is_found(tree: Tree) -> None:
    rows = [f"{n},{n / 8}\n" for n in range(300_000)]
    rows[299_998] = "299998,\n"
    assert problems(tree, ("a,b\n" + "".join(rows)).encode()) == [
        ((300_000, 8, 8), 'column "b": the cell is empty; write the reading, or delete the row')
    ]


def test_a_long_table_is_averaged_and_says_so(tree: Tree) -> None:
    length = 2 * MAX_ROWS + 3
    (tree.root / "run.csv").write_text("a,b\n" + "".join(f"{n},1\n" for n in range(length)))
    calls: list[tuple[int, int]] = []
    table = read_table(tree, "run.csv", ["a"], progress=lambda done, total: calls.append((done, total)))
    assert (table.rows_read, table.condensed_by) == (length, 4)
    assert len(table.values) == len(table.row_places) == (length + 3) // 4
    assert table.values[0, 0] == 1.5
    assert table.values[-1, 0] == np.mean([length - 3, length - 2, length - 1])
    assert table.row_place(0) == Place("run.csv", 2, 1, 5, 4)
    assert table.row_place(len(table.values) - 1) == Place("run.csv", length - 1, 1, length + 1, 9)
    assert table.place == Place("run.csv", 1, 1, length + 1, 9)
    size = os.path.getsize(tree.root / "run.csv")
    assert calls[-1] == (size, size)
    assert [done for done, _ in calls] == sorted(done for done, _ in calls)
    assert len(calls) > 1


def test_quotes_and_spaces_change_no_number_of_a_long_table(tree: Tree) -> None:
    rng = np.random.default_rng(3)
    rows = [[repr(float(cell)) for cell in row] for row in rng.normal(size=(5_000, 3)) * 1e3]
    plain = read(tree, ("a,b,c\n" + "".join(",".join(row) + "\n" for row in rows)).encode())
    quoted = read(tree, ("a,b,c\n" + "".join(f'"{row[0]}", {row[1]},{row[2]}\n' for row in rows)).encode())
    assert plain.values.tolist() == quoted.values.tolist() == [[float(cell) for cell in row] for row in rows]


def test_a_table_can_go_to_another_process(tree: Tree) -> None:
    table = pickle.loads(pickle.dumps(read(tree, b"a,b\n1,2\n")))
    assert (table.values.tolist(), table.row_place(0)) == ([[1, 2]], Place("run.csv", 2, 1, 2, 4))


def test_a_table_that_cannot_be_opened_is_named_where_it_is_referred_to(tree: Tree) -> None:
    place = Place("kite.airframe.yaml", 4, 9, 4, 16, "/records/hover/0/file")
    os.mkfifo(tree.root / "pipe.csv")
    for name, why in (("gone.csv", "there is no such file; its folder has pipe.csv"), ("pipe.csv", "it is not a regular file")):
        with pytest.raises(NotRead) as refused:
            read_table(tree, name, place=place)
        assert [(p.message, p.place) for p in refused.value.problems] == [(f"{name}: {why}", place)]


def test_nobody_asks_for_no_columns(tree: Tree) -> None:
    with pytest.raises(ValueError, match="no columns are wanted"):
        read_table(tree, "run.csv", [])


def nodes(text: str) -> tuple[Node, Node]:
    value = load_yaml(text.encode(), "kite.airframe.yaml").value
    assert isinstance(value, dict)
    return value["columns"], value["rows"]


def test_a_table_in_the_manifest_has_the_places_of_its_rows() -> None:
    columns, rows = nodes("columns: [indicated_v, reference_v]\nrows:\n  - [24.02, 24.11]\n  - [22.90, 23]\n")
    table = inline_table(columns, rows)
    assert table.columns == ("indicated_v", "reference_v")
    assert table.values.tolist() == [[24.02, 24.11], [22.9, 23]]
    assert (table.rows_read, table.condensed_by, table.place) == (2, 1, rows.place)
    assert table.row_place(1) == Place("kite.airframe.yaml", 4, 5, 4, 16, "/rows/1")


@pytest.mark.parametrize(
    ("text", "place", "message"),
    [
        ("columns: [a, b]\nrows: [[1, 2], [24, 11, 3]]", (2, 16, "/rows/1"), "3 values where 2 columns are named"),
        ("columns: [a, b]\nrows: [[1, 2], 3]", (2, 16, "/rows/1"), "a row must be a list of numbers"),
        ("columns: [a, b]\nrows: [[1, true]]", (2, 12, "/rows/0/1"), '"true" is not a number'),
        ("columns: [a, b]\nrows: [[1, 2 V]]", (2, 12, "/rows/0/1"), '"2 V" is not a number'),
        ("columns: [a, b]\nrows: [[1, [2]]]", (2, 12, "/rows/0/1"), "this is not a number"),
        ("columns: [a]\nrows: []", (2, 7, "/rows"), "the table must be a list of rows, with at least one"),
        ("columns: [a]\nrows: 7", (2, 7, "/rows"), "the table must be a list of rows, with at least one"),
        ("columns: []\nrows: [[1]]", (1, 10, "/columns"), "the columns must be a list of names, with at least one"),
        ("columns: a\nrows: [[1]]", (1, 10, "/columns"), "the columns must be a list of names, with at least one"),
        ("columns: [a, 1]\nrows: [[1, 2]]", (1, 14, "/columns/1"), "a column needs a name"),
        ("columns: [a, a]\nrows: [[1, 2]]", (1, 14, "/columns/1"), 'two columns are named "a"'),
    ],
)
def test_a_table_in_the_manifest_that_is_refused(text: str, place: tuple[int, int, str], message: str) -> None:
    with pytest.raises(NotRead) as refused:
        inline_table(*nodes(text))
    (problem,) = refused.value.problems
    assert problem.place is not None
    assert (problem.message, problem.place.line, problem.place.column, problem.place.pointer) == (message, *place)


def test_the_largest_number_a_manifest_may_hold_is_a_reading() -> None:
    table = inline_table(*nodes("columns: [a]\nrows: [[" + "9" * 40 + "], [-0.0]]"))
    assert table.values.tolist() == [[1e40], [0.0]]
