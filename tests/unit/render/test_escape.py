"""Nothing that a file, a name or a rule says can reach a terminal or a CI log but as plain letters."""

import unicodedata

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from preflint.render.escape import printable

HOSTILE = {
    "a\x1b[2Jb": "a\\x1b[2Jb",
    "a\rb\nc\td\x00": "a\\x0db\\x0ac\\x09d\\x00",
    "\x9b1A": "\\x9b1A",
    "abc\u202edef": "abc\\u202edef",
    "\u2066x\u2069": "\\u2066x\\u2069",
    "line\u2028\u2029\x85end": "line\\u2028\\u2029\\x85end",
    "\ud800": "\\ud800",
    "zero\u200bwidth\ufeff\u00ad": "zero\\u200bwidth\\ufeff\\xad",
    "tag\U000e0041": "tag\\U000e0041",
    "no\u00a0break\u3000wide": "no\\xa0break\\u3000wide",
    "\u3164\u115f\u2800": "\\u3164\\u115f\\u2800",
    "::error file=x::y": ":\\x3aerror file=x:\\x3ay",
    ":::": ":\\x3a:",
    "##[error]x": "#\\x23[error]x",
    "##vso[task.setvariable]": "#\\x23vso[task.setvariable]",
    "##teamcity[x]": "#\\x23teamcity[x]",
    "e\u0301e\u0301\u0302\u0303": "e\u0301e\u0301\u0302\\u0303",
    "\u0301x": "\\u0301x",
    "x \u0301": "x \\u0301",
    "a\ufe0f": "a\\ufe0f",
}


@pytest.mark.parametrize(("text", "shown"), HOSTILE.items())
def test_hostile_text_is_shown_as_codes(text: str, shown: str) -> None:
    assert printable(text) == shown


@pytest.mark.parametrize("text", ["Wagtail 2", "Kröte", "鳥", "12 µT ± 0.5 µT", "a:b #1 C:\\x", "हिन्दी"])
def test_plain_text_stays(text: str) -> None:
    assert printable(text) == text


def test_on_an_ascii_console_our_signs_are_spelled_and_the_owners_letters_become_codes() -> None:
    assert printable("0.1 µT ± 2°, 9.8 m/s² …", ascii_only=True, ours=True) == "0.1 uT +/- 2 deg, 9.8 m/s^2 ..."
    assert printable("µ鳥é", ascii_only=True) == "\\xb5\\u9ce5\\xe9"
    assert printable("鳥", ascii_only=True, ours=True) == "\\u9ce5"


@settings(derandomize=True, deadline=None, max_examples=500)
@given(st.text(st.one_of(st.characters(), st.sampled_from(":#[\x1b\u202e\u0301 a"))), st.booleans(), st.booleans())
def test_whatever_comes_nothing_but_plain_letters_leaves(text: str, ascii_only: bool, ours: bool) -> None:
    shown = printable(text, ascii_only, ours)
    assert all(c == " " or unicodedata.category(c)[0] not in "CZ" for c in shown)
    assert "::" not in shown
    assert "##" not in shown
    assert shown.isascii() or not ascii_only
    assert printable(shown, ascii_only, ours) == shown
