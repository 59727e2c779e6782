"""Records typed one after the other within a minute: which came first is never open."""

from pathlib import Path

from making.program import run

import preflint


def recorded(trial: Path, *arguments: str) -> None:
    done = run("record", *arguments, cwd=trial.parent)
    assert done.returncode == 0, done.stderr


def test_a_record_right_after_work_comes_after_it(trial: Path) -> None:
    spins = "seen=cw ccw ccw cw"
    recorded(trial, "spin_test", trial.name, "--set", "props=removed", "--set", spins)
    recorded(trial, "log", trial.name, "--set", "kind=replaced", "--set", "part=motor", "--set", "at=front-left")
    recorded(trial, "spin_test", trial.name, "--set", "props=removed", "--set", spins)
    aircraft = preflint.inspect(trial).aircraft
    first, second = (one.date.value for one in aircraft.records.spin_test)
    work = aircraft.logbook[0].date.value
    assert work.after(first)
    assert second.after(work)


def test_records_of_other_kinds_may_share_their_minute(trial: Path) -> None:
    recorded(trial, "spin_test", trial.name, "--set", "props=removed", "--set", "seen=cw ccw ccw cw")
    recorded(trial, "output_test", trial.name, "--set", "props=removed", "--set", "turned=as-commanded")
    records = preflint.inspect(trial).aircraft.records
    spin, output = records.spin_test[0].date.value, records.output_test[0].date.value
    assert (output.time.minute - spin.time.minute) % 60 <= 1 if output.time and spin.time else False
