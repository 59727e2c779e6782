"""Real signals: who interrupts the run is told from a rule that raises KeyboardInterrupt by itself."""

import signal
import threading
from collections.abc import Iterator

import pytest

from preflint.engine.interrupts import Interrupted, from_outside, told_apart


@pytest.fixture(autouse=True)
def handled_as_python_does() -> Iterator[None]:
    """Whoever runs the tests may ignore the signal."""
    before = signal.signal(signal.SIGINT, signal.default_int_handler)
    yield
    signal.signal(signal.SIGINT, before)


def test_an_interruption_is_told_apart_only_while_rules_are_asked() -> None:
    with pytest.raises(Interrupted), told_apart():
        signal.raise_signal(signal.SIGINT)
    assert signal.getsignal(signal.SIGINT) is signal.default_int_handler
    with pytest.raises(KeyboardInterrupt) as plain:
        signal.raise_signal(signal.SIGINT)
    assert type(plain.value) is KeyboardInterrupt


def test_what_ends_the_run_and_what_only_a_rule() -> None:
    with told_apart():
        assert from_outside(Interrupted())
        assert not from_outside(KeyboardInterrupt())
        assert not from_outside(SystemExit())


def test_whoever_handles_the_signal_otherwise_goes_on_so() -> None:
    seen: list[int] = []
    signal.signal(signal.SIGINT, lambda number, _: seen.append(number))
    with told_apart():
        signal.raise_signal(signal.SIGINT)
        assert from_outside(KeyboardInterrupt())
        assert not from_outside(SystemExit())
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    with told_apart():
        signal.raise_signal(signal.SIGINT)
        assert not from_outside(KeyboardInterrupt())  # nobody can have interrupted it
    assert seen == [signal.SIGINT]


def test_beside_the_main_thread_no_signal_arrives() -> None:
    told: list[object] = []

    def judge() -> None:
        try:
            with told_apart():  # the system lets only the main thread set who handles a signal
                told.append(from_outside(KeyboardInterrupt()))
        except ValueError as refused:
            told.append(refused)

    beside = threading.Thread(target=judge)
    beside.start()
    beside.join()
    assert told == [False]
