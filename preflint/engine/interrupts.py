"""Ctrl-C in the middle of a rule, told from a rule that raises KeyboardInterrupt by itself."""

import signal
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from types import FrameType


class Interrupted(KeyboardInterrupt):
    """Somebody interrupted the run."""


def _interrupt(_signal: int, _frame: FrameType | None) -> None:
    raise Interrupted


@contextmanager
def told_apart() -> Iterator[None]:
    """Within it an interruption raises Interrupted. Who handles the signal otherwise than Python does goes on so."""
    if not _in_main() or signal.getsignal(signal.SIGINT) is not signal.default_int_handler:
        yield
        return
    signal.signal(signal.SIGINT, _interrupt)
    try:
        yield
    finally:
        signal.signal(signal.SIGINT, signal.default_int_handler)


def from_outside(failure: BaseException) -> bool:
    """Whether it ends the run rather than the rule: where others handle the signal, their KeyboardInterrupt does."""
    if isinstance(failure, Interrupted):
        return True
    handler = signal.getsignal(signal.SIGINT)
    return isinstance(failure, KeyboardInterrupt) and _in_main() and callable(handler) and handler is not _interrupt


def _in_main() -> bool:
    return threading.current_thread() is threading.main_thread()
