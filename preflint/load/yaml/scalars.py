"""What an unquoted value means; whatever two readers of YAML could take for different values is refused."""

import re
from decimal import Decimal
from functools import lru_cache

from preflint.load.limits import MAX_KEY, MAX_MAGNITUDE, MAX_NUMBER
from preflint.load.node import Scalar
from preflint.load.numbers import NUMBER, plain_decimal, plain_lookalike
from preflint.load.quoting import in_quotes, shorten, show
from preflint.load.spaces import ODD_SPACE, holds_curly, in_curly_quotes, odd_space

# Every part of these patterns can match in one way only: a long text must not cost its length squared.
_NUMBER_LIKE = re.compile(r"[-+]?(?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+)")

_YES_OR_NO = {"y": "true", "yes": "true", "on": "true", "true": "true"}
_YES_OR_NO |= {"n": "false", "no": "false", "off": "false", "false": "false"}
_WORDS_OF_OTHERS = frozenset({*_YES_OR_NO, "null"})  # that some reader takes for no text
# What nobody takes for anything but text, save those words, and dates, which are text here: most of what a manifest
# holds.
_TEXT = re.compile(r"[A-Za-z](?:[A-Za-z0-9 ,._-]*[A-Za-z0-9])?|[0-9]{4}-[0-9]{2}-[0-9]{2}(?: [0-9]{2}:[0-9]{2})?")
_NAME = re.compile(r"[a-z][a-z0-9_-]*")
_COMMA_NUMBER = re.compile(r"[-+]?[0-9]+,[0-9]+")
_LEADING_ZERO = re.compile(r"[-+]?0[0-9]+(?:\.[0-9]*)?")
_COLONS = re.compile(r"[-+]?[0-9][0-9_]*(?::[0-9]+)+(?:\.[0-9_]*)?")
_EXPONENT = re.compile(r"[-+]?(?:[0-9][0-9_]*(?:\.[0-9_]*)?|\.[0-9][0-9_]*)[eE][-+]?[0-9]+")
# As programs write small numbers: whoever takes it for a number at all takes it for this one.
_SCIENTIFIC = re.compile(r"-?(?:0|[1-9][0-9]*)(?:\.[0-9]+)?[eE][-+][0-9]{1,3}")
_LEAST = 1e-300  # below it a number loses its digits
_NOT_FINITE = re.compile(r"[-+]?\.(?:inf|Inf|INF)|\.(?:nan|NaN|NAN)")

Word = tuple[Scalar, str]
"""A value, and how it was written."""


class Ambiguous(ValueError):
    """An unquoted value that is refused; the message says what to write instead, ``alike`` names the mistake."""

    def __init__(self, message: str, alike: str = "") -> None:
        super().__init__(message)
        self.alike = alike


def plain_value(text: str) -> Scalar:
    """The value of an unquoted, non-empty scalar: true or false, a decimal number (1.5e-05 too), else text.

    Raises:
        Ambiguous: a form of the closed list that other readers take for something else.
    """
    if _TEXT.fullmatch(text) and text.lower() not in _WORDS_OF_OTHERS:
        return text
    if len(text) <= MAX_NUMBER and (number := NUMBER.fullmatch(text)):
        return float(text) if number[1] else int(text)
    if in_curly_quotes(text):
        raise Ambiguous(f"{shorten(text)} stands in curly quotes, which are letters here; write plain quotes, or none")
    if text in ("true", "false"):
        return text == "true"
    if len(text) > MAX_NUMBER and _NUMBER_LIKE.fullmatch(text):
        raise Ambiguous(f"a number of {len(text)} characters; no reading has more than {MAX_NUMBER}")
    if len(text) <= MAX_NUMBER and _SCIENTIFIC.fullmatch(text) and _LEAST < abs(float(text)) < MAX_MAGNITUDE:
        return float(text)
    if instead := _instead(text):
        alike = "comma" if _COMMA_NUMBER.fullmatch(text) else ""
        raise Ambiguous(f"{instead}; if it is text, write {in_quotes(shorten(text))}", alike)
    if instead := plain_lookalike(text):
        raise Ambiguous(f"{in_quotes(show(text))} holds characters that only look like a number's; write {instead}")
    if text != text.strip():
        raise Ambiguous(odd_space(text[0] if text[0].isspace() else text[-1]))
    return text


