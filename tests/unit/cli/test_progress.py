"""The progress bar, watched on a real terminal: there while people wait, gone at the end, nowhere else."""

import os
import pty
import re
import signal
import subprocess
import time
from collections.abc import Callable
from pathlib import Path

import pyte
import pytest
from making.program import PROGRAM

HEADING = "current_a,field_x_ut,field_y_ut,field_z_ut\n"
ROWS = "1.25,18.0,0.5,45.0\n" * 200_000  # without a clock the rows may be alike
MANIFEST = """\
preflint: 1
aircraft: {name: Trial, layout: quad-x}
records:
  interference_run: [{date: 2026-05-01, file: logs/run.csv}]
"""
LONG_S = (2.5, 5.0, 10.0)  # what a log should take, whatever the machine: people wait a second for the bar


@pytest.fixture(scope="module")
def portion_s(tmp_path_factory: pytest.TempPathFactory) -> float:
    """What judging the rows once takes here, as the program itself does it."""
    taken = []
    for portions in (0, 0, 6):
        root = with_a_log(tmp_path_factory.mktemp("measured"), portions)
        began = time.monotonic()
        assert subprocess.run([str(PROGRAM), *inspect(root)], capture_output=True, timeout=120).returncode == 1
        taken.append(time.monotonic() - began)
    return (taken[2] - taken[1]) / 6


def with_a_log(root: Path, portions: float) -> Path:
    (root / "logs").mkdir(parents=True)
    (root / "trial.airframe.yaml").write_text(MANIFEST)
    with (root / "logs" / "run.csv").open("w") as file:
        file.write(HEADING)
        for _ in range(int(portions) + 1):
            file.write(ROWS)
    return root


def on_a_terminal(arguments: list[str], interrupt_at: str | None = None) -> tuple[int, str]:
    """The exit code and all that was written to a terminal as standard error."""
    ours, theirs = pty.openpty()
    run = subprocess.Popen([str(PROGRAM), *arguments], stdout=subprocess.DEVNULL, stderr=theirs)
    os.close(theirs)
    written = b""
    try:
        while data := os.read(ours, 65536):
            written += data
            if interrupt_at and interrupt_at in written.decode():
                run.send_signal(signal.SIGINT)
                interrupt_at = None
    except OSError:  # Linux says so when the other end is closed
        pass
    finally:
        os.close(ours)
    return run.wait(60), written.decode()


def screen(written: str) -> list[str]:
    display = pyte.Screen(80, 24)
    pyte.Stream(display).feed(written)
    assert not display.cursor.hidden
    return [line.rstrip() for line in display.display if line.strip()]


def inspect(folder: Path, *options: str) -> list[str]:
    return ["inspect", "--as-of", "2026-05-21", *options, str(folder / "trial.airframe.yaml")]


def on_a_long_log(
    root: Path, portion_s: float, enough: Callable[[int, str], object], *options: str, interrupt_at: str | None = None
) -> tuple[int, str]:
    """As ``on_a_terminal``; once more on a longer log where it was not enough, since no machine is always as quick."""
    for seconds in LONG_S:
        folder = with_a_log(root / f"{seconds}", seconds / portion_s)
        code, written = on_a_terminal(inspect(folder, *options), interrupt_at)
        if enough(code, written):
            break
    return code, written


def shares_of(written: str) -> list[int]:
    return [int(share) for share in re.findall(r"Reading logs/run\.csv  \[[#-]+\]\s+(\d+)%", written)]


def test_one_long_log_shows_how_far_it_is_read(tmp_path: Path, portion_s: float) -> None:
    code, written = on_a_long_log(tmp_path, portion_s, lambda _, seen: (shares_of(seen) or [100])[0] < 60)
    assert code == 1
    shares = shares_of(written)
    assert len(shares) > 5
    assert shares == sorted(shares)
    assert 0 <= shares[0] < 60 < shares[-1] < 100
    assert screen(written) == []


def test_other_processes_show_the_aircraft_judged(tmp_path: Path, portion_s: float) -> None:
    _, written = on_a_long_log(tmp_path, portion_s, lambda _, seen: "Aircraft judged" in seen, "--jobs", "2")
    assert re.search(r"Aircraft judged  \[-+\]\s+0%", written)
    assert "Reading" not in written
    assert screen(written) == []


def test_a_run_that_is_interrupted_leaves_the_terminal_as_it_was(tmp_path: Path, portion_s: float) -> None:
    code, written = on_a_long_log(tmp_path, portion_s, lambda code, _: code != 1, interrupt_at="Reading")
    assert code == 130
    assert screen(written) == []


def test_nothing_is_drawn_where_nobody_looks(tmp_path: Path, portion_s: float) -> None:
    folder = with_a_log(tmp_path, LONG_S[0] / portion_s)
    run = subprocess.run([str(PROGRAM), *inspect(folder)], capture_output=True, text=True, timeout=120)
    assert (run.returncode, run.stderr) == (1, "")
    assert "\x1b" not in run.stdout
    assert "Reading" not in run.stdout


def test_nothing_is_drawn_for_what_takes_no_time(tmp_path: Path) -> None:
    (tmp_path / "trial.airframe.yaml").write_text("preflint: 1\naircraft: {name: Trial, layout: quad-x}\n")
    assert on_a_terminal(inspect(tmp_path))[1] == ""
