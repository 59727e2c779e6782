"""A disk that is full after so many bytes: exit code 4, the old file as it was, and nothing left beside it."""

import resource
import shutil
import signal
import subprocess
from pathlib import Path

import pytest
from making.manifests import CLUB
from making.program import DAY, PROGRAM, run

RECORD = ("--date", "2026-05-20", "--set", "kind=moved", "--set", "part=payload", "--set", "at=-", "--set", "note=-")
COMMANDS = {
    "text": ("inspect", "{}/knot.airframe.yaml", *DAY, "--output", "{}/out.txt"),
    "json": ("inspect", "{}/knot.airframe.yaml", *DAY, "--format", "json", "--output", "{}/out.txt"),
    "sheet": ("inspect", "{}/knot.airframe.yaml", *DAY, "--report", "sheet={}/sheet"),
    "record": ("record", "log", "{}/knot.airframe.yaml", *RECORD),
    "draft": ("draft", "--layout", "quad-x", "--output", "{}/new.airframe.yaml"),
    "paper": ("draft", "--layout", "quad-x", "--paper", "{}/bench.html"),
    "manual": ("catalogue", "--html", "{}/manual"),
}


def full_after(size: int) -> None:
    """As on a disk that has room for so many bytes of a file; the signal that tells of it is not sent."""
    signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
    resource.setrlimit(resource.RLIMIT_FSIZE, (size, size))


def contents(folder: Path) -> dict[str, bytes]:
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in folder.rglob("*") if path.is_file()}


@pytest.mark.parametrize("size", [0, 100])
@pytest.mark.parametrize("command", COMMANDS)
def test_what_does_not_fit_is_not_written(command: str, size: int, tmp_path: Path) -> None:
    folder = tmp_path / "club"
    folder.mkdir()
    shutil.copy(CLUB / "knot.airframe.yaml", folder)
    arguments = [one.format(folder) for one in COMMANDS[command]]
    if command in ("text", "json", "sheet", "manual"):  # an older one, which stays
        assert run(*arguments).returncode in (0, 1)
    before = contents(folder)
    done = subprocess.run(
        [str(PROGRAM), *arguments], capture_output=True, text=True, timeout=120, preexec_fn=lambda: full_after(size)
    )
    assert done.returncode == 4
    assert "File too large" in " ".join(done.stderr.split())
    assert "Traceback" not in done.stderr
    assert contents(folder) == before
    assert run(*arguments).returncode in (0, 1)  # and then there is room


def test_a_record_that_is_written_is_no_failure_where_nobody_can_be_told(tmp_path: Path) -> None:
    """Exit code 4 would say that the file is as it was, and the record be written twice."""
    manifest = tmp_path / "knot.airframe.yaml"
    shutil.copy(CLUB / manifest.name, manifest)
    with open("/dev/full", "w") as full:
        done = subprocess.run(
            [str(PROGRAM), "record", "log", str(manifest), *RECORD], stdout=full, stderr=subprocess.PIPE, text=True
        )
    assert (done.returncode, done.stderr) == (0, "")
    assert manifest.read_bytes().count(b"date: 2026-05-20") == 1
