"""What an unquoted value means; whatever two readers of YAML could take differently is refused."""

import re
import unicodedata
from decimal import Decimal

from preflint.load.limits import MAX_KEY, MAX_NUMBER
from preflint.load.node import Scalar

_INTEGER = re.compile(r"-?(?:0|[1-9][0-9]*)")
_FLOAT = re.compile(r"-?(?:0|[1-9][0-9]*)\.[0-9]+")
# Every part of these patterns can match in one way only: a long text must not cost its length squared.
_NUMBER_LIKE = re.compile(r"[-+]?(?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+)")

_YES_OR_NO = {"y": "true", "yes": "true", "on": "true", "true": "true"}
_YES_OR_NO |= {"n": "false", "no": "false", "off": "false", "false": "false"}
_LEADING_ZERO = re.compile(r"[-+]?0[0-9]+(?:\.[0-9]*)?")
_OTHER_BASE = re.compile(r"[-+]?0(?:[xX][0-9a-fA-F_]+|[oO][0-7_]+|[bB][01_]+)")
_COLONS = re.compile(r"[-+]?[0-9][0-9_]*(?::[0-9]+)+(?:\.[0-9_]*)?")
_EXPONENT = re.compile(r"[-+]?(?:[0-9][0-9_]*(?:\.[0-9_]*)?|\.[0-9][0-9_]*)[eE][-+]?[0-9]+")
_UNDERSCORES = re.compile(r"(?=.*_)[-+]?[0-9][0-9_]*(?:\.[0-9_]*)?")
_COMMAS = re.compile(r"(?=.*,)[-+]?[0-9]+(?:[.,][0-9]+)*,?")
_ONE_COMMA = re.compile(r"([-+]?[0-9]+),([0-9]+)")
_THOUSANDS = re.compile(r"[-+]?[1-9][0-9]{0,2}(?:,[0-9]{3}){1,5}(?:\.[0-9]{1,20})?")
_NOT_FINITE = re.compile(r"[-+]?\.(?:inf|Inf|INF)|\.(?:nan|NaN|NAN)")
_MINUS_SIGNS = "\u2010\u2011\u2012\u2013\u2212\ufe63\uff0d"


class Ambiguous(ValueError):
    """An unquoted value that is refused; the message says what to write instead."""


def plain_value(text: str) -> Scalar:
    """The value of an unquoted, non-empty scalar: true or false, a decimal number, else text.

    Raises:
        Ambiguous: a form of the closed list that other readers take for something else.
    """
    if text in ("true", "false"):
        return text == "true"
    if _NUMBER_LIKE.fullmatch(text) and len(text) > MAX_NUMBER:
        raise Ambiguous(f"a number of {len(text)} characters; no reading has more than {MAX_NUMBER}")
    if _INTEGER.fullmatch(text):
        return int(text)
    if _FLOAT.fullmatch(text):
        return float(text)
    if instead := _instead(text):
        raise Ambiguous(f"{instead}; if it is text, write {in_quotes(shorten(text))}")
    if number := plain_lookalike(text):
        raise Ambiguous(f"{in_quotes(show(text))} holds characters that only look like a number's; write {number}")
    return text


def bad_name(name: str, plain: bool) -> str | None:
    """What is wrong with the name of an entry, or None; ``plain`` is true where it is not in quotes."""
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


def in_quotes(text: str) -> str:
    return f'"{text}"'


def shorten(text: str, length: int = 40) -> str:
    """The text on one line, cut to what a message can hold, with characters nobody sees as codes."""
    line = show(" ".join(text[:1000].split()))
    return line if len(line) <= length else line[: length - 1] + "…"


def show(text: str) -> str:
    """The text with control characters, unseen ones and bytes that are not UTF-8 written as codes."""
    return "".join(c if c.isprintable() else c.encode("unicode_escape").decode("ascii") for c in text)


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


def plain_decimal(text: str) -> str | None:
    """What to write instead of a number in another base, with underscores or with commas; None for anything else."""
    if _OTHER_BASE.fullmatch(text):
        return f"{in_quotes(shorten(text))} is not a decimal number; write it in decimal"
    if _UNDERSCORES.fullmatch(text):
        return f"{in_quotes(shorten(text))} has underscores in a number; {_without(text, '_')}"
    return _comma(text) if _COMMAS.fullmatch(text) else None


def _sign_or_point(text: str) -> str | None:
    """``+5``, ``.5`` and ``5.``: numbers to some readers, text to others."""
    if not _NUMBER_LIKE.fullmatch(text):
        return None
    number = text.removeprefix("+").removesuffix(".")
    if number.startswith((".", "-.")):
        number = number.replace(".", "0.", 1)
    what = "a plus sign" if text.startswith("+") else "a decimal point without digits on both sides"
    return f"{in_quotes(shorten(text))} has {what}; write {number}"


def _comma(text: str) -> str:
    if text.endswith(","):
        return f"{in_quotes(shorten(text))} ends in a comma; write {shorten(text[:-1])}"
    if _THOUSANDS.fullmatch(text):
        number = text.replace(",", "")
        if text.count(",") > 1 or "." in text:
            return f"{in_quotes(text)} has commas; write {number}"
        point = text.replace(",", ".")
        return (
            f"{in_quotes(text)} has a comma; write {point} if it is the decimal sign, {number} if it sets off thousands"
        )
    if one := _ONE_COMMA.fullmatch(text):
        return f"{in_quotes(shorten(text))} has a comma; the decimal sign is a point: write {one[1]}.{one[2]}"
    return f"{in_quotes(shorten(text))} has commas; write the number with a decimal point and no other signs"


def _written_out(text: str) -> str:
    if len(text) <= 20:
        number = Decimal(text.replace("_", ""))
        if number.is_finite() and abs(number.adjusted()) <= 15:
            return f"write {number.normalize():f}"
    return "write the number out in full"


def _without(text: str, sign: str) -> str:
    number = text.replace(sign, "").removeprefix("+")
    if _INTEGER.fullmatch(number) or _FLOAT.fullmatch(number):
        return f"write {shorten(number)}"
    return "write the digits only"


def plain_lookalike(text: str) -> str | None:
    """The number that text would be with plain digits, a plain minus and no unusual spaces, or None."""
    if text.isascii() or len(text) > MAX_NUMBER:
        return None
    signs = ("-" if c in _MINUS_SIGNS else str(unicodedata.decimal(c)) if c.isdecimal() else c for c in text)
    number = "".join(sign for sign in signs if not sign.isspace())
    return number if _INTEGER.fullmatch(number) or _FLOAT.fullmatch(number) else None
