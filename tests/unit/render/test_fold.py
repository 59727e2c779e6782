"""Folding keeps to the width and loses nothing; widths are checked against the wcwidth library."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from wcwidth import wcswidth

from preflint.render.fold import columns, fold

WORDS = st.text(st.sampled_from("ab-.:é鳥가e\u0301"), min_size=1, max_size=30)


@pytest.mark.parametrize("text", ["plain", "é", "e\u0301", "鳥は飛ぶ", "가나", "ＡＢ", "µT ± 0.5", "🛩", "🚁x"])
def test_columns_are_those_of_a_terminal(text: str) -> None:
    assert columns(text) == wcswidth(text)


def test_the_first_line_and_the_others_begin_differently() -> None:
    assert fold("one two three", 9, "1. ", "   ") == ["1. one", "   two", "   three"]


def test_a_long_word_is_cut_and_stays_whole() -> None:
    assert fold("x abcdefghij y", 6, "", " ") == ["x", " abcde", " fghij", " y"]


def test_a_line_may_be_full_but_no_fuller() -> None:
    assert fold("abc de", 6) == ["abc de"]
    assert fold("abc def", 6) == ["abc", "def"]


def test_a_margin_wider_than_the_line_still_comes_to_an_end() -> None:
    assert fold("abc de", 2, "", "      ") == ["ab", "      c", "      de"]


def test_nothing_is_one_line() -> None:
    assert fold("", 10, "- ") == ["- "]


@settings(derandomize=True, deadline=None, max_examples=300)
@given(st.lists(WORDS), st.integers(8, 40))
def test_no_line_is_too_wide_and_no_letter_is_lost(words: list[str], width: int) -> None:
    lines = fold(" ".join(words), width, "[1] ", "    ")
    assert all(wcswidth(line) <= width for line in lines)
    assert "".join(line[4:] for line in lines).replace(" ", "") == "".join(words)
    assert lines[0].startswith("[1] ")
    assert all(line.startswith("    ") for line in lines[1:])
