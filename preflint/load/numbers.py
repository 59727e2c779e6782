"""Text that is a decimal number, and text that nearly is one: what to write instead."""

import re
import unicodedata

from preflint.load.limits import MAX_NUMBER
from preflint.load.quoting import in_quotes, shorten

# Every part of these patterns can match in one way only: a long text must not cost its length squared.
NUMBER = re.compile(r"-?(?:0|[1-9][0-9]*)(\.[0-9]+)?")
_OTHER_BASE = re.compile(r"[-+]?0(?:[xX][0-9a-fA-F_]+|[oO][0-7_]+|[bB][01_]+)")
_UNDERSCORES = re.compile(r"(?=.*_)[-+]?[0-9][0-9_]*(?:\.[0-9_]*)?")
_COMMAS = re.compile(r"(?=.*,)[-+]?[0-9]+(?:[.,][0-9]+)*,?")
_ONE_COMMA = re.compile(r"([-+]?[0-9]+),([0-9]+)")
_THOUSANDS = re.compile(r"[-+]?[1-9][0-9]{0,2}(?:,[0-9]{3}){1,5}(?:\.[0-9]{1,20})?")
_DIGITS_AND_COMMA = re.compile(r"(?<![^\s:])([-+]?[0-9]+(?:,[0-9]+)*),\Z")
_MINUS_SIGNS = "\u2010\u2011\u2012\u2013\u2212\ufe63\uff0d"


def plain_decimal(text: str) -> str | None:
    """What to write instead of a number in another base, with underscores or with commas; None for anything else."""
    if _OTHER_BASE.fullmatch(text):
        return f"{in_quotes(shorten(text))} is not a decimal number; write it in decimal"
    if _UNDERSCORES.fullmatch(text):
        return f"{in_quotes(shorten(text))} has underscores in a number; {_without(text, '_')}"
    return _comma(text) if _COMMAS.fullmatch(text) else None


def cut_by_commas(content: str, start: int, end: int) -> tuple[str, int, bool] | None:
    """The number ``1,300`` of which a flow group made two entries; ``content[start:end]`` is the second of them.

    With it where it begins, and whether it ends there; None where these are no parts of one number.
    """
    before = _DIGITS_AND_COMMA.search(content, max(0, start - MAX_NUMBER), start)
    if not before or not content[start:end].isdecimal() or content[end : end + 1] == ":":
        return None
    begin = before.start(1)
    goes_on = content[end : end + 1] == "," and content[end + 1 : end + 2].isdecimal()
    return content[begin:end], begin, not goes_on


def plain_lookalike(text: str) -> str | None:
    """The number that text would be with plain digits, a plain minus and no unusual spaces, or None."""
    if text.isascii() or len(text) > MAX_NUMBER:
        return None
    signs = ("-" if c in _MINUS_SIGNS else str(unicodedata.decimal(c)) if c.isdecimal() else c for c in text)
    number = "".join(sign for sign in signs if not sign.isspace())
    return number if NUMBER.fullmatch(number) else None


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


def _without(text: str, sign: str) -> str:
    number = text.replace(sign, "").removeprefix("+")
    if NUMBER.fullmatch(number):
        return f"write {shorten(number)}"
    return "write the digits only"
