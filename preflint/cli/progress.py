"""A progress bar for people who wait."""

import contextlib
import sys
import time
from types import TracebackType
from typing import TYPE_CHECKING, Any, Self

import click

from preflint.load.quoting import shorten

if TYPE_CHECKING:
    from click._termui_impl import ProgressBar

_PATIENCE_S = 1.0
_ERASE = "\r\x1b[K\x1b[?25h"  # the bar hides the cursor


class Progress:
    """Draws a bar on standard error, only on a terminal, and only once the work has taken a second.

    A log that takes so long by itself gets a bar of its own in the same line. At the end the line is empty.
    """

    def __init__(self) -> None:
        self._began = time.monotonic()
        self._log = ""
        self._log_began = self._began
        self._bar: ProgressBar[Any] | None = None

    def judged(self, done: int, total: int) -> None:
        """So many aircraft are judged, of so many."""
        self._draw("Aircraft judged", done, total, self._began)

    def reading(self, file: str, done: int, total: int) -> None:
        """So many bytes of a log are read, of so many."""
        if file != self._log:
            self._log, self._log_began = file, time.monotonic()
        self._draw(f"Reading {shorten(file, 24)}", done, total, self._log_began)

    def _draw(self, label: str, done: int, total: int, began: float) -> None:
        if done >= total or time.monotonic() - began < _PATIENCE_S or not sys.stderr.isatty():
            return
        with contextlib.suppress(OSError):  # the terminal is gone, and the work is not
            if self._bar is None or self._bar.label != label:
                self._erase()
                self._bar = click.progressbar(length=total, label=label, file=sys.stderr)
                self._bar.__enter__()
            self._bar.update(done - self._bar.pos)

    def _erase(self) -> None:
        if self._bar is not None:
            with contextlib.suppress(OSError):
                click.echo(_ERASE, nl=False, file=sys.stderr)

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: type[BaseException] | BaseException | TracebackType | None) -> None:
        self._erase()
