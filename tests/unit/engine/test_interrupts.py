"""Real signals: who interrupts the run is told from a rule that raises KeyboardInterrupt by itself."""

import signal
import threading
from collections.abc import Iterator
from pathlib import Path

import pytest
from making.manifests import manifest

from preflint.engine.interrupts import Interrupted, from_outside, told_apart
from preflint.testing import inspect_text


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


@pytest.mark.parametrize("where", ["rule", "figure", "module"])
def test_an_interruption_ends_the_run_wherever_it_finds_it(
    where: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A real signal while a stranger's code runs: no crashed rule, no broken figure, no module that does not load."""
    body = {"rule": "(asked,), (figure('f')(lambda on: ()),)", "figure": "(asked,), (figure('f')(interrupted),)"}
    (tmp_path / f"preflint_interrupted_{where}.py").write_text(
        "import signal\nfrom preflint.api import *\n"
        "def interrupted(*_): signal.raise_signal(signal.SIGINT)\n"
        "def judge(aircraft, on):\n    'Is it?'\n"
        f"    {'interrupted()' if where == 'rule' else 'return Clear(str())'}\n"
        "asked = rule('trial/a', each='aircraft', severity=NO_GO, job=Job.RECORD, precaution='x', source='x')(judge)\n"
        + ("interrupted()\n" if where == "module" else f"MODULE = RuleModule(1, 'trial', {body[where]})\n"),
        encoding="utf-8",
    )
    monkeypatch.syspath_prepend(tmp_path)
    with pytest.raises(Interrupted):
        inspect_text(manifest(), rules=[f"preflint_interrupted_{where}"])
