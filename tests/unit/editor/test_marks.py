"""Places in the units of the protocol: UTF-16 by the Language Server Protocol 3.17, or what was agreed upon."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from preflint.editor.marks import Marks
from preflint.places import Place

# The specification's own example: "a𐐀b" has three characters, and b is at 3 in UTF-16 (Position, LSP 3.17).
TEXT = "a\U00010400b\n\U0001f681: \u00e9x\n"


@pytest.mark.parametrize(("encoding", "of_b", "of_x"), [("utf-16", 3, 5), ("utf-8", 5, 8), ("utf-32", 2, 4)])
def test_an_offset_counts_what_was_agreed_upon(encoding: str, of_b: int, of_x: int) -> None:
    marks = Marks(TEXT, encoding)
    b, x = marks.range(Place("f", 1, 3, 1, 4)), marks.range(Place("f", 2, 5, 2, 6))
    assert (b.start.line, b.start.character, b.end.character) == (0, of_b, of_b + 1)
    assert (x.start.line, x.start.character) == (1, of_x)
    assert marks.column(b.start) == (0, 2)


def test_a_byte_order_mark_stands_before_the_first_line_only() -> None:
    marks = Marks("\ufeffab\ncd", "utf-16")
    assert marks.range(Place("f", 1, 1, 1, 2)).start.character == 1
    assert marks.range(Place("f", 2, 1, 2, 2)).start.character == 0
    assert marks.column(marks.position(0, 1)) == (0, 1)


def test_an_empty_place_marks_the_character_there() -> None:
    found = Marks(TEXT, "utf-16").range(Place("f", 1, 2, 1, 2))
    assert (found.start.character, found.end.character) == (1, 3)


@given(st.text(alphabet="ab\U0001f681\u00e9\n\r", max_size=40), st.integers(-5, 50), st.integers(-5, 50))
def test_any_position_and_place_is_somewhere_in_the_text(text: str, line: int, column: int) -> None:
    marks = Marks(text, "utf-16")
    at = marks.position(line, column)
    row, inside = marks.column(at)
    assert 0 <= row < len(marks.lines)
    assert 0 <= inside <= len(marks.lines[row])
    assert marks.column(marks.position(row, inside)) == (row, inside)
