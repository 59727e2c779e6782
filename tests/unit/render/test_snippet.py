"""A line with a mark under the place: what stands above the mark is what the place names, in any width."""

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from preflint.errors import LONGEST_LINE, Line, NotRead, Problem
from preflint.places import Place
from preflint.render.escape import letters
from preflint.render.fold import columns
from preflint.render.snippet import MARK, snippet
from preflint.render.text import render_text


def shown(text: str, start: int, end: int, width: int = 40, ascii_only: bool = False) -> list[str]:
    """``text[start:end]`` marked."""
    place = Place("a", 1, start + 1, 1, end + 1)
    return list(snippet(Line.about(text, place), place, width, ascii_only))


@pytest.mark.parametrize(("text", "start", "end", "lines"), [
    ("spin: clockwise", 6, 15, ["spin: clockwise", "      ========= here"]),
    ("    spin: clockwise", 10, 19, ["spin: clockwise", "      ========= here"]),
    ("a: [1,", 6, 6, ["a: [1,", "      = here"]),
    ("", 0, 0, ["", "= here"]),
    ("\tspin: cw", 0, 1, ["\\x09spin: cw", "==== here"]),
    ("24.1\t24.2\tx", 10, 11, ["24.1  24.2  x", "            = here"]),
    ("名前: 鳥x", 5, 6, ["名前: 鳥x", "        = here"]),
    ("name: e\u0301t\u0301 x", 11, 12, ["name: e\u0301t\u0301 x", "         = here"]),
    ("a\x1b[31mb: x", 8, 9, ["a\\x1b[31mb: x", "           = here"]),
    ("::error::x", 9, 10, [":\\x3aerror:\\x3ax", "               = here"]),
    ("first: 1, second: 22, third: 333, fourth: 4444", 42, 46,
     ["...cond: 22, third: 333, fourth: 4444", "                            here ===="]),
])  # fmt: skip
def test_the_mark_stands_under_the_place(text: str, start: int, end: int, lines: list[str]) -> None:
    assert shown(text, start, end) == lines


def test_ascii_writes_other_letters_as_codes() -> None:
    assert shown("Ω: 12x", 5, 6, ascii_only=True) == ["\\u03a9: 12x", "          = here"]


def test_a_place_of_several_lines_is_marked_to_the_end_of_its_first() -> None:
    place = Place("a", 1, 4, 3, 2)
    assert snippet(Line("a: [1,"), place, 40) == ("a: [1,", "   === here")


TEXT = st.text(st.sampled_from("ab :#\t\u0301鳥\x1b\u200b\u2800é\U0001f681"), max_size=900)


@settings(derandomize=True, deadline=None, max_examples=500)
@given(TEXT, st.integers(0, 900), st.integers(0, 60), st.integers(20, 100), st.booleans())
@example("x" * 900, 899, 1, 20, False)
@example("鳥" * 20, 20, 0, 40, False)
def test_in_any_width_what_is_marked_is_what_the_place_names(
    text: str, start: int, length: int, width: int, ascii_only: bool
) -> None:
    start = min(start, len(text))
    end = min(start + length, len(text))
    place = Place("a", 1, start + 1, 1, end + 1)
    line = Line.about(text, place)
    assert line.text == text[line.column - 1 : line.column - 1 + LONGEST_LINE]
    above, below = snippet(line, place, width, ascii_only)
    assert columns(above) <= width
    assert len(below) <= width
    assert above.isprintable()
    assert set(below) <= set(MARK + " here")
    at, marks = below.index(MARK), below.count(MARK)
    assert marks >= 1
    if start == end:
        assert start < len(text) or at >= columns(above)
        return
    # The stretch above the mark, cut out column by column, is how the place begins.
    over = cut(above, at, marks)
    cells = letters(line.text, ascii_only)[start - line.column + 1 : end - line.column + 1]
    assert "".join(cells).rstrip().startswith(over.rstrip()) or columns("".join(cells)) == 0
    assert len(over.rstrip()) >= min(len("".join(cells).rstrip()), 4)


def cut(text: str, at: int, length: int) -> str:
    """The letters that stand in ``length`` columns from column ``at`` on, both from 0."""
    used, found = 0, ""
    for letter in text:
        wide = columns(letter)
        if at <= used < at + length and (wide or found):
            found += letter
        used += wide
    return found


def test_equal_mistakes_are_told_once(report) -> None:
    problems = [
        Problem("write a point", Place("a.csv", line, 3, line, 6), Line(f"1;2{line}"), alike="comma")
        for line in (*range(2, 13), 14, 14)
    ]
    other = Problem("other", Place("a.csv", 20, 1, 20, 2))
    text = render_text(report(not_read=(NotRead("a.csv", [*problems, other]),)))
    assert """
    a.csv: 14 problems
      a.csv:2:3 write a point
            1;22
              == here
          and 12 times more, on 11 more lines: 3, 4, 5, 6, 7, 8, 9, 10, 11, 12,
          ...
      a.csv:20:1 other
""" in text
