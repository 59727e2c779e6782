"""Whatever call of the system fails, and whenever a signal comes: an honest end, no torn file, no go that is none.

A run is repeated, and in each its first, second, ... opening, reading, writing or renaming of a file of ours fails.
"""

import json
import os
import shutil
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest
from making.failing_calls import Call, Program, Run, can_trace
from making.full import FULL
from making.manifests import CLUB
from making.program import DAY

from preflint.render.folder import MARK

if not can_trace():
    if os.environ.get("CI"):
        raise RuntimeError("strace is missing, or may not trace: nothing shows what a failing disk does")
    pytest.skip("needs strace", allow_module_level=True)

USED = (  # one that may fly, one of shared parts, one that is grounded, and what they read
    "avocet.airframe.yaml", "pipit.airframe.yaml", "siskin.airframe.yaml", "preflint.yaml", "sites/tarn-meadow.yaml",
    "parts/fenwick-2814.yaml", "parts/ostrey-30.yaml", "logs/avocet-rotation-2026-05-16.csv",
)  # fmt: skip
SIGNALS = ("signal=SIGTERM", "signal=SIGHUP", "signal=SIGINT")
HOW = {
    "openat": ("error=EIO", "error=EMFILE", "error=EINTR"),
    "read": ("error=EIO", "error=EINTR", "signal=SIGINT"),
    "write": ("error=EIO", "error=ENOSPC", "error=EINTR", *SIGNALS),
    "close": ("error=EIO", "error=EINTR"),
    "rename": ("error=EIO", "error=ENOSPC", *SIGNALS),
    "fsync": ("error=EIO", *SIGNALS),
    "newfstatat": ("error=EIO",),
    "getdents64": ("error=EIO",),
    "lseek": ("error=EIO",),
    "readlink": ("error=EIO",),
    "chmod": ("error=EIO", *SIGNALS),
    "link": ("error=EIO", *SIGNALS),
    "mkdir": ("error=ENOSPC", "signal=SIGINT"),
    "unlink": ("error=EIO",),
    "unlinkat": ("error=EIO",),
    "rmdir": ("error=EIO",),
}
NOT_READ = "not read"
ALWAYS = ("rename", "signal=SIGINT")  # Ctrl-C just when it is done: nobody may be told that nothing was written


@dataclass(frozen=True)
class Command:
    """``writes`` are the files that it writes; ``old`` is what stands there before. ``every`` n-th failure is tried."""

    name: str
    arguments: tuple[str, ...]
    writes: tuple[str, ...] = ()
    old: str | None = None
    every: int = 80

    def __str__(self) -> str:
        return self.name


JSON = ("inspect", "{}", *DAY, "--format", "json")
COMMANDS = [
    Command("table", ("inspect", "{}", *DAY)),
    Command("screen", ("inspect", "{}/avocet.airframe.yaml", *DAY)),
    Command("file", (*JSON, "--output", "{}/out.json"), ("out.json",), "old\n"),
    Command("files", (*JSON, "--report", "sarif={}/out.sarif", "--output", "{}/out.json"), ("out.json", "out.sarif")),
    Command("sheet", (*JSON, "--report", "sheet={}/sheet"), every=120),
    Command("record", ("record", "log", "{}/siskin.airframe.yaml", "--date", "2026-05-20", "--set", "kind=moved",
                       "--set", "part=payload", "--set", "at=-", "--set", "note=-"), every=15),
    Command("draft", ("draft", "--layout", "quad-x", "--name", "Tern", "--output", "{}/tern.airframe.yaml"), every=15),
    Command("paper", ("draft", "{}/siskin.airframe.yaml", "--paper", "{}/bench.html"), every=15),
    Command("jobs", (*JSON, "--jobs", "2"), every=300),  # of which each loads two interpreters
]  # fmt: skip


def contents(folder: Path) -> dict[str, bytes]:
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in folder.rglob("*") if path.is_file()}


def prepared(folder: Path, command: Command) -> dict[str, bytes]:
    """A club of three in ``folder``, and what stands where the command writes."""
    shutil.rmtree(folder, ignore_errors=True)
    for name in USED:
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        shutil.copy(CLUB / name, folder / name)
    if command.old is not None:
        for name in command.writes:
            (folder / name).write_text(command.old)
    return contents(folder)


def ours(call: Call, folder: Path) -> bool:
    """Whether it is of a file of the run, or of a pipe between its processes."""
    return str(folder) in call.told.replace(f"AT_FDCWD<{folder}>", "") or "<pipe:" in call.told


@pytest.mark.parametrize("command", COMMANDS, ids=str)
def test_whatever_call_fails(command: Command, tmp_path: Path) -> None:
    folder = tmp_path / "club"
    arguments = [one.format(folder) for one in command.arguments]
    wrong = []
    with Program(folder) as program:
        prepared(folder, command)
        program.load(*arguments)
        old = prepared(folder, command)
        right = program.watched(HOW, *arguments)
        told = Told(right, old, contents(folder), judged(right, folder), command.name == "jobs")
        places = sorted({(call.name, call.nth) for call in right.calls if ours(call, folder)})
        tries = [(name, nth, how) for name, nth in places for how in HOW[name]]
        assert len(tries) > 20
        for number, (name, nth, how) in enumerate(tries):
            if number % command.every and (name, how) != ALWAYS and not FULL:
                continue
            prepared(folder, command)
            run = program.failing(name, nth, how, *arguments)
            wrong += [f"{name} {nth} {how}: {fault}; {run}" for fault in faults(run, name, how, folder, told)]
    assert not wrong, "\n".join(wrong)


