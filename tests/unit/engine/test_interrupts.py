"""Real signals: who interrupts the run is told from a rule that raises KeyboardInterrupt by itself."""

import signal
import threading

import pytest

from preflint.engine.interrupts import Interrupted, from_outside, told_apart


def test_an_interruption_is_told_apart_only_while_rules_are_asked() -> None:
    before = signal.getsignal(signal.SIGINT)
    assert before is signal.default_int_handler
    with pytest.raises(Interrupted), told_apart():
        signal.raise_signal(signal.SIGINT)
    assert signal.getsignal(signal.SIGINT) is before
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
    before = signal.signal(signal.SIGINT, lambda number, _: seen.append(number))
    try:
        with told_apart():
            signal.raise_signal(signal.SIGINT)
            assert from_outside(KeyboardInterrupt())
            assert not from_outside(SystemExit())
        signal.signal(signal.SIGINT, signal.SIG_IGN)
        with told_apart():
            signal.raise_signal(signal.SIGINT)
            assert not from_outside(KeyboardInterrupt())  # nobody can have interrupted it
    finally:
        signal.signal(signal.SIGINT, before)
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
