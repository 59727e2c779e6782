"""Where a value stands: the file, the pointer to it and its line and column."""

from typing import NamedTuple


class Place(NamedTuple):
    """One stretch of text in one file.

    Lines and columns are 1-based and count code points; ``end_column`` is the column just after the
    last character. ``file`` is what a person is shown: its name in its tree, with forward slashes.
    ``pointer`` is a JSON pointer (RFC 6901) into the document that ``file`` holds; it is "" for the
    whole document and for a table in a CSV file.
    """

    file: str
    line: int
    column: int
    end_line: int
    end_column: int
    pointer: str = ""


def join_pointer(pointer: str, step: str | int) -> str:
    """The pointer one step further down (RFC 6901: ``~`` becomes ``~0``, ``/`` becomes ``~1``)."""
    return f"{pointer}/{str(step).replace('~', '~0').replace('/', '~1')}"
