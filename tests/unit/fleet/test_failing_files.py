"""A disk or a memory that fails at one file: that one is not read, and the others are judged."""

import errno
import io
import os
import pkgutil
from itertools import count
from pathlib import Path
from typing import Any

import pytest
from making.folders import inspected, missed, names, write

from preflint.cli.inspect import inspect


@pytest.mark.parametrize(("where", "calls_before", "failure", "why"), [
    ("preflint.load.yaml.builder.yaml.CLoader", 1, MemoryError(), "the memory did not suffice to judge it"),
    ("preflint.inspection.build", 0, MemoryError(), "the memory did not suffice to judge it"),
    ("preflint.inspection.build", 0, RecursionError(), "this is nested too deeply to be read"),
    ("preflint.inspection.build", 0, OSError(errno.EIO, "x"), "the system could not read it (EIO)"),
])
def test_a_failure_of_one_manifest_spares_the_others(
    club: Path, monkeypatch: pytest.MonkeyPatch, where: str, calls_before: int, failure: Exception, why: str
) -> None:
    meant, calls = pkgutil.resolve_name(where), count()

    def failing(*arguments: Any, **named: Any) -> Any:
        if next(calls) == calls_before:  # the policy is parsed before the first manifest
            raise failure
        return meant(*arguments, **named)

    write(club / "preflint.yaml", "preflint: 1\n")
    inspected(club)  # files of preflint's own are parsed once
    monkeypatch.setattr(where, failing)
    report = inspected(club)
    assert (names(report), missed(report)) == (["Three", "Two"], {"one.airframe.yaml": why})


@pytest.mark.parametrize("call", ["open", "stat", "fstat", "close", "read"])
@pytest.mark.parametrize("file", ["one.airframe.yaml", "logs/run.csv"])
def test_a_disk_that_fails_at_one_file_spares_the_others(
    club: Path, monkeypatch: pytest.MonkeyPatch, call: str, file: str
) -> None:
    (club / "two.airframe.yaml").unlink()
    bad = os.stat(club / file).st_ino

    class Failing(io.BufferedReader):
        def read(self, size: int | None = -1, /) -> bytes:
            if call == "read":
                raise OSError(errno.EIO, "x")
            return super().read(size)

        def close(self) -> None:
            opened = not self.closed
            super().close()
            if opened and call == "close":
                raise OSError(errno.EIO, "x")

    def opened(descriptor: int, mode: str) -> io.BufferedReader:
        if status(descriptor).st_ino == bad:
            return Failing(io.FileIO(descriptor, mode))
        return io.BufferedReader(io.FileIO(descriptor, mode))

    status, look, reach = os.fstat, os.stat, os.open

    def failing_status(descriptor: int) -> os.stat_result:
        found = status(descriptor)
        if call == "fstat" and found.st_ino == bad:
            raise OSError(errno.EIO, "x")
        return found

    def failing_look(path: Any, **options: Any) -> os.stat_result:
        found = look(path, **options)
        if call == "stat" and found.st_ino == bad and "dir_fd" in options:
            raise OSError(errno.EIO, "x")
        return found

    def failing_open(path: Any, *flags: int, **options: Any) -> int:
        if call == "open" and "dir_fd" in options and look(path, dir_fd=options["dir_fd"]).st_ino == bad:
            raise PermissionError(errno.EACCES, "x")
        return reach(path, *flags, **options)

    before = set(os.listdir("/proc/self/fd"))
    with monkeypatch.context() as faulty:
        faulty.setattr("preflint.load.opening.os.fdopen", opened)
        faulty.setattr("os.fstat", failing_status)
        faulty.setattr("os.stat", failing_look)
        faulty.setattr("os.open", failing_open)
        report = inspected(club)
    assert set(os.listdir("/proc/self/fd")) == before
    concerned = "three.airframe.yaml" if file.startswith("logs") else "one.airframe.yaml"
    assert (len(report.aircraft), list(missed(report))) == (1, [concerned])
    why = "there is no permission to read it" if call == "open" else "the system could not read it (EIO)"
    assert why in missed(report)[concerned]


def test_an_unreadable_file_named_outright_is_no_wrong_option(club: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(os, "access", lambda *_, **__: False)
    context = inspect.make_context("inspect", [str(club / "one.airframe.yaml")])
    assert context.params["paths"] == (club / "one.airframe.yaml",)
