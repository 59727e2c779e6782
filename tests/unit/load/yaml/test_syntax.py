"""What is not YAML at all is explained in plain words, where the writer must look."""



import pytest

from preflint.errors import NotRead
from preflint.load.yaml.events import load_yaml

NOT_IN_LINE = "this does not line up with the lines above it; entries of one group start in the same column"
CLOSED = "nothing may follow here: the text or list before it is already closed; put the whole text in quotes"
TAB = "a tab stands here; indent and separate with spaces"
CODE = "this is no complete backslash code; for a plain backslash use single quotes"
PERCENT = "a line that begins with % has a meaning of its own; only %YAML 1.1 and %YAML 1.2 are read"
MARKS = "text that begins with & or * has a meaning of its own; put it in quotes"
TAG = "text that begins with ! has a meaning of its own, which is not used here; put it in quotes"
BLOCK = "after | or > the text starts on the next line"
MISSING = "a value is missing before this point; text that begins with a sign such as ] } , needs quotes"
ODD = "a space of another kind stands here (U+00A0, no-break space); replace it with a plain space"
APOSTROPHE = (
    "the text in quotes ends before this point; "
    "an apostrophe inside single quotes is written twice, or use double quotes"
)
NO_COLON = 'a name needs a colon and a space after it, as in "cells: 6"'