@lru_cache(4096)
def plain_word(text: str) -> Word | None:
    """Of an unquoted scalar of one word; None of any other, and where it is refused.

    The same few words come again and again, within a document and from one to the next: they are kept once. So none
    may be long.
    """
    if text.split() != [text]:
        return None
    try:
        return plain_value(text), text
    except Ambiguous:
        return None


@lru_cache(1024)
def plain_name(text: str) -> str | None:
    """The name itself, kept once as words are, where it is one word and right without quotes; else None."""
    return text if " " not in text and bad_name(text, plain=True) is None else None


def bad_name(name: str, plain: bool) -> str | None:
    """What is wrong with the name of an entry, or None; ``plain`` is true where it is not in quotes."""
    if _NAME.fullmatch(name) and len(name) <= MAX_KEY and name not in _WORDS_OF_OTHERS:
        return None
    if holds_curly(name):
        return "curly quotes are letters here; write the name without quotes"
    if odd := ODD_SPACE.search(name):
        return odd_space(odd[0])
    if plain and ("{" in name or "[" in name):
        return "a colon and a space are missing before the bracket"
    if name == "" or not (name.isascii() and name.isprintable()):
        return f"the name {in_quotes(shorten(ascii(name)[1:-1]))} must be of plain letters, digits and hyphens"
    if len(name) > MAX_KEY:
        return f"a name of {len(name)} characters; at most {MAX_KEY} are read"
    if not plain:
        return None
    if name == "<<":
        return "<< (merging another group in) is not used here; write the entries out"
    try:
        is_text = isinstance(plain_value(name), str)
    except Ambiguous:
        is_text = False
    return None if is_text else f"a name must be text; write {in_quotes(shorten(name))} with the quotes"


def _instead(text: str) -> str | None:
    if word := _YES_OR_NO.get(text.lower()):
        return f"{in_quotes(text)} is read differently by different programs; write {word}"
    if text == "~" or text.lower() == "null":
        return f"{in_quotes(text)} stands for nothing; write the value, or leave the entry out"
    if _LEADING_ZERO.fullmatch(text):
        return f"{in_quotes(shorten(text))} begins with a zero; write the number without it"
    if decimal := plain_decimal(text):
        return decimal
    if _COLONS.fullmatch(text):
        return f"{in_quotes(shorten(text))} is read as a number by some programs; write a time of day in quotes"
    if _EXPONENT.fullmatch(text):
        return f"{in_quotes(shorten(text))} has an exponent; {_written_out(text)}"
    if _NOT_FINITE.fullmatch(text):
        return f"{in_quotes(text)} is not a reading; write the number, or leave the entry out"
    return _sign_or_point(text)


def _sign_or_point(text: str) -> str | None:
    """``+5``, ``.5`` and ``5.``: numbers to some readers, text to others."""
    if not _NUMBER_LIKE.fullmatch(text):
        return None
    number = text.removeprefix("+").removesuffix(".")
    if number.startswith((".", "-.")):
        number = number.replace(".", "0.", 1)
    what = "a plus sign" if text.startswith("+") else "a decimal point without digits on both sides"
    return f"{in_quotes(shorten(text))} has {what}; write {number}"


def _written_out(text: str) -> str:
    if len(text) <= 20:
        number = Decimal(text.replace("_", ""))
        if number.is_finite() and abs(number.adjusted()) <= 15:
            return f"write {number.normalize():f}"
    return "write the number out in full"
