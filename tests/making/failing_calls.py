"""Runs of the program in which one call of the system fails: the n-th opening, reading, writing, renaming ...

strace(1) lets it fail, or sends a signal there, so nothing in the program is changed. Calls are counted from where the
program begins, not from where its interpreter does (``warm``).
"""

import json
import os
import re
import shutil
import signal
import subprocess
import sys
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path
from types import TracebackType

WARM = Path(__file__).with_name("warm.py")
_CALL = re.compile(r"(\d+) +([a-z]\w+)\((.*)")


@dataclass(frozen=True)
class Call:
    """The ``nth`` of its name in its thread; ``told`` is what strace says of it."""

    name: str
    nth: int
    told: str


@dataclass(frozen=True)
class Run:
    """``code`` is the exit code, or minus the signal that ended it; ``calls`` those that were asked for, as made."""

    code: int
    stdout: bytes
    stderr: str
    calls: tuple[Call, ...]
    failed: bool

    def __str__(self) -> str:
        return f"exit code {self.code}, {self.stderr!r}, {self.stdout[:200]!r}"


class Program:
    """One that was loaded before; it runs in ``folder``, its output goes to files beside that folder."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self._server = subprocess.Popen(
            [sys.executable, "-P", str(WARM)], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True, bufsize=1,
            env={**os.environ, "PYTHONDONTWRITEBYTECODE": "1"},
        )  # fmt: skip

    def __enter__(self) -> "Program":
        return self

    def __exit__(self, kind: type[BaseException] | None, value: BaseException | None, at: TracebackType | None) -> None:
        self._server.communicate()

    def load(self, *arguments: str) -> None:
        """Runs it without a process of its own, so that what it needs is loaded before it is traced."""
        self._ask(arguments, here=True)
        assert self._server.stdout
        assert self._server.stdout.readline() == "loaded\n"

    def watched(self, calls: Iterable[str], *arguments: str) -> Run:
        """Nothing fails."""
        return self._run(f"trace={','.join(calls)}", arguments)

    def failing(self, call: str, nth: int, how: str, *arguments: str) -> Run:
        """``how``: as in error=EIO or signal=SIGTERM."""
        return self._run(f"inject={call}:{how}:when={nth}", arguments)

    def _run(self, expression: str, arguments: Sequence[str]) -> Run:
        self._ask(arguments, here=False)
        assert self._server.stdout
        pid = int(self._server.stdout.readline())
        log = self._beside("calls")
        command = ["strace", "-f", "-y", "-o", str(log), "-e", expression, "-p", str(pid)]
        with subprocess.Popen(command, stderr=subprocess.PIPE, text=True) as strace:
            assert strace.stderr
            assert "attached" in strace.stderr.readline()
            os.kill(pid, signal.SIGCONT)
            status = int(self._server.stdout.readline())
            strace.stderr.read()
        told = log.read_text(encoding="utf-8", errors="replace")
        return Run(
            os.waitstatus_to_exitcode(status),
            self._beside("stdout").read_bytes(),
            self._beside("stderr").read_text(encoding="utf-8", errors="replace"),
            tuple(_calls(told)),
            "(INJECTED)" in told or re.search(r"--- SIG(?!CONT|CHLD|STOP)", told) is not None,
        )

    def _ask(self, arguments: Sequence[str], here: bool) -> None:
        asked = {
            "arguments": arguments, "folder": str(self.folder), "here": here, "traced": True, "stdin": os.devnull,
            "stdout": str(self._beside("stdout")), "stderr": str(self._beside("stderr")),
        }  # fmt: skip
        assert self._server.stdin
        self._server.stdin.write(json.dumps(asked) + "\n")

    def _beside(self, name: str) -> Path:
        return self.folder.parent / f"{self.folder.name}-{name}"


def _calls(log: str) -> Iterable[Call]:
    made: Counter[tuple[str, str]] = Counter()
    for line in log.splitlines():
        if found := _CALL.match(line):
            made[found[1], found[2]] += 1
            yield Call(found[2], made[found[1], found[2]], found[3])


def can_trace() -> bool:
    """Whether strace is here, and the system lets a process be traced."""
    if shutil.which("strace") is None:
        return False
    return subprocess.run(["strace", "-o", os.devnull, "true"], capture_output=True).returncode == 0
