"""Inputs made to cost: each must be answered within ten times the budget of 2 s and 200 MB, or be killed."""

# ruff: noqa: E501 - a row of a table of cases stays on one line
import resource
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

SECONDS, MEGABYTES = 20, 2000

READ = """
import sys
from pathlib import Path
from preflint.errors import NotRead
from preflint.load.tables.table import read_table
from preflint.load.tree import Tree
from preflint.load.yaml.events import load_yaml
path = Path(sys.argv[1])
try:
    if path.suffix == ".csv":
        table = read_table(Tree(path.parent, None), path.name)
        print(f"table {table.rows_read} {len(table.values)}")
    else:
        print(f"document {len(load_yaml(path.read_bytes(), path.name).plain())}")
except NotRead as refusal:
    print(f"refused {len(refusal.problems)}: {refusal.problems[0].message}")
"""


def limit() -> None:
    resource.setrlimit(resource.RLIMIT_CPU, (SECONDS, SECONDS))
    resource.setrlimit(resource.RLIMIT_AS, (MEGABYTES * 1024**2,) * 2)


def answer(path: Path) -> str:
    run = subprocess.run(
        [sys.executable, "-I", "-c", READ, str(path)],
        capture_output=True,
        text=True,
        timeout=120,
        preexec_fn=limit,
        env={"OPENBLAS_NUM_THREADS": "1"},  # each thread takes address space, not memory
    )
    assert (run.returncode, run.stderr) == (0, "")
    return run.stdout.strip()


def aliases(levels: int, width: int) -> str:
    lines = ["a0: &a0 [" + ", ".join(["x"] * width) + "]"]
    lines += [f"a{n}: &a{n} [" + ", ".join([f"*a{n - 1}"] * width) + "]" for n in range(1, levels)]
    return "\n".join(lines)


def merges(levels: int) -> str:
    lines = ["a0: &a0 {k: v}"]
    lines += [f"a{n}: &a{n} {{<<: [*a{n - 1}, *a{n - 1}]}}" for n in range(1, levels)]
    return "\n".join(lines)


