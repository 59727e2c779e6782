"""Standard input, output and error: each is there, whatever the caller closed."""

import os
import sys
from io import TextIOWrapper


def complete_streams() -> None:
    """Takes the place of those that were closed, so that no other file gets their number.

    What is closed for output cannot be written, and whoever writes is told; what is said to nobody is no error.
    """
    sys.stdin = sys.stdin or _empty(os.O_RDONLY, "r")
    sys.stdout = sys.stdout or _empty(os.O_RDONLY, "w")
    sys.stderr = sys.stderr or _empty(os.O_WRONLY, "w")


def _empty(access: int, mode: str) -> TextIOWrapper:
    # The lowest number that is free, so in this order that of the stream itself.
    return TextIOWrapper(os.fdopen(os.open(os.devnull, access), f"{mode}b"), encoding="utf-8")


def finish_streams() -> None:
    """Lets the interpreter's own last flush succeed: it would otherwise end with an exit code of its own."""
    for stream in (sys.stdout, sys.stderr):
        try:
            stream.flush()
        except (OSError, ValueError):
            os.dup2(os.open(os.devnull, os.O_WRONLY), stream.fileno())
