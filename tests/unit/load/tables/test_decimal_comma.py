"""A decimal comma where semicolons or tabs separate the columns: the same numbers, or a refusal, never a guess."""

from pathlib import Path

import pytest

from preflint.errors import NotRead
from preflint.load.limits import MAX_ROWS
from preflint.load.tables.table import Table, read_table
from preflint.load.tree import Tree


@pytest.fixture
def tree(tmp_path: Path) -> Tree:
    return Tree(tmp_path, None)


def read(tree: Tree, text: str, wanted: list[str] | None = None) -> Table:
    (tree.root / "run.csv").write_text(text, encoding="utf-8", newline="")
    return read_table(tree, "run.csv", wanted)


def refused(tree: Tree, text: str, wanted: list[str] | None = None) -> list[tuple[int, str, str]]:
    """Of each problem its line, what it marks there, and what it says."""
    with pytest.raises(NotRead) as error:
        read(tree, text, wanted)
    found = []
    for problem in error.value.problems:
        assert problem.place is not None
        assert problem.line is not None
        assert problem.line.text == text.split("\n")[problem.place.line - 1].rstrip("\r")
        marked = problem.line.text[problem.place.column - 1 : problem.place.end_column - 1]
        found.append((problem.place.line, marked, problem.message))
    return found


@pytest.mark.parametrize("separator", [";", "\t"])
@pytest.mark.parametrize("end", ["\n", "\r\n"])
def test_the_numbers_and_their_last_digits_are_those_with_a_point(separator: str, end: str, tree: Tree) -> None:
    rows = ["time_s,a_v,b_ut", "0,24.10,-3.1e-05", "0.5,24,2", "1.25,.5,1.5E+01", "2,-0.25,7."]
    pointed = read(tree, end.join(row.replace(",", separator) for row in rows))
    comma = read(tree, end.join(row.replace(",", separator).replace(".", ",") for row in rows))
    assert comma.values.tolist() == pointed.values.tolist() == [
        [0, 24.1, -3.1e-05], [0.5, 24, 2], [1.25, 0.5, 15], [2, -0.25, 7]
    ]  # fmt: skip
    assert comma.last_digits == pointed.last_digits == (0.01, 0.01, 1e-06)
    assert [comma.row_place(row) for row in range(4)] == [pointed.row_place(row) for row in range(4)]


def test_a_long_log_is_read_by_blocks_and_condensed_as_with_a_point(tree: Tree) -> None:
    """Some two hundred thousand rows, several blocks of a megabyte; the finest digit stands far down."""
    rows = [f"{n};{n / 8:.3f};{20 + n % 7}" for n in range(MAX_ROWS + 30_000)]
    rows[150_000] = "150000;18750.0001;20.5"
    pointed = read(tree, "time_s;a_v;b_v\n" + "\n".join(rows))
    comma = read(tree, "time_s;a_v;b_v\n" + "\n".join(rows).replace(".", ","))
    assert (comma.condensed_by, comma.rows_read) == (pointed.condensed_by, pointed.rows_read) == (2, MAX_ROWS + 30_000)
    assert (comma.values == pointed.values).all()
    assert comma.last_digits == pointed.last_digits == (1.0, 0.0001, 0.1)


@pytest.mark.parametrize("filler", [0, 60_000])
def test_both_signs_in_one_table_are_refused_with_both_lines(filler: int, tree: Tree) -> None:
    """At once, and where blocks of a megabyte were read since; whole numbers tell nothing."""
    for first, second, names in (("24.1", "24,2", ("comma", "point")), ("24,1", "24.2", ("point", "comma"))):
        rows = ["1;2"] * 3 + [f"{first};3"] + [f"{first};123456789012"[:12]] * filler + ["5;7", f"8;{second}"]
        line = len(rows) + 1
        assert refused(tree, "a_v;b_v\n" + "\n".join(rows)) == [(line, second, (
            f'column "b_v": "{second}" has a decimal {names[0]}, the numbers from line 5 on '
            f"have a decimal {names[1]}; write one of the two throughout"
        ))]  # fmt: skip


MAYBE = (
    '"12,345" may be 12.345 or 12345, and no other number of this table tells; '
    "write a decimal point, or the thousands without a comma"
)


def test_commas_that_may_set_off_thousands_are_refused_unless_a_number_tells(tree: Tree) -> None:
    assert refused(tree, "rpm;b\n7;8\n12,345;1\n-1,000;2\n") == [(3, "12,345", MAYBE)]
    for telling, value in (("0,500", 0.5), ("1234,567", 1234.567), ("24,1", 24.1), ("-0,001", -0.001)):
        assert read(tree, f"rpm;b\n12,345;1\n{telling};2\n").values.tolist() == [[12.345, 1], [value, 2]]
    long = "rpm;b\n" + "12,345;1\n" * 150_000
    assert refused(tree, long) == [(2, "12,345", MAYBE)]
    assert read(tree, long + "9,5;1\n").values[-1].tolist() == [9.5, 1]
    (problem,) = refused(tree, "rpm;b\n1,234,567;1\n")
    assert problem == (2, "1,234,567", 'column "rpm": "1,234,567" has commas; write 1234567')
    (problem,) = refused(tree, "rpm;b\n1.234,5;1\n")
    assert problem[2].startswith('column "rpm": "1.234,5" has commas; write')


def test_columns_that_are_not_asked_for_may_hold_either(tree: Tree) -> None:
    text = 'a_v;note\n24,1;12.5.2026\n24,2;"1.5, 2"\n'
    assert read(tree, text, ["a_v"]).values.tolist() == [[24.1], [24.2]]
    long = "a_v;note\n" + "24,1;12.5.2026\n" * 100_000
    assert read(tree, long, ["a_v"]).values.sum() == pytest.approx(2_410_000)
    pointed = "a_v;note\n" + "24.1;1,5\n" * 100_000
    assert read(tree, pointed, ["a_v"]).last_digits == (0.1,)


def test_between_commas_a_decimal_comma_is_refused(tree: Tree) -> None:
    assert refused(tree, "a,b\n24,1,24,2\n") == [(2, "24,1,24,2", (
        "4 values where the heading names 2 columns; if the decimal sign is a comma here, "
        "write a point, or semicolons between the columns"
    ))]  # fmt: skip
    (problem,) = refused(tree, 'a,b\n"24,1","24,2"\n')[:1]
    assert problem == (2, '"24,1"', 'column "a": "24,1" has a comma; the decimal sign is a point: write 24.1')


def test_a_first_line_of_numbers_is_no_heading_with_commas_either(tree: Tree) -> None:
    (problem,) = refused(tree, "24,1\t24,2\n24,1\t24,3\n")
    assert problem[2] == "the first line holds numbers; it must name the columns"


def test_the_marks_of_an_unresolved_merge_are_named_and_nothing_else(tree: Tree) -> None:
    said = "this file has an unresolved merge, with marks on lines 3, 5, 7: keep one of the versions between them, "
    text = "time_s,b\n0,1\n<<<<<<< ours\n1,2\n=======\n1,3\n>>>>>>> theirs\n"
    assert refused(tree, text) == [(3, "<<<<<<< ours", f"{said}and delete the marks")]
    one = text.replace("time_s,b", "b").replace("0,1", "1").replace("1,2", "2").replace("1,3", "3")
    assert refused(tree, one) == [(3, "<<<<<<< ours", f"{said}and delete the marks")]
    first = "this file has an unresolved merge, with marks on line 1: keep one of the versions between them, "
    assert refused(tree, "<<<<<<< ours\na,b\n1,2\n") == [(1, "<<<<<<< ours", f"{first}and delete the marks")]
