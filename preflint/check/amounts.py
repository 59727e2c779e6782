"""A number with its unit, a sign or spaces in it, where the number alone is needed."""

import re
from itertools import pairwise

from preflint.load.node import Node
from preflint.load.quoting import shorten
from preflint.places import Place

_AMOUNT = re.compile(
    r"([-+]?)([0-9][0-9 '’\u00a0\u2009\u202f_]{0,30}?)([.,][0-9]{1,20})?"
    r"""\s*([^\W\d_].{0,20}|[°º%"″”].{0,20}|'')?""",
    re.DOTALL,
)
_GROUPED = re.compile(r"[1-9][0-9]{0,2}(?:([ '’\u00a0\u2009\u202f_])[0-9]{3})(?:\1[0-9]{3})*")

# How people write the unit that a name ends in, small letters; first as it is shown.
_WRITTEN = {
    "a": ("A", "a", "amp", "amps", "ampere", "amperes"),
    "c": ("°C", "c", "°c", "degc"),
    "deg": ("degrees", "deg", "°", "º", "degree", "degrees"),
    "g": ("g", "gram", "grams"),
    "hpa": ("hPa", "hpa", "mbar"),  # the same size
    "in": ("inches", "in", "inch", "inches", '"', "″", "''", "”"),
    "m": ("m", "metre", "metres", "meter", "meters"),
    "mah": ("mAh", "mah"),
    "mgauss": ("mGauss", "mgauss", "mg"),
    "mm": ("mm",),
    "mohm": ("mΩ", "mohm", "mω"),
    "mv": ("mV", "mv"),
    "percent": ("percent", "%", "pct"),
    "s": ("s", "sec", "second", "seconds"),
    "ut": ("µT", "ut", "µt", "μt"),
    "v": ("V", "v", "volt", "volts"),
}
_MILLI = ("mv", "mohm", "mgauss")  # of which a capital M makes something else


def number_alone(text: str, name: str) -> str | None:
    """What to write instead of ``5 mm`` or ``1'300`` as the value of the entry ``name``; None for anything else."""
    found = _AMOUNT.fullmatch(text.strip())
    if not found:
        return None
    sign, whole, rest, unit = found.groups()
    whole = whole.strip()
    if not whole.isdecimal():
        if not _GROUPED.fullmatch(whole):
            return None
        whole = "".join(filter(str.isdecimal, whole))
    elif rest and rest[0] == "," and len(rest) == 4 and whole != "0":
        return None  # nobody can tell whether the comma sets off thousands
    number = f"{'-' if sign == '-' else ''}{int(whole)}{(rest or '').replace(',', '.')}"
    if unit is None:
        return f"write {number}"
    unit = unit.strip()
    own = "" if "_per_" in name else name.rpartition("_")[2]
    if name == "cells" and unit in ("S", "s"):
        return f"the name says that cells are counted: write {number}"
    if own not in _WRITTEN:
        return f"write the number alone, without {shorten(unit)}"
    if unit.casefold() in _WRITTEN[own] and not (own in _MILLI and unit.startswith("M")):
        return f"the unit stands in the name {shorten(name)}: write {number}"
    return f"the name {shorten(name)} says {_WRITTEN[own][0]}: write the number in that unit, without {shorten(unit)}"


def cut_number(row: Node, excess: int) -> tuple[Place, str] | None:
    """Where a list that is ``excess`` too long has two numbers that a decimal comma made of one, and that number.

    None where nobody can tell: every pair written without a space after its comma must be one of them.
    """
    cells = row.value if isinstance(row.value, tuple) else ()
    pairs = [
        (first, second)
        for first, second in pairwise(cells)
        if second.text.isdecimal() and type(first.value) is int and second.place.line == first.place.end_line
        and second.place.column == first.place.end_column + 1
    ]  # fmt: skip
    if not 0 < excess == len(pairs):
        return None
    first, second = pairs[0]
    place = first.place._replace(end_line=second.place.end_line, end_column=second.place.end_column)
    return place, f"{first.text},{second.text}"


def two_numbers(written: str) -> str:
    """What to say about ``11,0`` in a list."""
    whole, _, rest = written.partition(",")
    number = shorten(f"{whole}.{rest}")
    return f"a list makes two numbers of {shorten(written)}; write a point as decimal sign: {number}"
