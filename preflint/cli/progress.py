"""A progress bar for people who wait."""

import sys
import time
from types import TracebackType
from typing import TYPE_CHECKING, Any, Self

import click

if TYPE_CHECKING:
    from click._termui_impl import ProgressBar

_PATIENCE_S = 1.0


class Progress:
    """Draws a bar on standard error, only on a terminal, and only once the work has taken a second."""

    def __init__(self) -> None:
        self._began = time.monotonic()
        self._bar: ProgressBar[Any] | None = None

    def __call__(self, done: int, total: int) -> None:
        if self._bar is None:
            if done >= total or time.monotonic() - self._began < _PATIENCE_S or not sys.stderr.isatty():
                return
            self._bar = click.progressbar(length=total, label="Aircraft judged", file=sys.stderr)
            self._bar.__enter__()
        self._bar.update(done - self._bar.pos)

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: type[BaseException] | BaseException | TracebackType | None) -> None:
        if self._bar is not None:
            self._bar.render_finish()
