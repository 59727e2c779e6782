"""Whether the numbers of a table have a decimal point or a decimal comma: one of them throughout."""

import re
from typing import Literal

from preflint.load.quoting import in_quotes, shorten
from preflint.load.tables.lines import NUMBER, BadNumber

Sign = Literal[".", ","]

_MAY_SET_OFF_THOUSANDS = re.compile(r"[-+]?[1-9][0-9]{0,2},[0-9]{3}")
_NAMES = {".": "point", ",": "comma"}


class DecimalSign:
    """Of one table; where commas separate the columns it can be a point only.

    ``sign`` is None until a number has one. A comma is a decimal sign for sure once a number has it where no
    thousands can be set off: 24,1 or 0,500, but not 1,234.
    """

    def __init__(self, delimiter: str) -> None:
        self.sign: Sign | None = "." if delimiter == "," else None
        self.sure = self.sign is not None
        self._may_be_comma = delimiter != ","
        self._first = 1

    @property
    def unsettled(self) -> bool:
        """Whether commas were read of which nobody can tell yet what they mean."""
        return self.sign == "," and not self.sure

    def settle(self, sign: Sign, line: int) -> None:
        """Says which one the numbers have from ``line`` on."""
        if self.sign is None:
            self.sign, self._first = sign, line
            self.sure = sign == "."

    def with_point(self, text: str, line: int) -> str:
        """The number ``text`` with a point for its decimal sign; what is none comes back as it is.

        Raises:
            BadNumber: the numbers before it have the other sign.
        """
        comma = "," in text
        plain = text.replace(",", ".")
        if not self._may_be_comma or comma == ("." in text) or not NUMBER.fullmatch(plain):
            return text
        sign: Sign = "," if comma else "."
        self.settle(sign, line)
        if sign != self.sign:
            assert self.sign is not None
            raise BadNumber(
                f"{in_quotes(shorten(text))} has a decimal {_NAMES[sign]}, the numbers from line {self._first} on "
                f"have a decimal {_NAMES[self.sign]}; write one of the two throughout",
                "decimal sign",
            )
        if comma and not _MAY_SET_OFF_THOUSANDS.fullmatch(text):
            self.sure = True
        return plain


def ambiguous(text: str) -> str:
    """What to say where every comma of a table could set off thousands; ``text`` is the first such number."""
    return (
        f"{in_quotes(text)} may be {text.replace(',', '.')} or {text.replace(',', '')}, and no other number of this "
        "table tells; write a decimal point, or the thousands without a comma"
    )
