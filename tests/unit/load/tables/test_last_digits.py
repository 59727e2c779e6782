"""The last digit of a column is the finest that anybody wrote in it."""

from decimal import Decimal
from pathlib import Path

import numpy as np
import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from preflint.api import Known
from preflint.load.limits import MAX_ROWS
from preflint.load.tables.inline import inline_table
from preflint.load.tables.last_digits import WrittenDigits
from preflint.load.tables.table import read_table
from preflint.load.tree import Tree
from preflint.load.yaml.events import load_yaml
from preflint.testing import inspect_text


@pytest.fixture(scope="module")
def tree(tmp_path_factory: pytest.TempPathFactory) -> Tree:
    return Tree(tmp_path_factory.mktemp("logs"), None)


def in_csv(tree: Tree, rows: list[list[str]], row: str = "{},{}") -> tuple[float, ...]:
    (tree.root / "run.csv").write_text("a,b\n" + "".join(row.format(*cells) + "\n" for cells in rows))
    return read_table(tree, "run.csv").last_digits


def in_yaml(rows: list[list[str]]) -> tuple[float, ...]:
    listed = "".join(f"  - [{', '.join(cells)}]\n" for cells in rows)
    document = load_yaml(f"columns: [a, b]\nrows:\n{listed}".encode(), "x.yaml")
    assert isinstance(document.value, dict)
    return inline_table(document.value["columns"], document.value["rows"]).last_digits


def finest(numbers: list[str]) -> float:
    """By the exponent that Python's decimal module keeps of a number as written."""
    exponents = [Decimal(number).as_tuple().exponent for number in numbers]
    return float(Decimal((0, (1,), min(int(exponent) for exponent in exponents))))


digits = st.text("0123456789", min_size=1, max_size=7)
integers = st.builds(lambda text: str(int(text)), digits)
fixed = st.builds(
    lambda sign, whole, decimals: f"{sign}{whole}" + (f".{decimals}" if decimals else ""),
    st.sampled_from(["", "-"]), integers, digits | st.just(""),
)  # fmt: skip
scientific = st.builds(
    lambda number, e, exponent: f"{number}{e}{exponent}",
    fixed, st.sampled_from("eE"), st.sampled_from(["+02", "-05", "0", "3", "-12", "+0", "-007"]),
)  # fmt: skip
loose = st.sampled_from(["5.", ".5", "+1.50", "-.250", "+3", "1.e-2", "007.0"])


def two_columns(numbers: st.SearchStrategy[str]) -> st.SearchStrategy[list[list[str]]]:
    return st.lists(st.lists(numbers, min_size=2, max_size=2), min_size=1, max_size=12)


@given(two_columns(fixed))
@example([["24.10", "24"], ["24.1", "100"]])
@example([["0.0", "0.000"], ["100", "1"]])
def test_a_table_in_the_manifest_and_the_same_in_a_file(tree: Tree, rows: list[list[str]]) -> None:
    expected = tuple(finest([row[index] for row in rows]) for index in (0, 1))
    assert in_yaml(rows) == in_csv(tree, rows) == expected


@pytest.mark.parametrize("row", ["{},{}", " {} , {} ", '"{}","{}"'])
@given(numbers=two_columns(fixed | scientific | loose))
@example([["5e-05", "1e3"], ["2.50e-1", "2e+03"]])
def test_however_a_file_writes_its_numbers(tree: Tree, row: str, numbers: list[list[str]]) -> None:
    found = in_csv(tree, numbers, row)
    assert found == tuple(finest([cells[index] for cells in numbers]) for index in (0, 1))


@given(two_columns(fixed | scientific | loose))
def test_never_coarser_than_any_row(tree: Tree, rows: list[list[str]]) -> None:
    for index, digit in enumerate(in_csv(tree, rows)):
        assert all(digit <= finest([row[index]]) for row in rows)


@pytest.mark.parametrize(("written", "digit"), [("0e99", 1e12), ("0e-999", 1e-300), ("0e" + "9" * 38, 1e12)])
@pytest.mark.parametrize("row", ["{},{}", '"{}",{}'])
def test_a_nought_with_an_exponent_beyond_all_reason(tree: Tree, written: str, digit: float, row: str) -> None:
    assert in_csv(tree, [[written, "1"]], row) == (digit, 1.0)


def test_one_row_of_a_long_log_that_is_finer_counts_wherever_it_stands(tree: Tree) -> None:
    rows = 2 * MAX_ROWS + 1  # condensed, and more than one block
    for at in (0, rows // 2, rows - 1):
        lines = ["12.5,7"] * rows
        lines[at] = "12.25,7.0"
        (tree.root / "run.csv").write_text("a,b\n" + "\n".join(lines))
        table = read_table(tree, "run.csv")
        assert table.condensed_by > 1
        assert (table.last_digit("a"), table.last_digit("b")) == (0.01, 0.1)


def test_a_short_block_after_one_with_many_decimals() -> None:
    written = WrittenDigits(b"1\n", ",")
    assert [written.finest_place(np.array([0]), np.array([1]), known) for known in (-300, -38, 0, 12)] == [
        -300, -38, 0, 0,
    ]  # fmt: skip


def test_text_in_other_columns_changes_nothing(tree: Tree) -> None:
    (tree.root / "run.csv").write_text("mode,b,note\nhover 1e5,2.50,1.2.3e7 \nhover,2.5,x\n")
    assert read_table(tree, "run.csv", ["b"]).last_digits == (0.01,)


def test_of_a_column_that_is_not_there(tree: Tree) -> None:
    (tree.root / "run.csv").write_text("a\n1\n")
    with pytest.raises(KeyError):
        read_table(tree, "run.csv").last_digit("b")


def test_milligauss_are_turned_into_microtesla_with_their_digit(tmp_path: Path) -> None:
    start = "preflint: 1\naircraft: {name: Trial, layout: quad-x}\n"
    start += "records:\n  interference_run:\n    - date: 2026-05-01\n"
    columns = "current_a,field_x_mgauss,field_y_mgauss,field_z_ut"
    row = "1.50,100,-200.0,45.00"
    inline = f"{start}      columns: [{columns.replace(',', ', ')}]\n      rows: [[{row.replace(',', ', ')}]]\n"
    logged = f"{start}      file: log.csv\n"
    for manifest in (inline, logged):
        inspected = inspect_text(manifest, files={"log.csv": f"{columns}\n{row}\n"})
        table = inspected.aircraft.records.interference_run[0].table
        assert isinstance(table, Known)
        found = {name: table.value.last_digit(name) for name in table.value.columns}
        # 1 G = 1e-4 T (SI brochure, 9th ed., table of non-SI units as in earlier editions; from memory).
        expected = {"current_a": 0.01, "field_x_ut": 0.1, "field_y_ut": 0.01, "field_z_ut": 0.01}
        assert found == pytest.approx(expected, rel=1e-12)