TOO_DEEP = "more than 64 groups or lists inside one another"
TOO_MANY = "the file holds more than 20000 values"
NO_MERGE = "<< (merging another group in) is not used here; write the entries out"
PERCENT = "%TAG is not used here; delete the line"
NO_NAME = "a name must be text, not a list or a group"


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        (lambda: aliases(60, 10), f"refused 1: {TOO_MANY}"),
        (lambda: aliases(6_000, 1), f"refused 1: {TOO_DEEP}"),
        (lambda: merges(24), f"refused 13: {NO_MERGE}"),
        (lambda: merges(5_000), f"refused 13: {NO_MERGE}"),
        (lambda: "a: " + "[" * 262_000, f"refused 1: {TOO_DEEP}"),
        (lambda: "a: " + "{" * 262_000, f"refused 1: {TOO_DEEP}"),
        (lambda: "a:\n " + "- " * 131_000, f"refused 1: {TOO_DEEP}"),
        (lambda: "a: " + "{" * 900, f"refused 63: {NO_NAME}"),
        (lambda: "? " * 131_000, f"refused 64: {NO_NAME}"),
        (lambda: "".join(f"{' ' * n}a:\n" for n in range(700)), f"refused 1: {TOO_DEEP}"),
        (lambda: "a: [" + "1," * 131_000 + "]", f"refused 1: {TOO_MANY}"),
        (lambda: "\n".join(f"k{n}: 1" for n in range(26_000)), f"refused 1: {TOO_MANY}"),
        (lambda: "a: 1\n" * 52_000, "refused 101: "),
        (lambda: "a: no\n" * 43_000, "refused 101: "),
        (lambda: "a: " + "x" * 262_000, "refused 1: a text of 262000 characters; at most 65536 are read"),
        (lambda: "a: " + "9" * 65_000, "refused 1: a number of 65000 characters; no reading has more than 40"),
        (lambda: "a: 1e" + "9" * 65_000, "refused 1: "),
        (lambda: "a: " + "9" * 65_000 + "x", "document 1"),
        (lambda: "a: " + "1_" * 32_000, "refused 1: "),
        (lambda: "a: " + "1_" * 32_000 + "x", "document 1"),
        (lambda: "a: " + "1," * 32_000 + "x", "document 1"),
        (lambda: "a: " + "1.1," * 16_000 + "x", "document 1"),
        (lambda: "a: " + "1:" * 32_000 + "x", "document 1"),
        (lambda: "a: " + "1e" * 32_000, "document 1"),
        (lambda: "a: " + "1:" * 32_000 + "1", "refused 1: "),
        (lambda: "a: " + "1," * 32_000 + "1", "refused 1: "),
        (lambda: "a: 1" + "\u202e" * 87_000, "refused 101: "),
        (lambda: "#" * 262_000, "refused 1: the file holds nothing but comments"),
        (lambda: "a: 1\n" + "\n" * 262_000, "document 1"),
        (lambda: "a: |+\n" + " \n" * 131_000, "refused 1: a text of 131000 characters; at most 65536 are read"),
        (lambda: "a: '" + "\n" * 262_000, "refused 1: the quote that opens this text is not closed"),
        (lambda: "".join(f"%TAG !t{n}! x\n" for n in range(15_000)) + "---\na: 1\n", f"refused 1: {PERCENT}"),
        (lambda: "a: &" + "x" * 262_000, "refused 1: "),
        (lambda: "\n".join(f"k{n}: &a{n} x" for n in range(9_900)), "document 9900"),
        (lambda: "{" + ("x" * 60 + ": {") * 60 + "a: [" + "1," * 19_000 + "]" + "}" * 61, "refused 1: names inside"),
        (lambda: "a" * 262_144 + "b", "refused 1: the file has 262145 bytes; at most 262144 are read"),
    ],
)
def test_a_document_made_to_cost(tmp_path: Path, text: Callable[[], str], expected: str) -> None:
    path = tmp_path / "kite.airframe.yaml"
    path.write_text(text())
    assert answer(path).startswith(expected)


def test_a_table_of_three_million_rows_stays_small(tmp_path: Path) -> None:
    path = tmp_path / "run.csv"
    with open(path, "w") as file:
        file.write("time_s,current_a\n")
        for start in range(0, 3_000_000, 10_000):
            file.write("".join(f"{row}.25,-3.5\n" for row in range(start, start + 10_000)))
    assert answer(path) == "table 3000000 187500"


@pytest.mark.parametrize(
    ("data", "expected"),
    [
        (lambda: b"a,b\n" + b"x,1\n" * 3_000_000, "refused 21: "),
        (lambda: b"a,b\n" + b"1,2," * 3_000_000, "refused 1: a line of more than 65536 bytes; reading stopped here"),
        (lambda: b'a,b\n"' + b"\n1,2" * 3_000_000, "refused 1: a quote is not closed"),
        (lambda: b"a,b\n1,2\n" + b"\n" * 3_000_000, "table 1 1"),
        (lambda: b'"' * 65_000, "refused 1: "),
        (lambda: b'"' * 65_001, "refused 1: "),
        (lambda: b"a,b\n" + b'"' * 65_000, "refused 1: "),
        (lambda: b"a,b\n" + b'"' * 65_001, "refused 1: "),
        (lambda: b'"a' * 32_000 + b"\n", "refused 1: "),
        (lambda: b"a" + b",a" * 30_000 + b"\n", "refused 1: the table has 30001 columns; at most 256 are read"),
        (lambda: b",".join(b"c%d" % n for n in range(256)) + (b"\n" + b"1," * 255 + b"1") * 60_000, "table 60000 15000"),
    ],
)
def test_a_table_made_to_cost(tmp_path: Path, data: Callable[[], bytes], expected: str) -> None:
    path = tmp_path / "run.csv"
    path.write_bytes(data())
    assert answer(path).startswith(expected)