@pytest.mark.parametrize(("text", "line", "column", "end_column", "message"), [
    ("a: b: c\n", 1, 5, 6, ("a second colon on the line; put text that holds a colon in quotes, "
     "and another entry on a line of its own")),
    ("a:\u00a0x\nb: 1\n", 1, 3, 4, ODD),
    ("a:\n  b: 1\n \u00a0 c\n", 3, 2, 3, ODD),
    ('a: "x\nb: "y"\n', 1, 4, 5, "this quote is closed only on line 2; close it where its text ends"),
    ("cells:6\npack: a\n", 1, 6, 7, "a space is missing after the colon on this line"),
    ("  - at:left\n    spin: cw\n", 1, 7, 8, "a space is missing after the colon on this line"),
    ("a: 1\n b: 2\n", 2, 2, 3, "this line is indented further than the line above allows"),
    ("a: 1\nfoo\nb: 2\n", 2, 1, 2, NO_COLON),
    ("- a\n-b\n- c\n", 2, 1, 2, NO_COLON),
    ("a:\n  - 1\n - 2\n", 3, 2, 3, ("this list entry starts in column 2, the one above it in column 3; "
     "entries of one list start in the same column")),
    ("a:\n    b: 1\n  c: 2\n", 3, 3, 4, ("this entry starts in column 3, the one above it in column 5; "
     "entries of one group start in the same column")),
    ("- b: 1\n c: 1\n", 2, 2, 3, ("this entry starts in column 2, the one above it in column 3; "
     "entries of one group start in the same column")),
    ("- 1\nb: 1\n", 2, 1, 2, ("this entry starts in column 1, the one above it in column 3; "
     "entries of one group start in the same column")),
    ("a:\n  b: 1\n  # x\n c: 1\n", 4, 2, 3, NOT_IN_LINE),
    ("a: \"x\" y\n", 1, 8, 9, CLOSED),
    ("a: 'O'Neill'\n", 1, 7, 8, APOSTROPHE),
    ("a: {b: 'O'Neill', c: 1}\n", 1, 11, 12, APOSTROPHE),
    ("a: [1, 2] x\n", 1, 11, 12, CLOSED),
    ('"a" b\n', 1, 5, 6, CLOSED),
    ("a: 1\n...\nb: 2\n", 3, 1, 2, "nothing may follow the end of the document"),
    ("a: - 1\n", 1, 4, 5, "a list entry cannot start here; begin it on a line of its own"),
    ("a: ? 1\n", 1, 4, 5, "a question mark cannot start an entry here; put text that begins with it in quotes"),
    ("\ta: 1\n", 1, 1, 2, TAB),
    ("a:\n\tb: 1\n", 2, 1, 2, TAB),
    ("a: x\n\ty\n", 2, 1, 2, TAB),
    ("a: |\n\tx\n", 2, 1, 2, TAB),
    ("a: @x\n", 1, 4, 5, "text cannot begin with @; put it in quotes"),
    ("a: `x`\n", 1, 4, 5, "text cannot begin with `; put it in quotes"),
    ("a: %x\n", 1, 4, 5, "text cannot begin with %; put it in quotes"),
    ("a: 'x\nb: 1\n", 1, 4, 5, "the quote that opens this text is not closed"),
    ('a: "x\nb: 1\n', 1, 4, 5, "the quote that opens this text is not closed"),
    ('a: "x\n---\n', 1, 4, 5, "the quote that opens this text is not closed"),
    ('a: "C:\\qux"\n', 1, 7, 8, CODE),
    ('a: "\\x4"\n', 1, 7, 8, CODE),
    ('a: "\\ud800"\n', 1, 7, 8, CODE),
    ("a: [1, 2\nb: 1\n", 1, 4, 5, "the [ here is not closed: a comma or ] is missing before line 2"),
    ("a: [1, {b: 2]\n", 1, 13, 14, "a comma or the closing } of the group is missing"),
    ("a:\n  {b: 1\nc: 2\n", 2, 3, 4, "the { here is not closed: a comma or } is missing before line 3"),
    ("a: [1,\n", 1, 4, 5, "the [ here is not closed"),
    ("a: [1, {b: 1\n", 1, 8, 9, "the { here is not closed: a comma or } is missing before line 2"),
    ("a: [1,,2]\n", 1, 7, 8, MISSING),
    ("a: ]\n", 1, 4, 5, MISSING),
    ("a: |x\n", 1, 5, 6, BLOCK),
    ("a: |0\n  x\n", 1, 5, 6, BLOCK),
    ("a: *\n", 1, 5, 5, MARKS),
    ("a: &\n", 1, 5, 5, MARKS),
    ("a: !<x y\n", 1, 7, 8, TAG),
    ("a: !e!x y\n", 1, 4, 5, TAG),
    ("%FOO x\n---\na: 1\n", 1, 5, 6, PERCENT),
    ("%YAML 1.3\n---\na: 1\n", 1, 1, 2, PERCENT),
    ("%YAML 99999999999999.1\n---\na: 1\n", 1, 16, 17, PERCENT),
    ("%TAG !a b\n---\na: 1\n", 1, 8, 9, PERCENT),
    ("%YAML 1.1\n%YAML 1.1\n---\na: 1\n", 2, 1, 2, "%YAML is written twice; keep one"),
])
def test_each_mistake_in_plain_words(text: str, line: int, column: int, end_column: int, message: str) -> None:
    with pytest.raises(NotRead) as refused:
        load_yaml(text.encode(), "a.airframe.yaml")
    last = refused.value.problems[-1]
    assert last.message == message
    assert last.place is not None
    assert (last.place.line, last.place.column) == (line, column)
    assert (last.place.end_line, last.place.end_column) == (line, end_column)


@pytest.mark.parametrize("version", ["%YAML 1.1\n---\n", "%YAML 1.2\n---\n", "---\n", ""])
@pytest.mark.parametrize("end", ["", "\n", "\n...\n"])
def test_a_document_may_say_where_it_begins_and_ends(version: str, end: str) -> None:
    assert load_yaml(f"{version}a: 1{end}".encode(), "a").plain() == {"a": 1}


def test_tabs_may_separate_but_not_indent() -> None:
    text = "a:\t1\t# x\nb: [1,\n\t2]\nc: 'x\n\ty'\n"
    assert load_yaml(text.encode(), "a").plain() == {"a": 1, "b": [1, 2], "c": "x y"}
