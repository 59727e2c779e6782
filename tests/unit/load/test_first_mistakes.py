"""Files that are no manifest at all, and files that version control left half merged."""

from pathlib import Path

import pytest

from preflint.errors import Line, NotRead, UsageError
from preflint.load.tables.table import read_table
from preflint.load.tree import Tree
from preflint.load.yaml.events import load_yaml
from preflint.places import Place
from preflint.policy.source import named_policy

DOCUMENT = "the file is an archive, a workbook or a document; unpack it, or save it as plain text, a sheet as CSV"
PAGE = "the file is a web page; fetch the file itself, not the page that shows it"
MARKS = (
    "this file has an unresolved merge, with marks on lines 2, 4, 6, 8: keep one of the versions between them, "
    "and delete the marks"
)
MERGED = "preflint: 1\n<<<<<<< HEAD\na: 1\n||||||| 1f2e3d4\na: 2\n=======\na: 3\n>>>>>>> other\n"


@pytest.mark.parametrize(("data", "said"), [
    (b"PK\x03\x04\x14\x00", DOCUMENT),
    (b"{\\rtf1\\ansi preflint: 1}", DOCUMENT),
    (b"%PDF-1.7\n", DOCUMENT),
    (b"<!DOCTYPE html>\n<html>", PAGE),
    (b"\xef\xbb\xbf  <HTML lang=en>\n", PAGE),
    ("preflint: 1\n".encode("utf-16"), "the file is saved as UTF-16; save it as UTF-8"),
    ("preflint: 1\n".encode("utf-16-le"),
     "the file holds zero bytes, as UTF-16, UTF-32 and binary files do; save it as UTF-8 text"),
])  # fmt: skip
def test_what_is_no_plain_text_is_named(data: bytes, said: str, tmp_path: Path) -> None:
    with pytest.raises(NotRead) as refused:
        load_yaml(data, "a.airframe.yaml")
    assert [problem.message for problem in refused.value.problems] == [said]
    (tmp_path / "run.csv").write_bytes(data)
    with pytest.raises(NotRead) as refused:
        read_table(Tree(tmp_path, None), "run.csv")
    assert [problem.message for problem in refused.value.problems] == [said]


@pytest.mark.parametrize("end", ["\n", "\r\n"])
def test_marks_of_a_merge_are_the_only_problem(end: str) -> None:
    with pytest.raises(NotRead) as refused:
        load_yaml(MERGED.replace("\n", end).encode(), "a.airframe.yaml")
    (problem,) = refused.value.problems
    assert problem.message == MARKS
    assert problem.place == Place("a.airframe.yaml", 2, 1, 2, 13)
    assert problem.line == Line("<<<<<<< HEAD")


def test_marks_in_a_policy_are_named(tmp_path: Path) -> None:
    (tmp_path / "preflint.yaml").write_text(MERGED)
    with pytest.raises(UsageError) as refused:
        named_policy(tmp_path / "preflint.yaml")
    assert str(refused.value) == f"the policy cannot be read: preflint.yaml:2:1: {MARKS}"
    assert (refused.value.said, refused.value.problems[0].line) == ("the policy cannot be read", Line("<<<<<<< HEAD"))


def test_text_that_only_looks_like_a_mark_is_read() -> None:
    text = 'a: "<<<<<<< HEAD"\nb: |\n  =======\n  >>>>>>> x\n# =======\n'
    assert load_yaml(text.encode(), "a").plain() == {"a": "<<<<<<< HEAD", "b": "=======\n>>>>>>> x\n"}


def test_a_bad_byte_is_shown_in_its_line() -> None:
    with pytest.raises(NotRead) as refused:
        load_yaml(b"a: 1\nname: Gr\xfcn\n", "a.airframe.yaml")
    (problem,) = refused.value.problems
    assert problem.message == "the byte 0xFC at offset 13 is not UTF-8; save the file as UTF-8"
    assert (problem.place, problem.line) == (Place("a.airframe.yaml", 2, 9, 2, 10), Line("name: Gr\ufffdn"))