@dataclass(frozen=True)
class Told:
    """The ``right`` run, in which nothing fails; the files before and after it; what it tells of each aircraft."""

    right: Run
    old: dict[str, bytes]
    new: dict[str, bytes]
    judged: dict[str, Any] | None
    several: bool  # whether the call fails in each of several processes


def judged(run: Run, folder: Path) -> dict[str, Any] | None:
    """Of a JSON report what is told of each aircraft, and of all else that was not read; None where there is none."""
    file = folder / "out.json"
    text = run.stdout or (file.read_bytes() if file.exists() else b"")
    try:
        told = json.loads(text)
    except ValueError:
        return None
    return {one["manifest"]: one for one in told["aircraft"]} | {one["file"]: NOT_READ for one in told["not_read"]}


def is_hidden(file: str) -> bool:
    return any(part.startswith(".") for part in Path(file).parts)


def is_whole(file: str, data: bytes) -> bool:
    """Whether it is a report of its own, as of a run in which not all was judged."""
    if file.endswith(".html"):
        return data.rstrip().endswith(b"</html>")
    try:
        return Path(file).name in ("out.json", "out.sarif", MARK) and isinstance(json.loads(data), dict)
    except ValueError:
        return False


def faults(run: Run, name: str, how: str, folder: Path, told: Told) -> Iterator[str]:
    """What is wrong with the run in which something failed, beside that in which nothing did."""
    if not run.failed:
        yield "nothing failed"
    if any(sign in run.stderr for sign in ("Traceback", "fault in preflint", "Exception ignored")):
        yield "a traceback"
    now = contents(folder)
    killed = run.code in (-15, -1)
    torn = {file for file, data in now.items() if data not in (told.old.get(file), told.new.get(file))}
    torn = {file for file in torn if is_hidden(file) or not is_whole(file, now[file])}
    if killed:  # what nobody could take away is hidden, and no aircraft
        torn = {file for file in torn if not is_hidden(file)}
    if torn and name not in ("unlink", "unlinkat", "rmdir"):
        yield f"torn, or left behind: {torn}"
    if lost := told.old.keys() - now.keys():
        yield f"lost: {lost}"
    if "nothing was written" in run.stderr and any(now.get(file) != data for file, data in told.old.items()):
        yield "something was written"
    yield from dishonest(run, how, told, now)
    if (again := judged(run, folder)) is not None and told.judged is not None and not killed:
        unread = {file for file in told.judged.keys() | again.keys() if again.get(file, NOT_READ) == NOT_READ}
        for manifest in again.keys() - unread:
            if again[manifest] != told.judged[manifest]:
                yield f"{manifest} is judged otherwise"
        # Where it is a folder that cannot be read, all that is in it is not judged.
        if run.code == 3 and len(unread) > 1 and unread <= told.judged.keys() and not told.several:
            yield f"several were not judged: {unread}"


def dishonest(run: Run, how: str, told: Told, now: dict[str, bytes]) -> Iterator[str]:
    """What the exit code, or its silence, hides."""
    if run.code == told.right.code:
        if run.stdout != told.right.stdout and b"Written:" not in told.right.stdout:  # what is done is done
            yield "another report, and the same exit code"
        if any(now.get(file) != data for file, data in told.new.items()):
            yield "not written, and the same exit code"
    elif how.startswith("signal="):
        if run.code not in (-15, -1, 130):
            yield "an exit code that tells of no signal"
    elif run.code == 2:  # of what an option, a policy or an answer leads to
        if not any(sign in run.stderr for sign in ("the policy", "nothing was written")):
            yield "no option is wrong"
    elif run.code not in (3, 4):
        yield "an exit code that is not honest"
    elif run.code == 4 and not run.stderr:
        yield "nothing is said"


def test_a_folder_that_is_not_listed_hides_no_misnamed_policy(tmp_path: Path) -> None:
    """Without it the aircraft may fly; with it nothing is judged, and nobody knows whether it is there."""
    folder = tmp_path / "club"
    arguments = ("inspect", str(folder / "avocet.airframe.yaml"), *DAY)
    with Program(folder) as program:
        prepared(folder, COMMANDS[0])
        program.load(*arguments)
        (folder / "preflint.yaml").rename(folder / "preflint.yml")
        right = program.watched(["getdents64"], *arguments)
        listed = [call.nth for call in right.calls if f"<{folder}>" in call.told]
        codes = {program.failing("getdents64", nth, "error=EIO", *arguments).code for nth in listed}
    assert right.code == 2
    assert codes == {3}
